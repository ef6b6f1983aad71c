"""A CSV sheet with known columns: its cells by name, and where each one stands."""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO

from bot.errors import BadInput, Problem
from core.names import nearest, tidy

COLUMNS = (
    "member",
    "date",
    "movement",
    "variation",
    "amount",
    "load",
    "completed",
    "effort",
    "reserve",
)
SEPARATORS = ",;\t"
"""Comma first; spreadsheets write the others where a comma is the decimal sign."""

FORMULA = tuple("=+-@\t\r")
"""Characters that begin a formula. Exports put an apostrophe before them, which isn't meant; where
a text has apostrophes there already, one more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One line of the sheet; empty cells are empty texts."""

    place: str
    """The file and the line, such as `reports.csv, line 3`."""
    cells: dict[str, str]

    def problem(self, column: str, expected: str) -> Problem:
        """What is wrong with the cell of that column."""
        cell = self.cells[column]
        where = f"{self.place}, column {column}"
        return Problem(where=where, wrong=f'"{tidy(cell)}"' if cell else "empty", expected=expected)


def rows_of(text: str, where: str) -> Iterator[Row | Problem]:
    """Rows and broken lines in order, blank lines left out; BadInput if the header is wrong."""
    separator = max(SEPARATORS, key=text.partition("\n")[0].count)
    lines = csv.reader(StringIO(text, newline=""), delimiter=separator, strict=True)
    header: list[str] | None = None
    try:
        for cells in lines:
            place = f"{where}, line {lines.line_num}"
            plain = [_plain(cell) for cell in cells]
            if not any(plain):
                continue
            if header is None:
                header = _header(plain, place)
            elif [each.casefold() for each in plain] == header:
                continue  # several files, one behind the other
            elif len(plain) != len(header):
                expected = f"{len(header)}, as in the header"
                yield Problem(where=place, wrong=f"{len(plain)} cells", expected=expected)
            else:
                yield Row(place=place, cells=dict(zip(header, plain, strict=True)))
    except csv.Error as refused:
        yield Problem(where=f"{where}, line {lines.line_num}", wrong=str(refused), expected="CSV")
    if header is None:
        raise BadInput((_missing(where, COLUMNS),))


def _plain(cell: str) -> str:
    return (cell[1:] if cell.startswith("'") and _runs(cell) else cell).strip()


def safe(text: str) -> str:
    """A cell that no spreadsheet runs, and that is read back as it was."""
    return f"'{text}" if _runs(text) else text


def _runs(text: str) -> bool:
    return text.lstrip("'").startswith(FORMULA)


def _header(cells: list[str], place: str) -> list[str]:
    names = [each.casefold() for each in cells]
    problems = [
        Problem(where=place, wrong=f'column "{tidy(name)}"', expected=_meant(name))
        for name in names
        if name not in COLUMNS
    ]
    problems += [
        Problem(where=place, wrong=f'column "{each}" twice', expected="each column once")
        for each in COLUMNS
        if names.count(each) > 1
    ]
    missing = tuple(each for each in COLUMNS if each not in names)
    if missing:
        problems.append(_missing(place, missing))
    if problems:
        raise BadInput(tuple(problems))
    return names


def _meant(name: str) -> str:
    return nearest(name, COLUMNS) or f"columns out of {','.join(COLUMNS)}"


def _missing(place: str, columns: tuple[str, ...]) -> Problem:
    wrong = f"no column {', '.join(columns)}"
    return Problem(where=place, wrong=wrong, expected=f"the header {','.join(COLUMNS)}")
