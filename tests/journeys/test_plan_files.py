"""Plan files in the chat: a group, a question, or every mistake by its name."""

import pytest

from bot.buttons import ReplaceButton
from demo_script.stand_in import Person
from tests.journeys.evening import STARTS, WEEK, Evening, asked, buttons, data_of, sent_to
from tests.journeys.plans import MOVEMENTS, plan_text

BALANCE = MOVEMENTS.replace("Side plank", "Standing on one leg")


async def test_a_plan_file_becomes_a_group_with_its_summary_and_a_link(stage: Evening) -> None:
    await stage.claim()
    said = await stage.upload(plan_text())
    for told in ("Harbour Hall strength", "50 minutes", "Side plank", "Push-up", "18:30"):
        assert told in said.text
    assert stage.link.startswith(f"https://t.me/{stage.api.username}?start=")
    assert stage.rows("SELECT name FROM training_group") == [("Harbour Hall strength",)]
    assert stage.rows("SELECT min(starts_at) FROM session") == [("2026-09-03T17:30:00Z",)]


async def test_every_mistake_in_a_plan_file_is_named_with_what_was_expected(
    stage: Evening,
) -> None:
    await stage.claim()
    wrong = (
        plan_text(timezone="Europe/Atlantis", minutes=0, more="prompt_after = -1")
        .replace("demand = 0.6", "demand = -1")
        .replace("load_step = 2", 'load_stp = "two"')
    )
    said = await stage.upload(wrong)
    for place in ("timezone", "minutes", "prompt_after", "demand", "load_stp"):
        assert place in said.text
    assert said.text.count("expected") >= 5
    assert "Nothing was changed" in said.text
    assert stage.rows("SELECT * FROM training_group") == []


async def test_a_timetable_that_would_never_end_to_be_worked_out_is_refused(
    stage: Evening,
) -> None:
    await stage.claim()
    said = await stage.upload(plan_text(rrule="FREQ=SECONDLY"))
    assert "rrule" in said.text
    assert stage.rows("SELECT * FROM training_group") == []


async def test_mistakes_full_of_markup_still_fit_into_one_message(stage: Evening) -> None:
    await stage.claim()
    strange = "<b>&amp;" + "x" * 5000 + "\U0001f3cb\u202e"
    keys = "\n".join(f'"<i>{number}{strange}" = 1' for number in range(20))
    said = await stage.upload(keys + plan_text())
    assert "can't use this file yet" in said.text
    assert "and 8 more" in said.text


@pytest.mark.parametrize(
    ("name", "content", "told"),
    [
        ("plan.pdf", b"%PDF-1.4", "expected a plan file (.toml)"),
        ("plan.toml.exe", b"MZ", "expected a plan file (.toml)"),
        ("plan.toml", bytes(range(256)), "UTF-8"),
        ("plan.toml", b"# " + b"x" * 256 * 1024, "256 KB"),
        ("plan.toml", b"\n", "can't use this file"),
        ("plan.toml", b"[group\n", "can't use this file"),
        ("plan.toml", b"a = " + b"[" * 50_000, "can't use this file"),
    ],
    ids=["another kind", "two endings", "binary", "too large", "empty", "torn", "nested"],
)
async def test_what_is_no_plan_is_refused_kindly(
    stage: Evening, name: str, content: bytes, told: str
) -> None:
    await stage.claim()
    before = stage.dump()
    stage.instructor.send_document(name, content)
    await stage.settle()
    assert told in stage.instructor.last_message.text
    assert stage.dump() == before


async def test_a_plan_file_may_begin_with_a_byte_order_mark_and_end_in_capitals(
    stage: Evening,
) -> None:
    await stage.claim()
    said = await stage.upload("\ufeff" + plan_text(), name="PLAN.TOML")
    assert "is ready" in said.text


async def test_a_file_from_a_member_is_not_even_fetched(evening: Evening) -> None:
    ana, eve = evening.members["Ana"], evening.api.person("Eve")
    before, calls = evening.dump(), len(evening.api.requests)
    for person in (ana, eve):
        person.send_document("plan.toml", plan_text("Mine now").encode())
    await evening.settle()
    assert "only take files from an instructor" in ana.last_message.text
    assert "invited to a class" in eve.last_message.text
    assert evening.dump() == before
    assert "getFile" not in [request.method for request in evening.api.requests[calls:]]


async def test_a_plan_for_a_group_that_exists_is_a_question_first(evening: Evening) -> None:
    before = evening.dump("upload")
    said = await evening.upload(plan_text(movements=BALANCE))
    assert "You already lead Harbour Hall strength" in said.text
    assert evening.dump("upload") == before
    await evening.press(evening.instructor, data_of(said, ReplaceButton, yes=False))
    assert "the old plan stays" in evening.instructor.last_message.text
    assert evening.dump("upload") == before
    assert evening.rows("SELECT * FROM upload") == []


async def test_a_replaced_plan_counts_for_the_classes_that_have_not_begun(
    evening: Evening,
) -> None:
    ana = evening.members["Ana"]
    await evening.leap(STARTS)
    said = await evening.upload(plan_text(movements=BALANCE, rrule="FREQ=WEEKLY;BYDAY=TH,SA"))
    await evening.press(evening.instructor, data_of(said, ReplaceButton, yes=True, once=False))
    assert "follows this plan from" in evening.instructor.last_message.text
    plans = evening.rows("SELECT plan_id FROM session ORDER BY starts_at LIMIT 2")
    assert plans[0] != plans[1]
    await evening.class_is_over()
    assert await movements_asked(evening, ana) <= {"Side plank", "Push-up", "Squat with a weight"}
    saturdays = evening.rows("SELECT count(*) FROM session WHERE slot LIKE '2026-09-05%'")
    assert saturdays == [(1,)]
    assert "Standing on one leg" in (await evening.say(ana, "/variant")).text


async def test_a_caption_says_which_group_is_meant(evening: Evening) -> None:
    await evening.upload(plan_text("Tide Room yoga"))
    said = await evening.upload(plan_text("Tide Room yoga"), caption="harbour hall strength")
    assert "You already lead Harbour Hall strength" in said.text
    await evening.press(evening.instructor, data_of(said, ReplaceButton, yes=True, once=False))
    assert evening.rows("SELECT name FROM training_group ORDER BY name") == [
        ("Tide Room yoga",),
        ("Tide Room yoga",),
    ]


async def test_the_question_about_replacing_is_answered_once(evening: Evening) -> None:
    said = await evening.upload(plan_text(movements=BALANCE))
    yes = data_of(said, ReplaceButton, yes=True, once=False)
    no = data_of(said, ReplaceButton, yes=False)
    first = evening.instructor.press(said, yes)
    second = evening.instructor.press(said, no)
    await evening.settle()
    assert first.answer is not None
    assert second.answer is not None
    assert "no longer in use" in second.answer.text
    assert evening.rows("SELECT count(*) FROM plan") == [(2,)]
    assert buttons(evening.instructor.last_message) == []


async def test_a_file_that_says_it_is_small_and_is_not_is_refused(stage: Evening) -> None:
    await stage.claim()
    sent = stage.instructor.send_document("plan.toml", b"# " + b"x" * 300_000)
    await stage.settle()
    assert sent.attachment is not None
    stage.api.inject(document_of(stage, stage.instructor, sent.attachment.file_id))
    since = len(stage.api.log)
    await stage.settle()
    assert ["256 KB" in text for text in sent_to(stage.api, stage.instructor, since)] == [True]


async def test_next_weeks_class_is_asked_about_with_the_new_movements(evening: Evening) -> None:
    ana = evening.members["Ana"]
    said = await evening.upload(plan_text(movements=BALANCE))
    await evening.press(evening.instructor, data_of(said, ReplaceButton, yes=True, once=False))
    await evening.leap(STARTS + WEEK)
    await evening.class_is_over(week=1)
    assert await movements_asked(evening, ana) <= {
        "Standing on one leg",
        "Push-up",
        "Squat with a weight",
    }


async def movements_asked(evening: Evening, person: Person) -> set[str]:
    """The movements that this person is asked about, found by answering everything."""
    found: set[str] = set()
    await evening.answer(person, "c", 7)
    while (question := asked(person.last_message)) is not None and str(question) != "h":
        found |= {line.partition(" (")[0] for line in person.last_message.text.splitlines()[2:3]}
        await evening.answer(person, str(question), "skipped")
    assert found
    return found


def document_of(stage: Evening, person: Person, file_id: str) -> dict[str, object]:
    """A document whose size isn't told."""
    account = person.person_id
    return {
        "message": {
            "message_id": 9999,
            "date": int(stage.now.timestamp()),
            "chat": {"id": account, "type": "private", "first_name": person.name},
            "from": {"id": account, "is_bot": False, "first_name": person.name},
            "document": {"file_id": file_id, "file_unique_id": "u", "file_name": "plan.toml"},
        }
    }
