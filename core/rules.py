"""Every number an instructor could argue with, each with its unit, reason and source."""

from datetime import timedelta

# Marks: [published] read in the source named or in its abstract; [memory] from memory, not
# confirmed; [practice] common practice of the trade; [choice] this project's own choice.
# "Log" numbers are standard deviations of a natural logarithm: 0.1 is about ten percent.

# --- the evening ----------------------------------------------------------------------------

PROMPT_USEFUL = timedelta(hours=48)
"""How long after it was due a prompt is still worth sending. [published] ratings from 5 minutes to
24 hours after a session don't differ (Christen et al. 2016); [choice] a second day."""

REMINDER_AFTER = timedelta(hours=14)
"""How long after the prompt the one reminder comes, quiet hours aside. [choice]: half a day, so
that an evening class is asked about again the next morning."""

TARGET = 7.0
"""Effort, 0 to 10, aimed at where a plan doesn't say another. [memory] stopping short of failure
builds strength as well as going there (Grgic et al. 2022, Journal of Sport and Health Science
11:202); [choice] that 7 is the place, and for holds and mixed classes too."""

CEILING = 9.0
"""Effort, 0 to 10, that nobody is to pass where a plan doesn't say another. [choice]: "almost
nothing left", so that all-out effort stays rare."""

HALF_RANGE = 1.0
"""Points of effort on either side of the target that still count as in range. [choice]"""

# --- what is never passed -----------------------------------------------------------------

MAXIMAL_EFFORT = 9.5
"""Effort, 0 to 10, from which a bout counts as maximal. [choice]: halfway from "almost nothing
left" to "could not have done one more"."""

MAXIMAL_OF_CLASSES = 3
"""Classes looked back on for repeated maximal effort. [choice]: no standard sets a limit."""

MAXIMAL_SIGHTINGS = 2
"""Maximal classes among them, or maximal bouts of one movement in a row, that raise an alert.
[choice]: no standard sets a limit."""

CLASSES_OUT_OF_RANGE = 3
"""Classes in a row above or below the range that are worth an alert. [choice]: one rating in twenty
is a slip, and two come by chance."""

CLASSES_QUIET = 3
"""Classes in a row without an answer that are worth an alert. [choice]"""

NOTHING_LEFT_EFFORT = 9.0
"""Effort, 0 to 10, from which nothing left makes a bout maximal too. [published] nothing in reserve
is a 10 (Zourdos et al. 2016, Journal of Strength and Conditioning Research 30:267), yet people at
failure call it 8 to 9 on average (computed from an open data file of 45 gym members)."""

EMPTY_MOVEMENTS = 2
"""Movements of one class with nothing left, whatever number was tapped, that make the class count
as maximal. [published] one of them is easily an error, since people understate what is left by one
(Halperin et al. 2022, Sports Medicine 52:377); [choice] two aren't."""

LARGE_CHANGE_OF_LOAD = 0.5
"""Share by which a week's load differs from the mean of the weeks before that is worth telling, as
a plain fact. [choice]: as a sign of risk such changes are strongly criticised (Impellizzeri et al.
2020)."""

WEEKS_OF_LOAD = 4
"""Weeks before that a week's load is compared with. [choice]"""

KNOWN_WEEKS_OF_LOAD = 3
"""How many of them must be known in full. [choice]"""

ALERT_AGAIN = timedelta(minutes=30)
"""How long after an urgent alert it comes once more, if nobody has marked it as seen. [choice]"""

UNLIKELY_SILENCE = 0.005
"""Chance of so many classes without an answer, by somebody's habit, from which an instructor is
told that they are back after a break. [choice]: rarer than for suggestions, which stay on the safe
side, since here a mistake is a false alert."""

SURE_OF_ROOM = 0.5
"""Points of effort that the middle of a room must be off its target, as planned, before another
plan for everybody is proposed. [choice]"""

DEMAND_OFF = 0.08
"""Share by which a demand must be off, and be so in nine of ten of what is believed, before another
one is proposed. [choice]: less makes no difference to any dose."""

RATES_HIGH = 1.0
"""Points by which somebody's ratings are above what they say was left from which a 10 alone counts
as maximal no more. [choice]: people at the same effort differ by about a point."""

RATES_HIGH_BOUTS = 3
"""Bouts with a high rating and what was left that it takes to know that. [choice]"""

HIGH_EFFORT = 8.0
"""Effort, 0 to 10, from which a rating tells how somebody uses the top of the scale. [choice]"""

LARGEST_RAISE = 1.10
"""One class raises an amount or a load by no more than this factor, or by one step of the plan
where a step is coarser than that: one repetition more than eight is one repetition, not ten
percent. [published] 2 to 10 % for loads (American College of Sports Medicine, position stand
2009); [choice] for amounts and for the single step."""

LARGEST_LADDER_STEP = 1
"""Rungs of the ladder that one class may go up, and then never with a larger amount. [choice]"""

CHANCE_OVER_CEILING = 0.20
"""Largest chance, 0 to 1, of passing the ceiling that a suggestion may carry in somebody's first
classes. [choice]: one in five at worst, while little is known; most suggestions stay far below it.
Lower than this, those of whom little is known begin so easily that it takes them months to come to
what suits them."""

CHANCE_ONCE_ACCUSTOMED = 0.30
"""The same once they are used to training. [memory] beginners are to start lower and to progress
from there (American College of Sports Medicine, position stand 2009); [choice] the number: who
seldom answers would else stay far below what suits them. Who answers is known so well by then that
it makes little difference to them."""

CLASSES_UNTIL_ACCUSTOMED = 3
"""Classes at which somebody was, as far as is known, from which they are used to training, as long
as they don't come back from a break. [choice]"""

CHANCE_ON_HARDER_VARIATION = 0.12
"""Largest such chance on a harder variation than somebody is used to. [choice]: it is the one that
is known least, and the step to it is the largest; with one chance for both, simulated newcomers
went to their maximum twice as often in their second and third class."""

BREAK_DAYS = 14
"""Days since the last class from which a return counts as a return after a break. [published] two
weeks (Caterisano et al. 2019, Strength and Conditioning Journal 41:1)."""

LONG_SILENCE_DAYS = 28
"""Days of silence that always count as a break. [choice]"""

HABIT_CLASSES = 4
"""Classes after which a habit of not answering is known. [choice]"""

LIKELY_SILENCE = 0.05
"""Chance of so many classes without an answer, by somebody's habit, from which their silence isn't
taken for absence. [choice]: one in twenty."""

AFTER_BREAK = ((14, 0.92), (28, 0.85), (42, 0.75), (84, 0.6))
"""Days away, and the share of the last amount or load that the first class back may reach at most.
[choice]: the published advice, 2 to 4 weeks of reduced work, names no percentages."""

EASIER_START = 0.8
"""Share of the planned amount or load that somebody may reach at most of whom nothing is known.
[choice]"""

# --- the decision ---------------------------------------------------------------------------

NEAR_ENOUGH = 0.25
"""Points of effort around the target within which the last dose stays. [choice]: little needless
change from week to week."""

CAUTION = 0.1
"""Standard deviations of doubt by which a dose stays below the middle of the range. [choice]: too
hard is worse than too easy."""

HARDER_VARIATION = 0.25
"""Gain in the chance to land in range, in the next class, that one rung up the ladder must bring.
[choice]: the demands of a plan are guesses, and a harder variation is the one that is known least;
in simulated rooms anything from 0.2 to 0.3 gives the same, and less gives more maximal bouts."""

EASIER_VARIATION = 0.04
"""The same for one rung down. [choice]: little, since that errs on the safe side."""

OTHER_MINUTES = 0.1
"""Chance to land in range given up per log change of the planned minutes, or repetitions of a load,
where the rungs of a ladder are compared, since there the variation is what should change.
[choice]"""

OTHER_AMOUNT = 0.02
"""Log strength off the middle of the range that is taken into account per log change of the planned
repetitions of a load, or of the planned minutes, since there the load or the variation is what
should change. [choice]"""

OFF_TARGET = 0.1
"""Chance to land in range that a point of effort outside the range weighs, so that of two doses far
from it the nearer one is the better. [choice]"""

PRICE_OF_AN_OPTION = 0.01
"""Chance to land in range, per member of the room, that one more option must bring. [choice]"""

MOST_LOOKED_AT = 40
"""Doses considered for the options besides everybody's own best. [choice]: fast in any room."""

# --- asking ---------------------------------------------------------------------------------

MOST_ASKED = 3
"""Movements that one member is asked about after one class, at most. [choice]: ten seconds."""

RESERVE_FROM_EFFORT = 5.0
"""Effort from which people are asked what was left. [published] below, they can't tell (Hackett et
al. 2017)."""

RESERVE_UP_TO_EFFORT = 9.5
"""Effort from which nothing is left to ask about. [choice]"""

WORTH_A_TAP = 0.01
"""Gain in the chance to land in range, summed over movements, from which the question about the
reserve is worth its tap. [choice]"""

ASK_FIRST = 0.3
"""Chance in range that a movement counts more for being asked of whose coming variation isn't the
one last told of, or which was maximal when last told of. [choice]: a step up the ladder is where
people are most easily misjudged."""

TOO_HARD_EFFORT = 9.0
"""What "too hard today" counts as, effort 0 to 10. [choice]: the default ceiling, so that nothing
gets harder, and not maximal, since nobody said so."""

TOO_EASY_EFFORT = 4.0
"""What "too easy today" counts as, effort 0 to 10. [choice]: clearly below the default range."""

# --- keeping ----------------------------------------------------------------------------------

MONTHS_KEPT = 24
"""Months for which what members said about a class is kept, unless a group chose another number.
[choice]: capacity drifts so far in two years that older answers hardly move a suggestion."""

KEPT_AFTER_CHOOSING = timedelta(days=7)
"""How long a new choice of it can be taken back before anything older goes. [choice]"""
