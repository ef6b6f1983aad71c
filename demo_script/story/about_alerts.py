"""Was the instructor told who keeps going to the maximum, and once for each cause?"""

from collections import Counter
from dataclasses import dataclass
from statistics import fmean

from bot.storage import alerts
from bot.storage.alerts import StoredAlert
from core.questions import UNFINISHED, Topic
from core.watching import AlertKind
from demo_script.story.figures import all_out
from demo_script.story.finding import Finding, People
from demo_script.story.ledger import Given
from demo_script.story.tale import Tale

MAXIMAL, NEARLY_MAXIMAL, HIGH = 9.5, 9.0, 8.0
REPEATED = (AlertKind.MAXIMAL_CLASSES, AlertKind.MAXIMAL_MOVEMENT)


async def maximum_was_found(tale: Tale, people: People) -> Finding:
    """At the very answer that made it two of three classes, or the same movement twice running."""
    raised = _first_raised(tale, people, await told_alerts(tale))
    due = {name: _due(tale, name) for name in people.by_name}
    expected = {name: given for name, given in due.items() if given is not None}
    wrong = [f"{name}: raised without a cause" for name in raised.keys() - expected.keys()]
    wrong += [
        f"{name}: due in week {given.week}, at {given.looked}"
        for name, given in expected.items()
        if raised.get(name) not in given.reactions
    ]
    wrong += [f"{name} was never found" for name in sorted(all_out(tale) - raised.keys())]
    return Finding(
        name="the instructor was told who keeps going to the maximum, when the answers showed it",
        holds=not wrong,
        evidence="; ".join(wrong)
        or ", ".join(f"{name} in week {given.week}" for name, given in expected.items())
        + f"; {len(people.by_name) - len(expected)} members gave no such answers, and there was "
        "no such alert about them",
    )


async def each_cause_was_told_once(tale: Tale, people: People) -> Finding:
    """One message for each alert, one alert for each cause, each marked as seen."""
    stored = await told_alerts(tale)
    messages = Counter(
        alert_id
        for sight in tale.witness.by(tale.instructor, "message")
        for alert_id in sight.alerts
    )
    causes = Counter((each.fact.member, each.fact.kind, each.fact.cause) for each in stored)
    unseen = [each.id for each in stored if not (each.acknowledged_at or each.resolved_at)]
    about = Counter(people.name(each.fact.member) for each in stored)
    return Finding(
        name="each cause was told once, and marked as seen by its button",
        holds=set(messages.values()) | set(causes.values()) == {1} and not unseen,
        evidence=f"{len(causes)} causes ("
        + ", ".join(f"{name} {number}" for name, number in about.most_common())
        + f"), {messages.total()} messages, {len(unseen)} not seen",
    )


async def told_alerts(tale: Tale) -> tuple[StoredAlert, ...]:
    """Every alert that reached the instructor, as it stands in the database."""
    ids = {alert for sight in tale.witness.by(tale.instructor) for alert in sight.alerts}
    async with tale.theatre.house.database.transaction() as tx:
        found = [await alerts.alert(tx, each) for each in sorted(ids)]
    return tuple(each for each in found if each is not None)


def _first_raised(tale: Tale, people: People, stored: tuple[StoredAlert, ...]) -> dict[str, int]:
    """Which thing seen was the first message to the instructor about each member's maximum."""
    member_of = {
        each.id: people.name(each.fact.member) for each in stored if each.fact.kind in REPEATED
    }
    found: dict[str, int] = {}
    for place, sight in enumerate(tale.witness.sights):
        for name in (member_of[each] for each in sight.alerts if each in member_of):
            found.setdefault(name, place)
    return found


def _due(tale: Tale, name: str) -> Given | None:
    """The answer with which the rule first held, worked out from the answers alone."""
    mine = [each for each in tale.ledger.given if each.member == name]
    for place, last in enumerate(mine):
        so_far = Answers(tale=tale, given=mine[: place + 1])
        if so_far.classes_hold() or so_far.movement_holds():
            return last
    return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What one member has said so far."""

    tale: Tale
    given: list[Given]

    def classes_hold(self) -> bool:
        """Two of the last three answered classes: rated maximal, or a movement was."""
        weeks: dict[int, bool] = {}
        for each in self.given:
            if each.question == "c" and each.number is None:
                continue
            if each.question == "c" or each.movement is not None:
                weeks[each.week] = weeks.get(each.week, False) or self._hard(each)
        return sum([weeks[week] for week in sorted(weeks)][-3:]) >= 2

    def movement_holds(self) -> bool:
        """The same movement maximal or not finished the last two times that it was rated."""
        rated: dict[str, list[bool]] = {}
        for each in self.given:
            if each.movement is not None and (each.number is not None or each.word == UNFINISHED):
                rated.setdefault(each.movement, []).append(self._hard(each))
        return any(len(each) >= 2 and all(each[-2:]) for each in rated.values())

    def _hard(self, rating: Given) -> bool:
        """Not finished, or rated so, or nothing was left after a rating that is nearly so."""
        if rating.word == UNFINISHED or rating.number is None:
            return rating.word == UNFINISHED
        if self._left(rating) == 0:
            return rating.number >= NEARLY_MAXIMAL
        return rating.number >= MAXIMAL and not self._rates_high()

    def _left(self, rating: Given) -> float | None:
        if rating.movement is None:
            return None
        about = rating.question.replace(Topic.EFFORT, Topic.RESERVE)
        of_it = (each for each in self.given if (each.week, each.question) == (rating.week, about))
        return next((each.number for each in of_it), None)

    def _rates_high(self) -> bool:
        """Whether a 10 says little of them: three times and more there was plenty left after 8."""
        above = []
        for each in self.given:
            left = self._left(each)
            if left is not None and each.number is not None and each.number >= HIGH:
                done = self._did(each)
                above.append(each.number - 10 * done / (done + left))
        return len(above) >= 3 and fmean(above) >= 1

    def _did(self, rating: Given) -> float:
        key = (rating.week, rating.member, rating.movement)
        bouts = self.tale.ledger.bouts
        return next(b.dose.amount for b in bouts if (b.week, b.member, b.movement) == key)
