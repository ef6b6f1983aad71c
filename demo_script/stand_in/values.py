"""What is seen in a chat: messages with their text, styles, buttons and attachments."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from demo_script.stand_in.entities import Entity, to_html

Json = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Button:
    """One button under a message: either `data` for the bot, or something the app does itself."""

    label: str
    data: str | None = None
    url: str | None = None
    raw: Mapping[str, Any] = field(default_factory=dict, repr=False)
    """The button as the bot sent it."""


Keyboard = tuple[tuple[Button, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Attachment:
    """A file in a message or in the store."""

    kind: str
    """`document` or `photo`."""
    file_id: str
    path: str
    name: str
    mime: str
    content: bytes = field(repr=False)
    width: int = 0
    """Pixels; 0 for documents."""
    height: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Message:
    """One message as it stands now; an edit makes a new value with the same id."""

    message_id: int
    chat_id: int
    sender_id: int
    at: datetime
    text: str = ""
    """The text, or the caption of an attachment."""
    entities: tuple[Entity, ...] = ()
    buttons: Keyboard = ()
    attachment: Attachment | None = None
    reply_to: int | None = None
    edits: int = 0
    edited_at: datetime | None = None
    protected: bool = False
    service: Mapping[str, Any] = field(default_factory=dict)
    """Fields of a service message ("somebody joined"); empty for ordinary ones."""

    @property
    def html(self) -> str:
        """The text with its styles as HTML."""
        return to_html(self.text, self.entities)

    @property
    def labels(self) -> tuple[tuple[str, ...], ...]:
        """The button labels, row by row."""
        return tuple(tuple(button.label for button in row) for row in self.buttons)

    @property
    def document(self) -> bytes | None:
        """The bytes of the attachment; None where there is none."""
        return self.attachment.content if self.attachment else None

    def button(self, label_or_data: str) -> Button:
        """The button with this label or this data; LookupError if it isn't on the keyboard."""
        for row in self.buttons:
            for button in row:
                if label_or_data in (button.label, button.data):
                    return button
        raise LookupError(f"no button {label_or_data!r} under {self.text!r}: {self.labels}")
