"""A clock for tests: it stands at noon until it is pushed."""

from datetime import UTC, datetime

from demo_script.clock import PushedClock

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)


class FixedClock(PushedClock):
    """Stands at noon. Whoever waits on it waits until a test pushes it far enough."""

    def __init__(self, moment: datetime = NOON) -> None:
        super().__init__(moment)
