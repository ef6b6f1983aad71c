"""A set-up left and taken up again, with restarts, old buttons, double taps, strangers."""

from collections.abc import Awaitable, Callable
from pathlib import Path

import pytest

from bot.buttons.setup import Act, DraftButton, Stage, Step
from bot.house import open_house
from bot.settings import Secret, Settings
from demo_script.clock import PushedClock
from demo_script.stand_in import StandIn
from demo_script.theatre import DEMO_PACE, OWNER_CODE, Theatre
from tests.demo_script.method_models import check_request
from tests.journeys.evening import MONDAY, Evening, buttons, data_of
from tests.journeys.founder import Founder, about

pytestmark = pytest.mark.long

STEPS: tuple[Callable[[Founder], Awaitable[object]], ...] = (
    lambda ines: ines.evening.claim(),
    lambda ines: ines.says("/newgroup"),
    lambda ines: ines.says("Evening"),
    lambda ines: ines.tap(Act.DAY, "3+"),
    lambda ines: ines.go(Stage.CLOCK),
    lambda ines: ines.tap(Act.CLOCK, "1830"),
    lambda ines: ines.tap(Act.MINUTES, "50"),
    lambda ines: ines.says("Lisbon"),
    lambda ines: ines.says("wall sit"),
    lambda ines: ines.says("3 x 45"),
    lambda ines: ines.go(Stage.LINES),
    lambda ines: ines.go(Stage.TARGET),
    lambda ines: ines.tap(Act.TARGET, "-:7"),
    lambda ines: ines.tap(Act.MAKE),
)


@pytest.fixture
async def founder(stage: Evening) -> Founder:
    """The bot is claimed, and there is no group."""
    await stage.claim()
    return Founder(evening=stage)


async def test_a_set_up_is_taken_up_again_where_it_was_left(founder: Founder) -> None:
    await founder.says("/newgroup")
    await founder.says("Evening")
    await founder.says("Thu")
    said = await founder.says("/cancel")
    assert "kept what you have said so far" in said.text
    said = await founder.says("18:30")
    assert "no open question" in said.text, "what is typed now is for something else"
    said = await founder.says("/newgroup")
    assert "At what time" in said.text
    assert founder.evening.rows("SELECT count(*) FROM draft") == [(1,)]


async def test_a_question_that_comes_in_between_gets_what_is_typed(founder: Founder) -> None:
    await founder.says("/newgroup")
    await founder.says("/pause")
    await founder.says("20 December")
    assert founder.evening.rows("SELECT count(*) FROM pause") == [(1,)]
    assert "How many minutes" not in founder.person.last_message.text
    await founder.says("/newgroup")
    said = await founder.says("Evening")
    assert "On which days" in said.text


async def test_throwing_a_draft_away_takes_two_taps(founder: Founder) -> None:
    await founder.says("/newgroup")
    await founder.says("Evening")
    await founder.go(Stage.REST)
    discard = data_of(founder.page, DraftButton, act=Act.DISCARD)
    await founder.go(Stage.DAYS)
    await founder.press_old(discard)
    assert founder.evening.rows("SELECT count(*) FROM draft") == [(1,)], "an old button asks first"
    await founder.press(discard)
    assert founder.evening.rows("SELECT count(*) FROM draft") == [(0,)]
    assert "The draft is gone" in founder.person.last_message.text


async def test_making_a_group_twice_makes_it_once(founder: Founder) -> None:
    await founder.typical_group()
    make = data_of(founder.page, DraftButton, act=Act.MAKE)
    await founder.press(make)
    message = founder.person.messages[-2]
    press = founder.person.press_raw(message.message_id, make)
    await founder.evening.settle()
    assert press.answer is not None
    assert "no longer in use" in press.answer.text
    assert founder.evening.rows("SELECT count(*) FROM training_group") == [(1,)]
    assert sum("is ready" in each.text for each in founder.person.messages) == 1


async def test_a_button_to_make_a_group_that_is_no_longer_shown_shows_it_first(
    founder: Founder,
) -> None:
    await founder.typical_group()
    make = data_of(founder.page, DraftButton, act=Act.MAKE)
    await founder.go(Stage.MINUTES)
    await founder.says("75")
    await founder.go(Stage.CLOCK)
    await founder.press_old(make)
    assert founder.evening.rows("SELECT * FROM training_group") == []
    assert "75 minutes" in founder.page.text


async def test_double_taps_and_buttons_of_what_is_gone_do_no_harm(founder: Founder) -> None:
    await founder.typical_group()
    await founder.go(Stage.LINES)
    bug = about("Dead bug")
    await founder.go(Stage.LINE, bug)
    page, drop = founder.page, DraftButton(draft_id(founder), Act.DROP, bug).write()
    more = data_of(page, DraftButton, act=Act.SETS, value=f"{bug}:3")
    for _ in range(2):
        await founder.evening.press(founder.person, more, page)
    assert "3 × 10 reps" in founder.page.text
    founder.person.press_raw(page.message_id, drop)
    await founder.evening.settle()
    since = founder.evening.dump()
    again = founder.person.press_raw(page.message_id, more)
    await founder.evening.settle()
    assert again.answer is not None
    assert "no longer in use" in again.answer.text
    assert founder.evening.dump()["draft"][0][5] == since["draft"][0][5]


def draft_id(founder: Founder) -> str:
    """The id of the one draft."""
    ((found,),) = founder.evening.rows("SELECT id FROM draft")
    return str(found)


@pytest.mark.parametrize(
    ("act", "value"),
    [
        (Act.MINUTES, "4"),
        (Act.ZONE, "Europe/Atlantis"),
        (Act.CLOCK, "2960"),
        (Act.TAKE, "abcdefgh2345"),
        (Act.SETS, f"{about('Dead bug')}:99"),
        (Act.AMOUNT, f"{about('Dead bug')}:9999"),
        (Act.LOAD, f"{about('Dead bug')}:20"),
        (Act.VARIATION, f"{about('Dead bug')}:9"),
        (Act.TARGET, "-:9.5"),
        (Act.TARGET, "abcdefgh2345:7"),
        (Act.ONCE, ""),
        (Act.ALWAYS, ""),
        (Act.SHOW, str(Step(Stage.LINE, "abcdefgh2345"))),
        (Act.SHOW, str(Step(Stage.LIBRARY, "9"))),
    ],
)
async def test_what_no_button_carries_changes_nothing_that_was_said(
    founder: Founder, act: Act, value: str
) -> None:
    await founder.typical_group()
    before = founder.evening.rows("SELECT document FROM draft")
    press = founder.person.press_raw(
        founder.page.message_id, DraftButton(draft_id(founder), act, value).write()
    )
    await founder.evening.settle()
    assert press.answer is not None
    assert founder.evening.rows("SELECT document FROM draft") == before


async def test_nobody_else_gets_into_a_set_up(evening: Evening) -> None:
    founder, ana = Founder(evening=evening), evening.members["Ana"]
    await founder.says("/newgroup")
    stranger = evening.api.person("Stranger")
    shown = [each.write() for each in buttons(founder.page)]
    for person in (ana, stranger):
        for data in shown:
            before = evening.dump()
            press = person.press_raw(1, data)
            await evening.settle()
            assert press.answer is not None
            assert "no longer in use" in press.answer.text
            assert evening.dump() == before
    assert "Only whoever claimed this bot" in (await evening.say(ana, "/newgroup")).text
    assert "invited to a class" in (await evening.say(stranger, "/newgroup")).text
    assert len(evening.rows("SELECT * FROM draft")) == 1


async def test_a_restart_after_every_step_is_not_noticed(tmp_path: Path) -> None:
    """What is begun lies in the database, and what a tap needs is in its button."""
    clock = PushedClock(MONDAY)
    async with StandIn(clock.now, validator=check_request) as api:
        settings = Settings(
            token=Secret(api.token),
            api_url=api.url,
            database=tmp_path / "class-effort.sqlite3",
            owner_code=Secret(OWNER_CODE),
        )
        ines = api.person("Ines")
        for step in STEPS:
            async with open_house(settings, clock=clock, pace=DEMO_PACE) as house:
                evening = Evening(
                    theatre=Theatre(api=api, house=house, clock=clock),
                    file=tmp_path / "class-effort.sqlite3",
                    instructor=ines,
                )
                await step(Founder(evening=evening))
        assert any("Evening is ready" in each.text for each in ines.messages)
        assert api.invalid == []
