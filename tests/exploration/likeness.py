"""When two states are the same: nothing to be pressed or stored tells them apart.

Left out is what nothing is decided by: moments and update numbers, which all come after what was
there before; ids, as long as they name the same rows; and numbers, as long as they lie in the same
band, since what is asked next goes by bands alone. Every number's button is pressed all the same.
"""

import hashlib
import re
from collections.abc import Iterable

from core.questions import Question
from core.rules import RESERVE_FROM_EFFORT, RESERVE_UP_TO_EFFORT
from demo_script.stand_in import Message, Person
from tests.exploration.standstill import Standstill

UNTOLD = ("inbox", "outbox", "schema_version", "due", "export")
"""Tables of the post and of the calendar, which say what was or will be sent."""
INSTRUCTORS = ("plan", "session")
"""What no member can change."""
BY_BAND = {("answer", "number"), ("answer", "on_6_20")}
ANY_NUMBER = {
    ("estimate", "amount"),
    ("estimate", "load"),
    ("alert", "document"),
    ("draft", "document"),
    ("person", "quiet_from"),
    ("person", "quiet_until"),
    ("prompt", "letter"),
}
LATER_ON = {
    ("answer", "said_in"),
    ("pulse", "at"),
    ("session", "edition"),
    ("wrong_code", "update_id"),
    ("draft", "typing_since"),
}
NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
ID = re.compile(r"[a-z2-7]{12}")
LETTERS = """SELECT prompt.id, message_id FROM prompt LEFT JOIN outbox ON outbox.id = letter"""


class Likeness:
    """Tells states apart from the one that it was made in."""

    def __init__(self, still: Standstill, person: Person, *, leads: bool = False) -> None:
        untold = UNTOLD if leads else (*UNTOLD, *INSTRUCTORS)
        self._still = still
        self._person = person
        self._tables = [
            str(name)
            for (name,) in still.connection.rows(
                "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name"
            )
            if name not in untold and not str(name).startswith("sqlite")
        ]
        self._columns = {name: self._columns_of(name) for name in self._tables}
        self._known = self._ids(self._read())

    def shown(self) -> list[Message]:
        """Every message of ours with something to press that this person sees, oldest first."""
        chats = [self._person.private, *(each.chat for each in self._still.groups.values())]
        return [
            each
            for chat in chats
            for each in chat.messages.values()
            if each.sender_id == self._still.api.world.bot.account_id
            and any(button.data for row in each.buttons for button in row)
        ]

    def state(self) -> str:
        """The same for states that are the same."""
        return self._named(self._read(), self._screens())

    def stored(self) -> str:
        """The same for states that only look different."""
        return self._named(self._read(), ())

    def _named(self, rows: dict[str, list[tuple[object, ...]]], screens: Iterable[str]) -> str:
        text = "\n".join((*screens, *self._told(rows)))
        new, names = self._ids(rows) - self._known, dict[str, str]()
        for found in ID.findall(text) if new else ():
            if found in new:
                names.setdefault(found, f"id {len(names)}")
        text = ID.sub(lambda found: names.get(found[0], found[0]), text) if names else text
        return hashlib.blake2b(text.encode(), digest_size=16).hexdigest()

    def _screens(self) -> Iterable[str]:
        for message in self.shown():
            yield NUMBER.sub("#", message.html)
            for row in message.buttons:
                yield repr([(NUMBER.sub("#", each.label), each.data) for each in row])
        places = [each.message_id for each in self.shown()]
        for prompt, message_id in self._still.connection.rows(LETTERS):
            yield f"{prompt} {places.index(message_id) if message_id in places else None}"

    def _read(self) -> dict[str, list[tuple[object, ...]]]:
        rows = self._still.connection.rows
        return {name: rows(f"SELECT * FROM {name}") for name in self._tables}  # noqa: S608

    def _told(self, rows: dict[str, list[tuple[object, ...]]]) -> Iterable[str]:
        now = f"{self._still.clock.now():%Y-%m-%dT%H:%M:%SZ}"
        for name, found in rows.items():
            told = [self._row(name, row).replace(now, "now") for row in found]
            yield from sorted(told, key=lambda each: ID.sub("", each))

    def _row(self, table: str, row: tuple[object, ...]) -> str:
        values = dict(zip(self._columns[table], row, strict=True))
        return f"{table} {[_told(table, name, values) for name in values]}"

    def _columns_of(self, table: str) -> list[str]:
        return [str(row[1]) for row in self._still.connection.rows(f"PRAGMA table_info({table})")]

    def _ids(self, rows: dict[str, list[tuple[object, ...]]]) -> set[object]:
        return {
            row[at]
            for table, found in rows.items()
            for at, column in enumerate(self._columns[table])
            if column == "id" or column.endswith("_id")
            for row in found
        }


def _told(table: str, column: str, values: dict[str, object]) -> object:
    value = values[column]
    if value is None or (table, column) in LATER_ON:
        return None
    if (table, column) in BY_BAND and isinstance(value, float | int):
        return band(Question.read(str(values["question"])), value)
    if (table, column) in ANY_NUMBER:
        return NUMBER.sub("#", str(value))
    return value


def band(question: Question | None, value: float) -> str:
    """What decides about the next question."""
    if question is None or not question.is_rating:
        return "some"
    if value < RESERVE_FROM_EFFORT:
        return "low"
    return "high" if value < RESERVE_UP_TO_EFFORT else "most"
