"""The digest is read in a minute: one message for a real room, and nobody taken for another."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.words.calling import MOST_LETTERS, call_names
from bot.words.digest import Heading, digest_messages
from bot.words.message import Message, length
from bot.words.pages import MOST_ENTITIES, OPENING
from bot.words.speech import LANGUAGES, speech_for
from core.alert import Alert, AlertKind, Sighting
from core.digest import Digest, merged
from core.movement import Measure
from demo_script.stand_in.markup import parse_html
from tests.bot.words import longest
from tests.bot.words.longest import ID, ON, WHEN

FIRST = ("Ana", "Ben", "Cleo", "Dora", "Emil", "Fatma", "Goran", "Hanna", "Ivo", "Jana")
LAST = ("Silva", "Novak", "Berg", "Costa")
PEOPLE = {str(at): f"{FIRST[at % 10]} {LAST[at // 10]}" for at in range(40)}
MOVEMENTS = ("Side plank", "Push-up", "Wall sit", "Dumbbell row", "Squat", "Step-up", "Lunge",
             "Glute bridge", "Dead bug", "Calf raise", "Overhead press", "Boat")  # fmt: skip


def room(members: int = 40) -> Digest:
    """Forty people and twelve movements, with as much to tell as on a busy day."""
    ids = tuple(str(at) for at in range(members))
    long = longest.digest("wide")
    movements = []
    for name, part in zip(MOVEMENTS, long.movements, strict=True):
        ladder = tuple(
            replace(each, name=f"version {rung}")
            for rung, each in enumerate(part.line.movement.ladder)
        )
        movement = replace(
            part.line.movement, name=name, ladder=ladder, measure=Measure.HOLD, standard="version 5"
        )
        dose = replace(part.line.dose, variation="version 1", amount=30, load=None, sets=2)
        line = replace(part.line, movement=movement, dose=dose)
        options = tuple(
            replace(
                option,
                movement=name,
                dose=replace(dose, amount=20 + 10 * at),
                members=tuple(each for each in ids if int(each) % 5 in some),
            )
            for at, (option, some) in enumerate(
                zip(part.options, ((0,), (1, 2, 3), (4,)), strict=True)
            )
        )
        movements.append(replace(part, line=line, options=options))
    seen = Sighting(on=ON, effort=10)
    alerts = tuple(
        Alert(member=str(at), kind=kind, cause=("c",), evidence=(seen, replace(seen, effort=9.5)))
        for at, kind in enumerate(AlertKind)
    )
    differences = tuple(
        replace(
            each,
            movements=MOVEMENTS[:2],
            telling=replace(
                each.telling,
                movement="Side plank",
                dose=movements[0].line.dose,
                reason=replace(each.telling.reason, dose=movements[0].line.dose),
            ),
        )
        for each in long.differences[:10]
    )
    return replace(
        long, expected=ids, alerts=alerts[:6], seen=alerts[6:9], movements=tuple(movements),
        differences=differences, room=(), quiet=ids[3:6], new=ids[6:8], paused=ids[8:9],
        returning=((ids[9], 21),),
    )  # fmt: skip


def told(digest: Digest, language: str = "en", **other: bool) -> tuple[Message, ...]:
    """The digest as it is read."""
    heading = Heading(group="Harbour Hall", group_id=ID, session_id=ID, when=WHEN, **other)
    return digest_messages(speech_for(language), digest, heading, PEOPLE)


@pytest.mark.parametrize("language", LANGUAGES)
def test_forty_people_and_twelve_movements_fit_into_one_message(language: str) -> None:
    (message,) = told(room(), language)
    assert length(message.text) <= 4096
    assert len(OPENING.findall(message.text)) <= MOST_ENTITIES


def test_in_a_small_room_every_option_names_everybody() -> None:
    (message,) = told(room(10))
    assert "everybody else" not in message.text
    read, _ = parse_html(message.text)
    assert "▸ 2 × 20 s, version 1: Ana Silva, Fatma Silva" in read
    assert "▸ 2 × 30 s, version 1: Ben Silva, Cleo Silva, Dora Silva, Goran Silva" in read


def test_in_a_large_room_the_largest_option_is_everybody_else() -> None:
    (message,) = told(room())
    assert message.text.count("everybody else (23)") == len(MOVEMENTS)
    assert "▸ 2 × 20 s, version 1: Ana S., Fatma S., Ana N." in message.text


@pytest.mark.parametrize("kind", longest.KINDS_OF_NAME)
@pytest.mark.parametrize("language", LANGUAGES)
def test_whatever_people_are_called_each_message_holds_what_the_chat_takes(
    kind: str, language: str
) -> None:
    names = {str(at): longest.name(kind, at) for at in range(40)}
    heading = Heading(group=longest.name(kind), group_id=ID, session_id=ID, when=WHEN)
    for message in digest_messages(speech_for(language), longest.digest(kind), heading, names):
        assert length(message.text) <= 4096
        assert len(OPENING.findall(message.text)) <= MOST_ENTITIES


def test_who_stands_in_gets_no_buttons_about_alerts() -> None:
    labels = [key.label for row in told(room(), leads=False)[-1].rows for key in row]
    assert labels == ["One page to print"]


def test_what_amounts_to_the_same_stands_once_with_all_its_evidence() -> None:
    class_, plank = Sighting(on=ON, effort=10), Sighting(on=ON, movement="Side plank", effort=10)
    alerts = tuple(
        Alert(member="0", kind=kind, cause=(kind,), evidence=(seen,))
        for kind, seen in (
            (AlertKind.MAXIMAL_MOVEMENT, plank),
            (AlertKind.MAXIMAL_CLASSES, class_),
            (AlertKind.MAXIMAL_CLASSES, plank),
        )
    )
    (one,) = merged(alerts)
    assert set(one.evidence) == {class_, plank}
    digest = replace(room(), alerts=merged(alerts))
    assert told(digest)[0].text.count("keeps going to the maximum") == 1


NAMES = st.text(st.characters(categories=["L", "N", "Zs"]), min_size=1, max_size=64).map(
    lambda name: " ".join(name.split()) or "x"
)


@given(st.lists(NAMES, max_size=12))
def test_no_two_people_are_called_the_same_and_nobody_at_length(names: list[str]) -> None:
    called = call_names({str(at): name for at, name in enumerate(names)})
    assert len(called) == len(names) == len({each.casefold() for each in called.values()})
    assert all(len(each) <= MOST_LETTERS + len(" #12") for each in called.values())


def test_people_are_called_by_their_first_names_where_nobody_else_has_them() -> None:
    names = {"1": "Ana Silva", "2": "Ana Berg", "3": "Ben Novak", "4": "Cleo"}
    assert call_names(names) == {"1": "Ana S.", "2": "Ana B.", "3": "Ben", "4": "Cleo"}
