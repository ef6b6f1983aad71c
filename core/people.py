"""Every number that is supposed of people before they answer, with its unit and source."""

# Marks: [published] read in the source named or in its abstract; [memory] from memory, not
# confirmed; [practice] common practice of the trade; [choice] this project's own choice.
# "Log" numbers are standard deviations of a natural logarithm: 0.1 is about ten percent.

# --- how people rate ----------------------------------------------------------------------

BIAS_SD = 1.0
"""Points of effort by which people differ in using the scale. [published] between people at
failure about 1.1, computed from an open data file."""

NEW_RATER_SD = 1.0
"""Points of noise in a rating during somebody's first classes. [published] trainer against trainee
1.03 to 1.25 (Steele et al. 2017, Journal of Trainology 6:1)."""

RATER_SD = 0.75
"""Points of noise in a rating later on. [published] standard error 0.64 to 0.85 within a person
(Steele et al. 2017, Journal of Trainology 6:1)."""

NEW_RATER_CLASSES = 3
"""Answered classes after which somebody knows the scale. [choice]"""

SLIP_LIMIT = 1.5
"""Noise standard deviations beyond which a surprise counts in proportion, not squared, so that a
slip of the thumb (about one answer in twenty) pulls a bounded amount. [practice] of robust
estimation (Huber 1964, Annals of Mathematical Statistics 35:73)."""

SLIPS = 0.05
"""Share of answers that are a slip of the thumb and could be anything. [choice]: one in twenty."""

RESERVE_SLIP_LIMIT = 1.5
"""The same for a called reserve. [practice] (Huber 1964)."""

CLASS_RATING_SD = 1.0
"""Points of noise in a rating of the whole class as the mean of its movements. [choice]"""

UNHEARD_SD = 2.0
"""Points by which movements differ of which the class rating alone tells. [choice]"""

# --- what is left ---------------------------------------------------------------------------

RESERVE_UNDERSTATED = 0.95
"""Repetitions by which people understate what is left (95 % interval 0.17 to 1.73; 12 studies, 414
people). [published] Halperin et al. 2022, Sports Medicine 52:377."""

RESERVE_SD = (0.9, 0.3)
"""Repetitions of error in a called reserve: with nothing left, and more for each one left.
[published] about 1 off with 0 to 5 left, more than 2 with 7 to 10 (Hackett et al. 2017)."""

SECONDS_PER_REPETITION = 3.0
"""Seconds of a hold in which people misjudge as in one repetition. [choice]: a slow repetition."""

ESTIMATE_SD = 0.3
"""Log error of a starting estimate of an amount. [choice]: people who never tried guess badly."""

ESTIMATE_LOAD_SD = 0.12
"""Log error of a starting estimate of a load. [choice]"""

STOP_SD = 0.05
"""Log error of the amount at which somebody stopped, as a measure of what they could do that day.
[choice]: nearly exact."""

STOPS_UNSAID = 0.7
"""Chance that somebody who stopped early in a movement that they weren't asked about says nothing
of it. [choice]: most, since they would have to look up their variant and call it too hard there.
In simulated rooms, where nobody ever does, less than half brought more maximal bouts, and taking
silence for nothing at all left people with too little to do for months."""

# --- what people can do ---------------------------------------------------------------------

DAY_TO_DAY = 0.07
"""Log variation of what one person can do from day to day, as an amount. [memory] 5 to 8 %."""

DAY_TO_DAY_LOAD = 0.025
"""The same for what can be lifted once. [choice]: a few percent between tests."""

PEOPLE_SD = 0.55
"""Log spread of amounts that people of one class could just do. [published] forearm plank, 471
students: 124 ± 72 s and 83 ± 63 s (Strand et al. 2014, Journal of Human Kinetics 40:93)."""

PEOPLE_LOAD_SD = 0.3
"""The same for what can be lifted once. [choice]"""

PEOPLE_MINUTES_SD = 0.22
"""The same for the intensity that could be kept up for the planned minutes. [choice]"""

SHARED_BETWEEN_MOVEMENTS = 0.65
"""Correlation of one person's capacities on two movements. [choice]: strong in one, likely strong
in others."""

GROUP_SD = 0.5
"""How far a whole class may be from what its plan supposes, as a share of the spread between
people. [published] plans and members' ratings correlate at about 0.62 (Paul et al. 2021)."""

SHARED_OFFSET = 0.5
"""Correlation between movements of how far a class is from what its plan supposes. [choice]"""

DRIFT = 0.02
"""Log change of capacity that is not foreseen, per square root of a week, as an amount. [choice]"""

GROWTH = 0.007
"""Log growth of capacity per week of training, as an amount. [choice]: slow adaptation."""

DRIFT_LOAD = 0.01
"""The same for what can be lifted once. [choice]"""

GROWTH_LOAD = 0.004
"""The same for what can be lifted once. [choice]"""

BIAS_DRIFT = 0.1
"""Points by which somebody's way of using the scale wanders, per square root of a week. [choice]"""

LOST_PER_WEEK_AWAY = 0.02
"""Log loss of capacity per week of a break, as an amount, and its uncertainty. [choice]"""

# --- laws -----------------------------------------------------------------------------------

HOLD_FATIGUE = 0.96
"""How fast the force that could be brought up is used up in a hold, per minute. [published] 0.96 ±
0.29 at the elbow in 30 people (Ergonomics 2018 61:806)."""

MINUTES_POWER = 0.45
"""Log change of effort per log change of minutes. [memory] effort at a steady intensity rises in a
line from about 4 or 5 of 10 to 10 at exhaustion (Noakes 2004; Eston 2007); this power runs close
to that line over its second half."""

RESERVE_SPAN = 10.0
"""Repetitions to failure up to which effort is 10 minus the reserve; beyond, effort is the share of
the possible repetitions, which is the same at ten. [published] 10 -> 0, 9 -> 1, 8 -> 2, 7 -> 3
(Zourdos et al. 2016, Journal of Strength and Conditioning Research 30:267); repetitions say little
about strength beyond about 10 (Reynolds et al. 2006, same journal 20:584)."""

EASE_SD = 0.1
"""Share by which the log strength that a variation takes differs between people. [choice]"""

DEMAND_DOUBT = 0.3
"""Share of a variation's log demand by which it may be wrong in either direction. [choice]"""

DEMAND_SD = 0.1
"""Log error that a written demand has besides. [choice]: demands are guesses."""
