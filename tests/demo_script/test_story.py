"""The story of two weeks comes true, with other people and other luck than the demo's."""

import asyncio
import io
from dataclasses import dataclass, replace
from zoneinfo import ZoneInfo

import pytest

from demo_script.story import Script, Tale, play
from demo_script.story.about_service import less_is_maximal_than_by_the_plan
from demo_script.story.excerpt import excerpt
from demo_script.story.figures import Week, table, together, weekly
from demo_script.story.finding import Finding, People
from demo_script.story.findings import findings
from demo_script.telling import Telling

SHORT = Script(weeks=2, seed=11)


@dataclass(frozen=True)
class Told:
    """What is left of a story once the bot is closed."""

    tale: Tale
    text: str
    findings: tuple[Finding, ...]
    after_a_loss: tuple[Finding, ...]
    """The findings once an answer was taken out of the database behind the bot's back."""
    after_a_leak: tuple[Finding, ...]
    """The findings once a member was shown another's name."""


@pytest.fixture(scope="module")
def told() -> Told:
    """Two weeks, played once for all tests here."""
    return asyncio.run(_tell())


async def _tell() -> Told:
    out = io.StringIO()
    async with play(SHORT, Telling(out=out, zone=ZoneInfo("Europe/Lisbon"))) as tale:
        found = await findings(tale)
        _leak(tale)
        after_a_leak = await findings(tale)
        tale.witness.sights.pop()
        async with tale.theatre.house.database.transaction() as tx:
            await tx.execute("DELETE FROM answer WHERE question = 'c' AND number = 10")
        return Told(tale, out.getvalue(), found, await findings(tale), after_a_leak)


def _leak(tale: Tale) -> None:
    first, second, *_ = tale.cast
    seen = next(tale.witness.by(first.account))
    tale.witness.sights.append(replace(seen, text=f"{second.name} had a hard day"))


def test_everything_comes_true(told: Told) -> None:
    """Each finding holds, and says by what it is seen."""
    assert [(each.name, each.evidence) for each in told.findings if not each.holds] == []
    assert all(each.evidence for each in told.findings)
    assert len(told.findings) == 10


def test_a_lost_answer_is_noticed(told: Told) -> None:
    """The findings look into the database, and would tell."""
    assert [each.name[:12] for each in told.after_a_loss if not each.holds] == ["every answer"]


def test_a_name_shown_to_another_member_is_noticed(told: Told) -> None:
    """The findings read what everyone saw, and would tell."""
    assert [each.name[:9] for each in told.after_a_leak if not each.holds] == ["no member"]


def test_the_figures_add_up(told: Told) -> None:
    """Bouts are people times movements; the parts make the whole; nobody answers unasked."""
    weeks = weekly(told.tale)
    assert [each.week for each in weeks] == [1, 2]
    for week in weeks:
        assert week.everybody.bouts == week.came * len(told.tale.movements)
        assert week.everybody.bouts - week.others.bouts == len(told.tale.movements)
        assert week.everybody.maximal - week.others.maximal == len(told.tale.movements)
        assert week.everybody.in_range == week.others.in_range
        assert week.asked == len(told.tale.cast)
        assert 0 < week.answered <= week.asked
    assert together(each.everybody for each in weeks).bouts == len(told.tale.ledger.bouts)


def test_the_table_shows_the_figures(told: Told) -> None:
    """One line a week and one for all of them, on a terminal of 88 characters."""
    weeks: tuple[Week, ...] = weekly(told.tale)
    lines = table(told.tale, weeks)
    assert [line.split()[0] for line in lines[2:5]] == ["1", "2", "all"]
    assert int(lines[4].split()[-1]) == sum(each.answered for each in weeks)
    assert max(map(len, lines)) <= told.tale.telling.width


def test_no_line_is_wider_than_the_terminal(told: Told) -> None:
    """Also with long messages and many buttons, except for links that can't be broken."""
    wide = [line for line in told.text.splitlines() if len(line) > told.tale.telling.width]
    assert wide == []
    assert "\x1b" not in told.text


def test_the_excerpt_is_a_chat_that_took_place(told: Told) -> None:
    """The first member's answers stand in it as they gave them."""
    first = told.tale.cast[0].name
    prompt = next(each.prompt for each in told.tale.ledger.given if each.member == first)
    shown = excerpt(told.tale)
    for given in told.tale.ledger.given:
        if given.prompt == prompt:
            assert given.looked in " ".join(shown.split())


@pytest.mark.parametrize(("usually", "by_plan", "holds"), [(7.0, 10.0, True), (10.0, 7.0, False)])
async def test_doses_that_leave_people_all_out_are_noticed(
    told: Told, usually: float, by_plan: float, holds: bool
) -> None:
    """The same people, had the bot called out the plan's doses and the plan the bot's."""
    bouts = [replace(each, usually=usually, by_plan=by_plan) for each in told.tale.ledger.bouts]
    ledger = replace(
        told.tale.ledger,
        sessions=dict.fromkeys(range(1, 5), ""),
        bouts=[replace(each, week=week) for each in bouts for week in (3, 4)],
    )
    found = await less_is_maximal_than_by_the_plan(replace(told.tale, ledger=ledger), People({}))
    assert found is not None
    assert found.holds is holds
