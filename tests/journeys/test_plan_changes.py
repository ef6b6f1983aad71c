"""A plan is looked at and changed for one class or from now on; what was planned stays."""

from datetime import timedelta

import pytest

from bot.buttons import ReplaceButton
from bot.buttons.setup import Act, DraftButton, PlanButton, Stage
from bot.planfile import read_plan_file
from tests.journeys.evening import STARTS, Evening, buttons, data_of, sent_to
from tests.journeys.founder import Founder, about
from tests.journeys.plans import MOVEMENTS, plan_text

PLANK = about("Side plank")
DIGEST = STARTS - timedelta(minutes=60)


@pytest.fixture
def founder(evening: Evening) -> Founder:
    """Ines leads a group with three members, before its first class."""
    return Founder(evening=evening)


async def begin(founder: Founder) -> None:
    """Look at the plan, and begin to change it."""
    await founder.says("/plan")
    shown = next(
        each
        for each in reversed(founder.person.messages)
        if any(isinstance(button, PlanButton) for button in buttons(each))
    )
    await founder.press(data_of(shown, PlanButton), shown)


async def forty_seconds(founder: Founder) -> None:
    """Change the side plank to three times forty seconds, and look at what that changes."""
    await begin(founder)
    await founder.go(Stage.LINE, PLANK)
    await founder.says("3 x 40")
    await founder.go(Stage.LINES)
    await founder.go(Stage.PREVIEW)


def plans(founder: Founder) -> list[tuple[object, ...]]:
    """Which plan each of the first three classes has, as a number from 0 on."""
    rows = founder.evening.rows("SELECT plan_id FROM session ORDER BY starts_at LIMIT 3")
    order = list(dict.fromkeys(rows))
    return [(order.index(row),) for row in rows]


async def test_plan_shows_the_next_class_and_gives_its_file_back(founder: Founder) -> None:
    before = founder.evening.dump()
    await founder.says("/plan")
    shown, file = founder.person.messages[-2:]
    assert "Side plank: 2 × 30 s, knees bent" in shown.text
    assert "Thu 3 Sept, 18:30" in shown.text
    assert file.attachment is not None
    assert file.attachment.name == "harbour-hall-strength.toml"
    assert file.document is not None
    sent = read_plan_file(plan_text(), "sent")
    assert read_plan_file(file.document, "given back") == sent
    assert founder.evening.dump() == before
    since = len(founder.evening.api.log)
    said = await founder.evening.upload(file.document.decode())
    assert "just what holds now" in said.text
    assert founder.evening.dump() == before
    assert len(sent_to(founder.evening.api, founder.person, since)) == 1


async def test_a_change_is_shown_before_it_counts(founder: Founder) -> None:
    before = founder.evening.dump("draft")
    await forty_seconds(founder)
    assert "Side plank: 2 × 30 s, knees bent → 3 × 40 s, knees bent" in founder.page.text
    assert founder.evening.dump("draft") == before


async def test_a_plan_for_one_class_leaves_the_others_as_they_are(founder: Founder) -> None:
    evening, ana = founder.evening, founder.evening.members["Ana"]
    await forty_seconds(founder)
    await founder.tap(Act.ONCE)
    assert "on Thu 3 Sept, 18:30 only" in founder.person.last_message.text
    assert plans(founder) == [(0,), (1,), (1,)]
    await evening.leap(evening.now + timedelta(days=1))  # the coming weeks are planned anew
    assert plans(founder) == [(0,), (1,), (1,)]
    assert "3 × " in (await evening.say(ana, "/variant")).text
    assert "This plan is for this class only." in (await plan_now(founder))
    await evening.class_is_over()
    assert plans(founder) == [(0,), (1,), (1,)], "history keeps what was planned"
    assert "2 × 30 s" in (await plan_now(founder))


async def plan_now(founder: Founder) -> str:
    """What /plan shows."""
    await founder.says("/plan")
    return founder.person.messages[-2].text


async def test_a_plan_from_now_on_counts_for_all_that_has_not_begun(founder: Founder) -> None:
    evening = founder.evening
    await evening.leap(STARTS)
    await forty_seconds(founder)
    await founder.tap(Act.ALWAYS)
    assert "from Thu 10 Sept, 18:30 on" in founder.person.last_message.text
    assert plans(founder) == [(0,), (1,), (1,)], "the class that is on keeps its plan"
    await evening.class_is_over()
    prompts = evening.rows("SELECT told FROM prompt")
    assert all('"sets": 3' not in str(told) for (told,) in prompts)


async def test_from_now_on_takes_the_class_along_that_had_a_plan_of_its_own(
    founder: Founder,
) -> None:
    await forty_seconds(founder)
    await founder.tap(Act.ONCE)
    await begin(founder)
    await founder.go(Stage.LINE, PLANK)
    await founder.tap(Act.VARIATION, f"{PLANK}:1")
    await founder.go(Stage.LINES)
    await founder.go(Stage.PREVIEW)
    await founder.tap(Act.ALWAYS)
    assert plans(founder) == [(0,), (0,), (0,)]
    assert "3 × 40 s, feet stacked" in (await plan_now(founder))


async def test_movements_are_added_moved_aimed_and_taken_out(founder: Founder) -> None:
    await begin(founder)
    await founder.go(Stage.LIBRARY)
    await founder.says("wall sit")
    wall = about("Wall sit")
    await founder.tap(Act.PLACE, f"{wall}:2")
    await founder.go(Stage.TARGET, wall)
    await founder.tap(Act.TARGET, f"{wall}:6")
    await founder.go(Stage.LINES)
    await founder.go(Stage.LINE, about("Push-up"))
    await founder.go(Stage.DROP, about("Push-up"))
    await founder.tap(Act.DROP, about("Push-up"))
    await founder.go(Stage.TARGET)
    await founder.says("6,5")
    await founder.go(Stage.PREVIEW)
    for told in (
        "Out: Push-up",
        "New: Wall sit, 2 × 35 s",
        "Effort: 7, at most 9 → 6.5, at most 9",
    ):
        assert told in founder.page.text
    await founder.tap(Act.ALWAYS)
    said = founder.person.last_message.text
    assert "Effort aimed at: 6.5" in said
    assert "Wall sit: 2 × 35 s, thighs level; aimed at 6" in said
    assert said.index("Wall sit") < said.index("Squat with a weight")


async def test_a_change_is_left_and_taken_up_again(founder: Founder) -> None:
    await forty_seconds(founder)
    await founder.go(Stage.LINES)
    await founder.go(Stage.REST)
    assert "Nothing has changed" in founder.page.text
    await begin(founder)
    assert "begun this already" in founder.page.text
    await founder.go(Stage.PREVIEW)
    assert "3 × 40 s" in founder.page.text


async def test_nothing_different_offers_nothing_to_apply(founder: Founder) -> None:
    await begin(founder)
    await founder.go(Stage.PREVIEW)
    assert "Nothing is different yet." in founder.page.text
    acts = {each.act for each in buttons(founder.page) if isinstance(each, DraftButton)}
    assert acts == {Act.SHOW}


async def test_a_class_that_began_while_a_change_was_looked_at_is_asked_about_anew(
    founder: Founder,
) -> None:
    await forty_seconds(founder)
    once = data_of(founder.page, DraftButton, act=Act.ONCE)
    await founder.evening.leap(STARTS)
    await founder.press_old(once)
    assert "please look again" in founder.page.text
    assert "Thu 10 Sept" in founder.page.labels[0][0]
    assert founder.evening.rows("SELECT count(*) FROM plan") == [(1,)]
    await founder.tap(Act.ONCE)
    assert plans(founder) == [(0,), (1,), (0,)]


async def test_a_plan_that_another_file_replaced_is_asked_about_anew(founder: Founder) -> None:
    await forty_seconds(founder)
    always = data_of(founder.page, DraftButton, act=Act.ALWAYS)
    said = await founder.evening.upload(plan_text(minutes=45))
    await founder.evening.press(founder.person, data_of(said, ReplaceButton, yes=True, once=False))
    await founder.press_old(always)
    assert founder.evening.rows("SELECT count(*) FROM plan") == [(2,)]
    (shown,) = [each for each in founder.person.messages if "please look again" in each.text]
    await founder.press(data_of(shown, DraftButton, act=Act.ALWAYS), shown)
    newest = "SELECT document FROM plan JOIN training_group AS g ON g.plan_id = plan.id"
    ((document,),) = founder.evening.rows(newest)
    plan = read_plan_file(str(document), "stored")
    assert (plan.minutes, plan.plan.lines[0].dose.amount) == (45, 40)


async def test_after_the_digest_a_change_calls_out_anew(founder: Founder) -> None:
    """What was called out is what everybody does, so a later plan is called out, too."""
    evening, ana = founder.evening, founder.evening.members["Ana"]
    await evening.leap(DIGEST)
    assert "Side plank" in (await evening.say(ana, "/variant")).text
    await begin(founder)
    await founder.go(Stage.LIBRARY)
    await founder.says("wall sit")
    await founder.go(Stage.LINES)
    await founder.go(Stage.PREVIEW)
    since = len(evening.api.log)
    await founder.tap(Act.ONCE)
    said = sent_to(evening.api, founder.person, since)
    assert any("Wall sit" in text and "Side plank" in text for text in said), "a new digest"
    changed = next(each for each in founder.person.messages if "had gone out already" in each.text)
    assert "Wall sit" in changed.text
    assert "Wall sit" in (await evening.say(ana, "/variant")).text
    since = len(evening.api.log)
    await evening.leap(DIGEST + timedelta(minutes=1))
    assert sent_to(evening.api, founder.person, since) == [], "and only once"
    await evening.class_is_over()
    told = evening.rows("SELECT told FROM prompt")
    assert told
    assert all("Wall sit" in str(each) for (each,) in told)


async def test_nobody_else_looks_at_or_changes_a_plan(founder: Founder) -> None:
    evening, ana = founder.evening, founder.evening.members["Ana"]
    await forty_seconds(founder)
    shown = {each.write() for message in founder.person.messages for each in buttons(message)}
    ours = [data for data in shown if data[0] in "bf"]
    assert ours
    stranger = evening.api.person("Stranger")
    for person in (ana, stranger):
        before = evening.dump()
        for data in ours:
            press = person.press_raw(1, data)
            await evening.settle()
            assert press.answer is not None
            assert press.answer.text in (
                "This button is no longer in use.",
                "This button doesn't work for you.",
            )
        said = await evening.say(person, "/plan")
        assert "Side plank" not in said.text
        assert evening.dump() == before


# --- the same by plan file ----------------------------------------------------------------------


async def test_a_file_shows_what_would_change(founder: Founder) -> None:
    movements = MOVEMENTS.replace("amount = 30, sets = 2", "amount = 45, sets = 1").replace(
        'name = "Push-up"', 'name = "Press-up"'
    )
    changed = plan_text(rrule="FREQ=WEEKLY;BYDAY=TH,SA", minutes=45, movements=movements)
    said = await founder.evening.upload(changed)
    assert said.text.splitlines()[1:] == [
        "Times: Thu, 18:30 (Lisbon), 50 minutes → Thu and Sat, 18:30 (Lisbon), 45 minutes",
        "Out: Push-up",
        "New: Press-up, 2 × 10 reps, on the knees",
        "Side plank: 2 × 30 s, knees bent → 45 s, knees bent",
        "",
        "For one class alone only its movements and efforts can change.",
        "For which classes? What was said so far stays.",
    ]
    assert [row[0] for row in said.labels] == [
        "Only the next class: Thu 3 Sept, 18:30",
        "From now on",
        "Leave it as it is",
    ]


async def test_a_file_for_one_class_leaves_times_and_name_alone(founder: Founder) -> None:
    movements = MOVEMENTS.replace("amount = 30, sets = 2", "amount = 45, sets = 1")
    said = await founder.evening.upload(plan_text(minutes=45, movements=movements))
    await founder.evening.press(founder.person, data_of(said, ReplaceButton, once=True))
    assert plans(founder) == [(0,), (1,), (1,)]
    ends = founder.evening.rows("SELECT DISTINCT substr(ends_at, 12, 5) FROM session")
    assert ends == [("18:20",), ("19:20",)], "in summer and in winter, as before"
    now_holds = await plan_now(founder)
    assert "Side plank: 45 s, knees bent" in now_holds


async def test_a_file_with_other_times_only_has_no_button_for_one_class(founder: Founder) -> None:
    said = await founder.evening.upload(plan_text(minutes=45))
    assert [row[0] for row in said.labels] == ["From now on", "Leave it as it is"]
