"""The commands, for whoever may use them; and names of every kind in every message."""

import pytest

from demo_script.stand_in import Message, Person
from tests.journeys.evening import PROMPTED, STARTS, Evening, asked, sent_to
from tests.journeys.plans import MOVEMENTS, plan_text

MEMBERS_ONLY = ("/variant",)
EVERYBODY = ("/help", "/privacy", "/cancel", "/start")
INSTRUCTORS = ("/digest", "/invite", "/plan")


async def test_each_menu_holds_what_its_owner_can_do(evening: Evening) -> None:
    ana, stranger = evening.members["Ana"], evening.api.person("Stranger")
    assert {"digest", "invite"} <= set(evening.api.menu(evening.instructor))
    for person in (ana, stranger):
        menu = set(evening.api.menu(person))
        assert {"variant", "help", "privacy", "cancel"} <= menu
        assert not {"digest", "invite"} & menu


@pytest.mark.parametrize("command", [*EVERYBODY, *MEMBERS_ONLY, *INSTRUCTORS, "/nonsense", "/7"])
async def test_every_command_is_answered_whoever_sends_it(evening: Evening, command: str) -> None:
    stranger = evening.api.person("Stranger")
    before = evening.dump()
    for person in (evening.instructor, evening.members["Ana"], stranger):
        since = len(evening.api.log)
        person.say(command)
        await evening.settle()
        assert sent_to(evening.api, person, since), (command, person.name)
        others = [p for p in (evening.instructor, *evening.members.values()) if p is not person]
        assert not any(sent_to(evening.api, other, since) for other in others)
    if command != "/invite":
        assert evening.dump() == before


@pytest.mark.parametrize("command", [*MEMBERS_ONLY, *INSTRUCTORS])
async def test_strangers_learn_nothing_from_a_command(evening: Evening, command: str) -> None:
    stranger = evening.api.person("Stranger")
    said = await evening.say(stranger, command)
    assert "invited to a class" in said.text
    assert "Harbour" not in said.text


@pytest.mark.parametrize("command", INSTRUCTORS)
async def test_members_get_nothing_that_is_for_instructors(evening: Evening, command: str) -> None:
    said = await evening.say(evening.members["Ana"], command)
    assert "t.me" not in said.text
    assert "Ben" not in said.text


async def test_the_digest_names_everybody_and_variant_only_what_is_mine(evening: Evening) -> None:
    digest = await evening.say(evening.instructor, "/digest")
    assert all(name in digest.text for name in ("Ana", "Ben", "Cleo", "Side plank"))
    variant = await evening.say(evening.members["Ana"], "/variant")
    assert "Side plank" in variant.text
    assert "Ben" not in variant.text
    assert variant.protected


async def test_what_is_told_before_class_stays_until_it_is_over(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.leap(STARTS)
    before = (await evening.say(ana, "/variant")).text
    await evening.say(ana, "/help")
    assert (await evening.say(ana, "/variant")).text == before


async def test_commands_in_a_group_chat_say_nothing_personal(evening: Evening) -> None:
    ana = evening.members["Ana"]
    chat = evening.api.group("Our class", [ana])
    await evening.settle()
    for command in ("/variant", "/digest", "/privacy"):
        ana.say(f"{command}@{evening.api.username}", chat)
    await evening.settle()
    told = " ".join(message.text for message in chat.messages)
    assert "Side plank" not in told


STRANGE = [
    "<b>Bold</b> & <script>",
    'O\'Neill "Quote"',
    "{name} {0} %s",
    "👩‍👩‍👧‍👦 Familie 🏋️",
    "\u202eevil\u202c right",
    "مريم בן-דוד",
    "N" * 200,
    "a_b*c`d[e](f)",
    "\u200b",
    "line\nbreak\ttab",
]


@pytest.mark.parametrize(
    "name", [*STRANGE[:4], *(pytest.param(name, marks=pytest.mark.long) for name in STRANGE[4:])]
)
async def test_a_strange_name_looks_right_everywhere(stage: Evening, name: str) -> None:
    await stage.found()
    (person,) = await stage.join(name)
    await stage.class_is_over()
    await stage.answer_all(person, h="pain", w=0)
    digest = await read_digest(stage)
    shown = stage.rows("SELECT name FROM person WHERE account = ?", person.person_id)
    ((kept,),) = shown
    assert isinstance(kept, str)
    assert 0 < len(kept) <= 64
    assert not set(kept) & set("\n\t\u202e\u202c")
    for message in (digest, *(m for m in stage.instructor.messages if "joint or sharp" in m.text)):
        assert kept in message.text
        assert "&lt;" not in message.text
        assert "&amp;" not in message.text


async def test_a_strange_group_and_strange_movements_look_right_everywhere(
    stage: Evening,
) -> None:
    group = "<i>Yoga</i> & 'more' {x} 🧘"
    plan = plan_text(
        "placeholder",
        movements=MOVEMENTS.replace("Side plank", "<b>Plank</b> {0} & " + "x" * 40),
    ).replace("'placeholder'", f'"{group}"')
    await stage.found(plan)
    (ana,) = await stage.join("Ana")
    assert group in ana.last_message.text
    await stage.class_is_over()
    assert group in ana.last_message.text
    await stage.answer_all(ana, h="pain", w=0)
    assert "<b>Plank</b> {0} &" in ana.last_message.text
    assert "<b>Plank</b> {0} &" in (await stage.say(ana, "/variant")).text
    assert "<b>Plank</b> {0} &" in (await read_digest(stage)).text


async def read_digest(stage: Evening) -> Message:
    """The digest that the instructor asks for; a picture follows it."""
    await stage.say(stage.instructor, "/digest")
    return next(each for each in reversed(stage.instructor.messages) if each.attachment is None)


async def test_a_full_room_of_long_names_fits_into_the_messages(stage: Evening) -> None:
    await stage.found()
    people: list[Person] = []
    for row in range(3):
        names = [f"{row}{place} " + "Wilhelmina & " * 5 for place in range(10)]
        people += await stage.join(*names)
    await stage.leap(PROMPTED)
    for person in people[:25]:
        assert asked(person.last_message) is not None
        prompt = (person.last_message.buttons[0][0].data or "").split(":")[1]
        person.press_raw(person.last_message.message_id, f"a:{prompt}:h:warning")
    await stage.settle()
    since = len(stage.api.log)
    await stage.say(stage.instructor, "/digest")
    pages = sent_to(stage.api, stage.instructor, since)
    assert all(len(page) <= 4096 for page in pages)
    assert "30 members expected" in pages[0]
    assert "and 17 more alerts" in pages[0]
    assert all(person.name[:60] not in " ".join(pages) for person in people)
    assert all(f" {row}0" in " ".join(pages) for row in range(2))
