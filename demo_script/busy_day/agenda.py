"""The agenda of a day: what happens when, also what is only settled on the way."""

import heapq
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from datetime import datetime

Happening = Callable[[], Awaitable[None]]


@dataclass(slots=True)
class Agenda:
    """Things to happen, each at its moment; of two at the same, the one noted first."""

    _noted: list[tuple[datetime, int, Happening]] = field(default_factory=list)
    _count: int = 0

    def note(self, at: datetime, what: Happening) -> None:
        """Let this happen then, or as soon as what comes before it is over."""
        self._count += 1
        heapq.heappush(self._noted, (at, self._count, what))

    async def go_through(
        self, pass_until: Callable[[datetime], object], afterwards: Happening | None = None
    ) -> None:
        """One after the other, until nothing is left; time passes in between.

        `afterwards` follows each of them.
        """
        while self._noted:
            at, _, what = heapq.heappop(self._noted)
            pass_until(at)
            await what()
            if afterwards is not None:
                await afterwards()
