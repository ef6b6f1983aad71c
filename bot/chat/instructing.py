"""The buttons about all of a group: each leads to the job that does it."""

from bot.buttons.people import Lead, LeadButton
from bot.chat import export, handover, newcomer, substitute
from bot.chat.visit import Visit
from bot.words import toasts


async def press(visit: Visit) -> None:
    """Whoever is asked to lead answers as themselves; everything else is for those who lead."""
    button = LeadButton.read(visit.data)
    if button is None:
        visit.toast = toasts.NOT_YOURS
        return
    match button.lead:
        case Lead.ACCEPT | Lead.DECLINE:
            await substitute.answer(visit, button)
        case Lead.NEWCOMER | Lead.INVITED | Lead.UNINVITE:
            await newcomer.press(visit, button)
        case Lead.EXPORT:
            await export.press(visit, button)
        case _:
            await handover.lead(visit, button)
