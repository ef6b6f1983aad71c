"""A witness of everything the bot says, to whom, and with which buttons."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from bot.buttons import AnswerButton, ClassButton, SeenButton, ShowButton
from demo_script.stand_in import Event, Message, Person, StandIn
from demo_script.story.screen import every_button


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """One thing that the bot said or changed, as it was seen at that moment."""

    at: datetime
    kind: str
    """`message`, `edit` or `answer`, as in the log."""
    chat_id: int
    text: str
    message: Message | None
    """None for the answer to a press."""

    prompts: frozenset[str] = frozenset()
    """Ids of the prompts that its buttons are about."""
    asks: bool = False
    """Whether a question can be answered by its buttons."""
    alerts: frozenset[str] = frozenset()
    """Ids of the alerts that can be marked as seen."""
    classes: frozenset[str] = frozenset()
    """Ids of the sessions that its buttons do something about: of a digest, or a summary."""


class Witness:
    """Remembers all of it, in order."""

    def __init__(self, api: StandIn) -> None:
        self._api = api
        self.sights: list[Sight] = []
        self._looked_at = 0
        api.subscribe(self._see)

    def by(self, person: Person, kind: str | None = None) -> Iterator[Sight]:
        """What this person saw, of one kind or of all."""
        for sight in self.sights:
            if sight.chat_id == person.person_id and kind in (None, sight.kind):
                yield sight

    def new(self) -> list[Sight]:
        """What came since this was last asked, in order."""
        came = self.sights[self._looked_at :]
        self._looked_at = len(self.sights)
        return came

    def _see(self, event: Event) -> None:
        if event.direction != "out":
            return
        message = None
        if event.kind in ("message", "edit") and event.message_id is not None:
            message = self._api.world.chats[event.chat_id].messages[event.message_id]
        self.sights.append(_sight(event, message))


def _sight(event: Event, message: Message | None) -> Sight:
    """What was seen, with what its buttons are about."""
    found = [] if message is None else [each for _, each in every_button(message)]
    return Sight(
        at=event.at,
        kind=event.kind,
        chat_id=event.chat_id,
        text=event.text,
        message=message,
        prompts=frozenset(
            each.prompt for each in found if isinstance(each, AnswerButton | ShowButton)
        ),
        asks=any(isinstance(each, AnswerButton) for each in found),
        alerts=frozenset(each.id for each in found if isinstance(each, SeenButton)),
        classes=frozenset(each.session for each in found if isinstance(each, ClassButton)),
    )
