"""What is remembered of a row is what it says now, and no more rows than allowed are."""

from concurrent.futures import ThreadPoolExecutor
from random import Random

from bot.storage.remembered import LastRead, Remembered, Told
from core.reports import Session, SessionRating
from tests.fixed_clock import NOON


def test_a_row_is_made_once_until_it_changes_and_its_old_form_is_forgotten() -> None:
    made: list[str] = []

    def make(form: str) -> str:
        made.append(form)
        return form

    remembered = Remembered[str](3)
    for form in ("one", "one", "two", "two", "one"):
        assert remembered.get("row", hash(form), lambda form=form: make(form)) == form  # type: ignore[misc]
    assert made == ["one", "two", "one"]
    assert len(remembered) == 1


def test_of_many_rows_the_last_few_are_remembered() -> None:
    remembered = Remembered[int](3)
    for number in range(10):
        remembered.get(str(number), 0, lambda number=number: number)  # type: ignore[misc]
    assert len(remembered) == 3
    assert remembered.get("9", 0, lambda: -1) == 9
    assert remembered.get("0", 0, lambda: -1) == -1


def test_many_threads_get_what_they_ask_for() -> None:
    remembered = Remembered[tuple[int, int]](50)

    def ask(seed: int) -> None:
        luck = Random(seed)
        for _ in range(3000):
            row, mark = luck.randrange(80), luck.randrange(3)
            found = remembered.get(str(row), mark, lambda: (row, mark))  # noqa: B023 - at once
            assert found == (row, mark)

    with ThreadPoolExecutor(8) as threads:
        list(threads.map(ask, range(8)))
    assert len(remembered) <= 50


def told(session: str, members: int) -> Told:
    """As many have rated that class."""
    on = NOON.date()
    ratings = tuple(
        SessionRating(member=str(member), session=session, on=on, said_at=NOON)
        for member in range(members)
    )
    return {session: (1, Session(on=on, name=session, ratings=ratings))}


def test_a_history_is_remembered_as_it_was_read_last() -> None:
    last = LastRead(100)
    assert last.of(("group", None)) == {}
    for members in (3, 2):
        last.keep(("group", None), told("class", members))
        assert last.of(("group", None)) == told("class", members)
        assert len(last) == 1 + members
    assert last.of(("group", "Ana")) == {}
    last.forget()
    assert last.of(("group", None)) == {}
    assert len(last) == 0


def test_of_many_histories_those_that_were_read_last_are_remembered() -> None:
    last = LastRead(20)
    for number in range(10):
        last.keep((str(number), None), told("class", 5))
        last.of(("0", None))
    assert len(last) == 18
    assert [number for number in range(10) if last.of((str(number), None))] == [0, 8, 9]
    last.keep(("large", None), told("class", 50))
    assert len(last) == 51, "one is remembered however much it is"
