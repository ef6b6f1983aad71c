"""A witness of everything the bot says, to whom, and with which buttons."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from bot.buttons import AnswerButton, SeenButton, ShowButton
from demo_script.stand_in import Event, Message, Person, StandIn
from demo_script.story.screen import carried


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

    @property
    def prompts(self) -> frozenset[str]:
        """Ids of the prompts that its buttons are about."""
        if self.message is None:
            return frozenset()
        answers = (found.prompt for _, found in carried(self.message, AnswerButton))
        ways = (found.prompt for _, found in carried(self.message, ShowButton))
        return frozenset((*answers, *ways))

    @property
    def asks(self) -> bool:
        """Whether a question can be answered by its buttons."""
        return self.message is not None and any(carried(self.message, AnswerButton))

    @property
    def alerts(self) -> frozenset[str]:
        """Ids of the alerts that can be marked as seen."""
        if self.message is None:
            return frozenset()
        return frozenset(found.id for _, found in carried(self.message, SeenButton))


class Witness:
    """Remembers all of it, in order."""

    def __init__(self, api: StandIn) -> None:
        self._api = api
        self.sights: list[Sight] = []
        api.subscribe(self._see)

    def by(self, person: Person, kind: str | None = None) -> Iterator[Sight]:
        """What this person saw, of one kind or of all."""
        for sight in self.sights:
            if sight.chat_id == person.person_id and kind in (None, sight.kind):
                yield sight

    def _see(self, event: Event) -> None:
        if event.direction != "out":
            return
        whole = event.kind in ("message", "edit") and event.message_id is not None
        chat = self._api.world.chats[event.chat_id]
        self.sights.append(
            Sight(
                at=event.at,
                kind=event.kind,
                chat_id=event.chat_id,
                text=event.text,
                message=chat.messages[event.message_id or 0] if whole else None,
            )
        )
