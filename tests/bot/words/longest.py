"""The longest facts that each message can hold, for the tests of the chat API's limits."""

from dataclasses import replace
from datetime import UTC, date, datetime

from bot.errors import Problem
from bot.planfile import PlanFile
from bot.words.alerts import LONGEST_NOTE, Handled
from bot.words.prompt import Occasion
from bot.words.speech import Speech
from bot.words.summary import Summed
from core.alert import Alert, AlertKind, Sighting
from core.axis import Reach
from core.demands import DemandChange
from core.digest import Difference, Digest, MovementDigest
from core.grid import Felt as Cell
from core.grid import Grid, GridRow
from core.lesson import Scene, SceneKind
from core.movement import Dose, Measure, Movement, Variation
from core.names import LONGEST_NAME
from core.pitch import MOST_ROOM_ADVICE, Pitch, RoomAdvice
from core.plan import Plan, PlanLine
from core.progress import Felt, Progress
from core.questions import Answers, Asked, Said
from core.selfcheck import Comparison, Direction, Fit, SelfCheck
from core.standing import MOST_STANDINGS, Standing, Step
from core.suggestion import Change, Option, Reason, ReasonKind, Suggestion

ID = "abcdefgh2345"
MEMBERS, MOVEMENTS, RUNGS = 40, 12, 6
ON = date(2026, 9, 30)
AT = datetime(2026, 9, 30, 17, 30, tzinfo=UTC)
WHEN = "Wednesday, 30 September 2026, 18:30"
LINK = f"https://t.me/{'b' * 32}?start={'c' * 22}"
WIDE, NASTY, OTHER_WAY, PICTURES = "W" * 70, "<b>&\"'{count}</b>" * 9, "מרים " * 20, "💪🏽" * 40
KINDS_OF_NAME = {"wide": WIDE, "nasty": NASTY, "other way": OTHER_WAY, "pictures": PICTURES}
MEASURES = tuple(Measure)


def name(kind: str, number: int = 0) -> str:
    """A name of 64 characters, another one for each number."""
    mark = f"{number:02}"
    return KINDS_OF_NAME[kind][: LONGEST_NAME - len(mark)].rstrip() + mark


def movement(kind: str, number: int) -> Movement:
    """A movement with a long ladder; the four measures take turns."""
    measure = MEASURES[number % len(MEASURES)]
    ladder = tuple(
        Variation(name=name(kind, 10 * number + rung), demand=(rung + 1) / RUNGS)
        for rung in range(RUNGS)
    )
    return Movement(
        name=name(kind, number),
        measure=measure,
        ladder=ladder,
        standard=ladder[-1].name,
        smallest=10,
        largest=120,
        step=2.5,
        load_step=2.5 if measure is Measure.LOAD else None,
    )


def dose(of: Movement, rung: int = 0) -> Dose:
    """A dose with much to say."""
    load = 102.5 if of.measure is Measure.LOAD else None
    return Dose(variation=of.ladder[rung].name, amount=112.5, load=load, sets=10)


def plan(kind: str) -> Plan:
    """Twelve movements."""
    moves = [movement(kind, number) for number in range(MOVEMENTS)]
    lines = tuple(
        PlanLine(movement=each, dose=dose(each, 1), target=7.5, ceiling=9.5) for each in moves
    )
    return Plan(lines=lines, minutes=90, target=7.5, ceiling=9.5)


def plan_file(kind: str) -> PlanFile:
    """The same with its timetable."""
    return PlanFile(
        name=name(kind),
        timezone="America/Argentina/Buenos_Aires",
        starts=datetime(2026, 9, 3, 18, 30),  # noqa: DTZ001  (local on purpose)
        rrule="FREQ=WEEKLY;BYDAY=TH",
        minutes=90,
        prompt_after=10,
        digest_before=60,
        plan=plan(kind),
    )


def problems(kind: str) -> tuple[Problem, ...]:
    """More mistakes than are told."""
    return tuple(
        Problem(where=name(kind, at), wrong=name(kind, at), expected=name(kind, at) * 2)
        for at in range(30)
    )


def suggestions(kind: str, reason: ReasonKind = ReasonKind.UNFINISHED) -> tuple[Suggestion, ...]:
    """One for each movement, with all that can be said about it."""
    return tuple(
        Suggestion(
            member=str(at % MEMBERS),
            movement=line.movement.name,
            dose=dose(line.movement),
            expected_effort=7.5,
            chance_over_ceiling=0.1,
            change=Change.EASIER,
            reason=Reason(
                kind=reason,
                on=ON,
                dose=dose(line.movement, 2),
                effort=9.5,
                completed=102.5,
                reserve=12.5,
                days_away=300,
            ),
            alternative=dose(line.movement, 3),
        )
        for at, line in enumerate(plan(kind).lines)
    )


def alert(kind: str, about: AlertKind) -> Alert:
    """One with much evidence."""
    first = plan(kind).lines[0].movement
    seen = Sighting(on=ON, movement=first.name, effort=9.5, dose=dose(first), completed=102.5)
    return Alert(member="0", kind=about, cause=("c",), evidence=(seen,) * 3)


def handled(kind: str) -> tuple[Handled, ...]:
    """Every way in which an alert may stand."""
    by = name(kind)
    return (
        Handled(),
        Handled(seen_by=by, over=True),
        Handled(seen_by=by, cleared_by=by, cleared=True, note=(by * 9)[:LONGEST_NOTE]),
    )


def digest(kind: str) -> Digest:
    """Forty members with twelve movements, of whom everybody is worth a word."""
    members = tuple(map(str, range(MEMBERS)))
    lines, told = plan(kind).lines, suggestions(kind)
    every = [alert(kind, each) for each in AlertKind]
    alerts = tuple(replace(each, member=member) for member in members for each in every)
    return Digest(
        on=ON,
        expected=members,
        alerts=alerts,
        seen=alerts,
        movements=tuple(
            MovementDigest(
                line=line,
                options=tuple(
                    Option(movement=line.movement.name, dose=dose(line.movement), members=some)
                    for some in (members[:13], members[13:26], members[26:])
                ),
            )
            for line in lines
        ),
        differences=tuple(
            Difference(
                member=member,
                change=Change.EASIER,
                movements=tuple(line.movement.name for line in lines[:2]),
                telling=replace(told[0], member=member),
            )
            for member in members
        ),
        last=pitch(7.5),
        room=tuple(room(kind, at) for at in range(MOST_ROOM_ADVICE)),
        quiet=members,
        new=members,
        returning=tuple((each, 100) for each in members),
        paused=members,
    )


def room(kind: str, number: int) -> RoomAdvice:
    """Another plan for everybody."""
    line = plan(kind).lines[number]
    return RoomAdvice(line=line, felt=9.55, instead=dose(line.movement, 3))


def pitch(median: float | None) -> Pitch:
    """How forty felt a class."""
    return Pitch(
        on=ON,
        target=7.5,
        asked=40,
        answered=40,
        present=40,
        rated=40 if median else 0,
        median=median,
        low=median and 6.25,
        high=median and 8.75,
        in_range=40,
    )


def summed(kind: str) -> tuple[Summed, ...]:
    """A class with as many alerts and demands as there can be, offered and taken up."""
    told = digest(kind)
    whole = Summed(
        group=name(kind),
        group_id=ID,
        session_id=ID,
        pitch=pitch(7.5),
        alerts=told.alerts,
        changes=tuple(
            DemandChange(
                movement=line.movement.name, variation=each.name, written=0.85, believed=0.95
            )
            for line in plan(kind).lines
            for each in line.movement.ladder
        ),
        names={str(at): name(kind, at) for at in range(MEMBERS)},
    )
    return (whole, replace(whole, taken=True), replace(whole, alerts=(), changes=()))


def occasion(speech: Speech, kind: str, word: str = "warning") -> Occasion:
    """A prompt with everything answered, at length."""
    lines = plan(kind).lines
    asked = tuple(
        Asked(
            movement=line.movement.name,
            dose=line.dose,
            ladder=tuple(each.name for each in line.movement.ladder),
            reserve=True,
        )
        for line in lines[:3]
    )
    return Occasion(
        speech=speech,
        prompt=ID,
        group=name(kind),
        on=ON,
        plan=plan(kind),
        asked=asked,
        answers=answers(word),
        newcomer=True,
    )


def answers(word: str) -> Answers:
    """Everything that can be said about three movements."""
    said = {"c": 7.5} | {
        f"{topic}{place}": value
        for place in range(3)
        for topic, value in {"v": 2.0, "n": 102.5, "l": 102.5, "e": 7.5, "d": 2.5, "r": 8.0}.items()
    }
    numbers = {question: Said(number=number, at=AT) for question, number in said.items()}
    return numbers | {"h": Said(word=word, at=AT), "w": Said(number=1, at=AT)}


def progress(kind: str, *, gain: float = 1.0, rated: int = 20) -> Progress:
    """As many rows as are shown, each with a beginning."""
    begins, now = Reach(low=3.0, middle=3.1, high=3.2), Reach(low=3.9, middle=4.0, high=4.1)
    could, can = (Reach(low=101.5, middle=102.5, high=103.5),) * 2
    first, then = (begins, now) if gain > 0 else (now, begins)
    standings = tuple(
        Standing(
            movement=line.movement,
            variation=line.movement.ladder[2].name,
            repetitions=12 if line.movement.measure is Measure.LOAD else None,
            steps=tuple(Step(variation=each.name, at=3.5) for each in line.movement.ladder),
            now=then,
            began=first if gain else None,
            can=can,
            could=could if gain else None,
        )
        for line in plan(kind).lines[:MOST_STANDINGS]
    )
    felt = tuple(Felt(on=ON, effort=effort) for effort in (9.5, 7.5, 2.5, 7.0) * (rated // 4))
    return Progress(rated=rated, ratings=felt, low=6.5, high=8.5, standings=standings, unshown=6)


def check(fit: Fit, direction: Direction) -> SelfCheck:
    """A self-check from many answers."""
    one = Comparison(on=ON, movement="m", rated=9.5, implied=7.5)
    return SelfCheck(
        member="0",
        comparisons=(one,) * 100,
        bias=2,
        spread=1,
        doubt=0.1,
        fit=fit,
        direction=direction,
    )


def scene(kind: str, about: SceneKind) -> Scene:
    """A scene of the lesson."""
    return Scene(kind=about, movement=movement(kind, 1), done=102.5, left=12.5, rating=7.5)


def grid() -> Grid:
    """A full table."""
    rows = tuple(GridRow(member=str(at), cells=tuple(Cell)) for at in range(MEMBERS))
    return Grid(days=(ON,) * len(Cell), rows=rows)
