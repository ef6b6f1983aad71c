"""How the three groups come about: made by one, shared and handed over, and joined."""

from pathlib import Path

from bot.buttons import LinkButton, RosterButton
from bot.buttons.people import Lead, LeadButton
from bot.planfile import read_plan_file
from bot.storage import groups
from demo_script.busy_day.day import EVENING, MORNING, Day, StagedGroup
from demo_script.busy_day.people import BILLS, NEWCOMER, Bill, as_it_is
from demo_script.cast import STRANGER, Actor, make_cast
from demo_script.stand_in import Message, Person
from demo_script.story.opening import agree, newest_link
from demo_script.story.screen import Kind, latest
from demo_script.story.standing import say_where_they_stand
from demo_script.story.tale import Tale
from demo_script.telling import several
from demo_script.theatre import OWNER_CODE

FOLDER = Path(__file__).parents[1]


async def found(day: Day) -> None:
    """From the first start to three groups with their members."""
    day.telling.heading("Weir House: three groups of two instructors")
    day.telling.note("Everyone is invented, and what they do and rate is simulated.")
    day.first.press_start(OWNER_CODE)
    await day.theatre.settle()
    stranger = day.theatre.api.person(STRANGER)
    for place, bill in enumerate(BILLS):
        day.groups.append(await _make(day, bill, stranger, day.script.seed + 1000 * place))
    await _share(day, day.group(MORNING))
    await _hand_over(day, day.group(EVENING))
    for group, bill in zip(day.groups, BILLS, strict=True):
        for actor in group.tale.cast:
            await join(group.tale, actor, group.link)
            if bill.says_where_they_stand:
                await say_where_they_stand(group.tale, actor)
        by = " and ".join(leader.name for leader in group.leaders)
        names = sorted(group.names)
        day.telling.note(f"{group.name}, led by {by}: {several(names)}.")
    await _link_chat(day, day.group(EVENING))
    day.witness.new()


async def join(tale: Tale, actor: Actor, link: str, *, full: bool = False) -> None:
    """Follow the link, and agree."""
    actor.account.open_link(link)
    await tale.settle(hush=not full, full=full)
    label = agree(actor)
    if full:
        tale.line(actor.name, f"[{label}]")
    await tale.settle(hush=not full)


async def _make(day: Day, bill: Bill, stranger: Person, seed: int) -> StagedGroup:
    """The first instructor sends the plan; the bodies are as the plan doesn't know them."""
    text = (FOLDER / bill.plan_name).read_text(encoding="utf-8")
    plan = read_plan_file(text, bill.plan_name)
    day.first.send_document(bill.plan_name, text.encode())
    await day.theatre.settle()
    known = {actor.name: actor.account for group in day.groups for actor in group.tale.cast}
    everyone = make_cast(day.theatre.api, as_it_is(plan.plan, bill), seed, bill.names, known)
    day.newcomer = next((each for each in everyone if each.name == NEWCOMER), day.newcomer)
    tale = Tale(
        script=type(day.script)(weeks=day.script.weeks, seed=day.script.seed, painful=bill.painful),
        theatre=day.theatre,
        telling=day.telling,
        plan=plan,
        plan_text=text,
        cast=tuple(each for each in everyone if each.name != NEWCOMER),
        instructor=day.first,
        stranger=stranger,
        witness=day.witness,
        problems=day.problems,
    )
    async with day.theatre.house.database.transaction() as tx:
        made = next(each for each in await groups.all_groups(tx) if each.name == plan.name)
    return StagedGroup(id=made.id, tale=tale, leaders=(day.first,), link=newest_link(day.first))


async def leading_page(day: Day, person: Person, group: StagedGroup) -> Message:
    """What an instructor sees of who leads a group, by way of its roster."""
    person.say("/people")
    await day.theatre.settle()
    led = [each for each in day.groups if person in each.leaders]
    if len(led) > 1:
        await tap(day, person, RosterButton, group=group.id)
    await tap(day, person, LeadButton, id=group.id, lead=Lead.SHOW)
    return person.last_message


async def tap(day: Day, person: Person, kind: type[Kind], **having: object) -> str:
    """Press the newest button that does this, and let it work; what the button says."""
    message, button, _ = latest(person, kind, **having)
    person.press(message, button.data or "")
    await day.theatre.settle()
    return button.label


async def _share(day: Day, group: StagedGroup) -> None:
    await leading_page(day, day.first, group)
    await tap(day, day.first, LeadButton, lead=Lead.SHARE)
    await _accept(day)
    group.leaders = day.instructors


async def _hand_over(day: Day, group: StagedGroup) -> None:
    """Before anybody has joined, so that the first never sees who does."""
    await leading_page(day, day.first, group)
    await tap(day, day.first, LeadButton, lead=Lead.HAND_OVER)
    await tap(day, day.first, LeadButton, lead=Lead.HANDED_OVER)
    await _accept(day)
    group.leaders = (day.second,)
    group.tale.instructor = day.second


async def _accept(day: Day) -> None:
    day.second.open_link(newest_link(day.first))
    await day.theatre.settle()
    await tap(day, day.second, LeadButton, lead=Lead.ACCEPT)


async def _link_chat(day: Day, group: StagedGroup) -> None:
    """The group's people have a chat of their own, and the bot is let in."""
    leader = group.leaders[0]
    people = [leader, *(actor.account for actor in group.tale.cast)]
    group.chat = day.theatre.api.group(f"{group.name}, the chat", people)
    await day.theatre.settle()
    await tap(day, leader, LinkButton, group=group.id)
