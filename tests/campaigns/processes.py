"""What the system tells of a process: its CPU and memory, and where it runs."""

import os
from contextlib import suppress
from pathlib import Path

TICKS_PER_SECOND = os.sysconf("SC_CLK_TCK")
PAGE_BYTES = os.sysconf("SC_PAGE_SIZE")


def keep_to_one_core(process: int) -> None:
    """All its threads, so that the database's counts as well; those to come do as they do."""
    with suppress(AttributeError):  # not on every system
        core = {max(os.sched_getaffinity(0))}
        for thread in Path(f"/proc/{process}/task").iterdir():
            with suppress(OSError):  # it has ended meanwhile
                os.sched_setaffinity(int(thread.name), core)


def cpu_of(process: int) -> float:
    """Seconds of CPU that a process has used."""
    fields = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / TICKS_PER_SECOND


def memory_of(process: int) -> int:
    """Bytes that a process holds in memory."""
    return int(Path(f"/proc/{process}/statm").read_text().split()[1]) * PAGE_BYTES
