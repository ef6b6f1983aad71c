"""What an answered button costs the real process: `python -m tests.benchmarks.buttons`."""

import asyncio
import os
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from statistics import median, quantiles

from demo_script.stand_in import Person, StandIn
from tests.campaigns.ground import WIDE, prepare, until_it_works
from tests.campaigns.process import Run, TwoClocks, settings_for
from tests.journeys.evening import USUAL, answer_data, asked

AT_ONCE = 4  # members who tap at the same moment
TICKS_PER_SECOND = os.sysconf("SC_CLK_TCK")
PAGE_BYTES = os.sysconf("SC_PAGE_SIZE")


async def measure(folder: Path) -> str:
    """Let every member answer everything, and say what it took."""
    clocks = TwoClocks(datetime.now(UTC) - timedelta(minutes=20))
    async with StandIn(clocks.now, limits=WIDE) as api:
        settings = settings_for(api, folder)
        (members,) = await prepare(settings, api, clocks, members=10)
        clocks.real = True
        run = Run(settings, folder / "journal")
        began = time.monotonic()
        await run.start()
        await until_it_works(api)
        started = time.monotonic() - began
        assert run.process is not None
        await asyncio.sleep(3)  # what the start leaves to do is not the buttons' cost
        before, began = _cpu(run.process.pid), time.monotonic()
        gate = asyncio.Semaphore(AT_ONCE)
        waits = [
            wait
            for waited in await asyncio.gather(*(_answer(each, gate) for each in members))
            for wait in waited
        ]
        took = time.monotonic() - began
        await asyncio.sleep(3)  # the last changes of messages go out
        cpu = _cpu(run.process.pid) - before
        memory = _memory(run.process.pid)
        run.process.terminate()
        code = await run.process.wait()
    return (
        f"{len(waits)} buttons answered by {len(members)} members, {AT_ONCE} at once\n"
        f"from the tap to its answer: median {1000 * median(waits):.1f} ms, "
        f"99 in 100 under {1000 * quantiles(waits, n=100)[98]:.0f} ms\n"
        f"{len(waits) / took:.0f} answers a second; CPU {1000 * cpu / len(waits):.2f} ms each, "
        "with the change of the message, the next question and the alerts\n"
        f"start-up to the first update: {started:.2f} s; memory {memory / 2**20:.0f} MiB; "
        f"exit code after SIGTERM {code}"
    )


async def _answer(person: Person, gate: asyncio.Semaphore) -> list[float]:
    """Tap through all questions; seconds from each tap to its answer."""
    waits = []
    while (question := asked(person.last_message)) is not None:
        async with gate:
            shown = person.last_message
            began = time.monotonic()
            press = person.press(shown, answer_data(shown, str(question), USUAL[question.topic]))
            await press.answered(30)
            waits.append(time.monotonic() - began)
        for _ in range(2000):  # until the message has changed
            if person.last_message.edits > shown.edits:
                break
            await asyncio.sleep(0.005)
    return waits


def _cpu(process: int) -> float:
    """Seconds of CPU that a process has used."""
    fields = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / TICKS_PER_SECOND


def _memory(process: int) -> int:
    """Bytes that a process holds in memory."""
    return int(Path(f"/proc/{process}/statm").read_text().split()[1]) * PAGE_BYTES


def main() -> None:
    """Print the figures of one run."""
    with tempfile.TemporaryDirectory() as folder:
        print(asyncio.run(measure(Path(folder))))


if __name__ == "__main__":
    main()
