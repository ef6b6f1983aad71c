"""What one person saw and did, written down as a chat that can be read aloud."""

import re
from dataclasses import dataclass, field
from zoneinfo import ZoneInfo

from demo_script.stand_in import Person
from demo_script.stand_in.log import Event
from tests.journeys.evening import Evening

CODE = re.compile(r"(?<=/start )\S+|(?<=start=)\S+")
"""What is different each time: it opens something."""
PLACE = ZoneInfo("Europe/Lisbon")
MARGIN = 6


@dataclass(slots=True, kw_only=True)
class Transcript:
    """Grows with every thing that somebody does, and with every moment that passes."""

    evening: Evening
    person: Person
    lines: list[str] = field(default_factory=list)
    _seen: int = 0
    _day: str = ""

    def note(self) -> None:
        """Write down what has happened since, each message as it came to look in the end."""
        events = [
            each
            for each in self.evening.api.log[self._seen :]
            if each.chat_id == self.person.person_id
        ]
        self._seen = len(self.evening.api.log)
        if not events:
            return
        self._moment()
        last = {each.message_id: each for each in events if each.kind in ("message", "edit")}
        shown = [each for each in events if each.direction == "in" or each.kind == "answer"]
        shown += [each for each in last.values() if each.direction == "out"]
        for event in shown:
            self.lines += _told(event, self.person.name)

    def _moment(self) -> None:
        local = self.evening.now.astimezone(PLACE)
        tens = local.minute - local.minute % 10  # the post moves the clock a little, as it has to
        day = f"{local:%Y-%m-%d %H}:{tens:02}"
        if day != self._day:
            self.lines += ["", f"── {day} ──"]
        self._day = day

    def text(self) -> str:
        """All of it."""
        return "\n".join(self.lines).strip() + "\n"


def _told(event: Event, name: str) -> list[str]:
    text = CODE.sub("●●●", event.text)
    if event.kind == "press":
        return ["", f"{name}: [{text}]"]
    if event.kind == "answer":
        return [f"{'':{MARGIN}}({text})"] if text else []
    if event.direction == "in":
        return ["", f"{name}: {text}"]
    picture = [] if event.file is None else ["<picture>"]
    keys = [" ".join(f"[{label}]" for label in row) for row in event.buttons]
    paragraph = [*picture, *text.splitlines(), *keys]
    first = "Bot" if event.kind == "message" else "Bot*"
    return [
        f"{first + ':' if at == 0 else '':{MARGIN}}{line}".rstrip()
        for at, line in enumerate(paragraph)
    ]
