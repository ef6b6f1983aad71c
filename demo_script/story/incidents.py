"""What happens now and then: questions, alerts that are read, strangers, cleared pain."""

from datetime import timedelta

from bot.buttons import ClearButton, SeenButton, WellAgainButton
from bot.storage import groups, symptoms
from demo_script.cast import Actor
from demo_script.story.screen import carried, latest, question_on_screen
from demo_script.story.tale import Tale

STRANGE_WORDS = "hi, what did the others say?"


async def ask(tale: Tale, actor: Actor, *, full: bool = False) -> None:
    """Ask what to do next class."""
    actor.account.say("/variant")
    tale.line(actor.name, "/variant")
    await tale.settle(full=full)


async def acknowledge(tale: Tale) -> None:
    """The instructor reads every alert that isn't marked as seen, and marks it."""
    waiting = [m for m in tale.instructor.messages if any(carried(m, SeenButton))]
    if waiting:
        tale.pass_until(tale.now + timedelta(minutes=10))
    for each in waiting:
        message = tale.instructor.private.messages[each.message_id]
        if not any(carried(message, SeenButton)):
            continue  # of an alert that came twice, marking one marks both
        await tale.press(tale.instructor, message, SeenButton, tale.instructor.name)


async def strangers(tale: Tale) -> None:
    """Somebody who isn't in the class writes, and forges a press on another's question."""
    victim = tale.cast[0]
    shown = question_on_screen(victim.account)
    if shown is None:
        raise LookupError("there is no question to answer for somebody else")
    tale.stranger.say(STRANGE_WORDS)
    tale.line(tale.stranger.name, f"“{STRANGE_WORDS}”")
    await tale.settle()
    tale.refusals.append(tale.stranger.last_message.text)
    offer = shown.offers[0]
    press = tale.stranger.press_raw(shown.message.message_id, offer.carries.write())
    await tale.settle()
    answer = await press.answered()
    tale.refusals.append(answer.text)
    tale.line(
        tale.stranger.name,
        f"forges a press of [{offer.button.label}] for {victim.name} and sees: {answer.text}",
    )


async def heal(tale: Tale) -> None:
    """Two days later the pain is gone: the member says so, then the instructor clears it too."""
    actor = next(each for each in tale.cast if each.habits.hurts)
    tale.pass_until(tale.now + timedelta(days=1))
    await ask(tale, actor)
    message, _, _ = latest(actor.account, WellAgainButton)
    await tale.press(actor.account, message, WellAgainButton, actor.name)
    tale.half_cleared = await _holds(tale)
    message, _, _ = latest(tale.instructor, ClearButton)
    tale.pass_until(tale.now + timedelta(minutes=25))
    await tale.press(tale.instructor, message, ClearButton, tale.instructor.name)
    if not await _holds(tale):
        tale.healed_at = tale.now


async def _holds(tale: Tale) -> bool:
    """Whether any pain is still open in the database."""
    async with tale.theatre.house.database.transaction() as tx:
        group, *_ = await groups.all_groups(tx)
        return any(
            each.fact.open
            for each in await symptoms.symptoms_of_group(tx, group.id)
            if each.fact.kind == "pain"
        )
