"""Addresses in files that people send are text, and nobody goes there."""

import socket
from datetime import UTC, datetime, timedelta

import pytest

from bot.errors import BadInput
from bot.planfile import read_plan_file
from bot.timetable.calendarfile import Home, planned_between, problem_with, read_calendar
from tests.journeys.plans import plan_text
from tests.timetable.files import calendar, event

NOW = datetime(2026, 8, 31, 12, tzinfo=UTC)
HOME = Home(zone="Europe/Lisbon", minutes=45)
TRAP = "http://127.0.0.1:9/trap"
LINES = (
    f"URL:{TRAP}", f"ATTACH:{TRAP}", f"ATTACH;FMTTYPE=text/calendar:{TRAP}", f"SOURCE:{TRAP}",
    f'ORGANIZER;DIR="{TRAP}":mailto:a@example.org', f"CONFERENCE;VALUE=URI:{TRAP}",
    f"IMAGE;VALUE=URI:{TRAP}", f'DESCRIPTION;ALTREP="{TRAP}":A class', "REFRESH-INTERVAL:PT1S",
)  # fmt: skip


def test_reading_a_file_opens_no_connection(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[object] = []

    def refuse(*arguments: object, **named: object) -> None:
        tried.append(arguments)
        raise OSError("no connection may be opened here")

    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    monkeypatch.setattr(socket.socket, "connect", refuse)
    text = calendar(event("a", "RRULE:FREQ=WEEKLY;BYDAY=TH", *LINES))
    text = text.replace("BEGIN:VEVENT", f"TZURL:{TRAP}\r\nSOURCE;VALUE=URI:{TRAP}\r\nBEGIN:VEVENT")
    read = read_calendar(text)
    assert problem_with(read, HOME, NOW) is None
    assert len(planned_between(read, HOME, NOW, NOW + timedelta(weeks=12))) > 10
    assert read_plan_file(plan_text(TRAP), "plan.toml").name == TRAP
    with pytest.raises(BadInput):
        read_plan_file(plan_text(more=f'source = "{TRAP}"'), "plan.toml")
    assert tried == []
