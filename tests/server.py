"""A PostgreSQL server for tests, of their own, gone with the process that started it."""

import os
import pwd
import shutil
import subprocess
import tempfile
import time
from collections.abc import Generator, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

import psycopg

from bot.place import Server

PACKAGED = Path("/usr/lib/postgresql")
"""Where Debian puts the programs that aren't meant to be typed."""
ACCOUNTS = ("postgres", "nobody")
"""Who runs it if we are root, whom it refuses."""
PATIENCE_SECONDS = 60.0
SETTINGS = {
    "listen_addresses": "",
    "fsync": "off",  # it is killed in tests, but the computer isn't
    "full_page_writes": "off",
    "autovacuum": "off",
    "shared_buffers": "32MB",
    "max_connections": "30",
}
FILLED = """
SELECT tablename FROM pg_tables WHERE schemaname = 'public' AND tablename <> 'schema_version'
"""
# The shell outlives a test process that is killed, and takes the server along.
UNTIL_WE_ARE_GONE = '"$@" & read -r _; kill -INT $!; wait $!'


@dataclass(frozen=True, slots=True, kw_only=True)
class LocalServer:
    """A server behind a socket in a folder."""

    folder: Path
    programs: Path
    account: str | None
    """Whose files they are; None: ours."""
    numbers: Iterator[int] = field(default_factory=count)

    def place(self, name: str) -> Server:
        """The address of the database with this name."""
        return Server(f"postgresql://tests:secret@/{name}?host={self.folder}")

    def make(self, template: str = "template0") -> Server:
        """A new database, with everything that the template holds."""
        name = f"made_{next(self.numbers)}"
        self.do(f"CREATE DATABASE {name} TEMPLATE {template}")
        return self.place(name)

    def drop(self, place: Server) -> None:
        """Take a database away, also from those who use it."""
        self.do(f"DROP DATABASE {place.name} WITH (FORCE)")

    def clean(self, place: Server) -> None:
        """A database as it was when it was upgraded; many times faster than a new one."""
        self.hang_up(place)
        self.do(f"ALTER DATABASE {place.name} RESET ALL")
        with psycopg.connect(place.address) as connection:
            names = [name for (name,) in connection.execute(FILLED).fetchall()]
            connection.execute("SET session_replication_role = replica")  # in any order
            connection.execute("".join(f'DELETE FROM "{name}";' for name in names).encode())  # noqa: S608

    def set(self, place: Server, setting: str) -> None:
        """Change how a database behaves, for connections that are made from now on."""
        self.do(f"ALTER DATABASE {place.name} SET {setting}")

    def hang_up(self, place: Server) -> int:
        """End all connections to a database, as a server does that stops; how many there were."""
        with psycopg.connect(self.place("postgres").address, autocommit=True) as connection:
            found = connection.execute(
                "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = %s",
                (place.name,),
            )
            return len(found.fetchall())

    @contextmanager
    def running(self) -> Generator[None]:
        """While this lasts, it answers."""
        given = [f"-c{name}={value}" for name, value in SETTINGS.items()]
        process = subprocess.Popen(
            ["sh", "-c", UNTIL_WE_ARE_GONE, "sh", self.programs / "postgres",
             "-D", self.folder / "data", "-k", self.folder, *given],
            stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            start_new_session=True,  # so that what interrupts the tests doesn't end it before them
            user=self.account, group=_group(self.account), extra_groups=_no_more(self.account),
        )  # fmt: skip
        try:
            self._wait(process)
            yield
        finally:
            assert process.stdin is not None
            process.stdin.close()
            process.wait(PATIENCE_SECONDS)

    def _wait(self, process: subprocess.Popen[bytes]) -> None:
        last = time.monotonic() + PATIENCE_SECONDS
        while True:
            try:
                self.do("SELECT 1")
            except psycopg.OperationalError:
                assert process.poll() is None, "the server has ended by itself"
                assert time.monotonic() < last, "the server doesn't answer"
                time.sleep(0.02)
            else:
                return

    def do(self, sql: str) -> None:
        """Run a statement that isn't about any one database."""
        with psycopg.connect(self.place("postgres").address, autocommit=True) as connection:
            connection.execute(sql.encode())


def programs() -> Path | None:
    """The folder with the programs of a server; None where it isn't installed."""
    found = shutil.which("initdb")
    packaged = sorted(PACKAGED.glob("*/bin/initdb"), key=lambda each: int(each.parts[-3]))
    there = [Path(found).resolve()] if found else packaged[-1:]
    return next((each.parent for each in there if (each.parent / "postgres").exists()), None)


@contextmanager
def new_server(programs: Path) -> Generator[LocalServer]:
    """An empty one, in a folder that goes afterwards; it isn't running yet."""
    account = _account() if os.geteuid() == 0 else None
    # not pytest's folder: the name of a socket may have only about a hundred characters
    folder = Path(tempfile.mkdtemp(prefix="server-"))
    try:
        if account is not None:
            shutil.chown(folder, account)
        subprocess.run(
            [programs / "initdb", "-D", folder / "data", "-U", "tests", "-A", "trust",
             "-E", "UTF8", "--locale=C.UTF-8", "--no-sync", "--no-instructions"],
            check=True, capture_output=True,
            user=account, group=_group(account), extra_groups=_no_more(account),
        )  # fmt: skip
        yield LocalServer(folder=folder, programs=programs, account=account)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def database_of(engine: str) -> Generator[Server | None]:
    """For a benchmark: an empty database on a server of its own; None for a file."""
    if engine == "sqlite":
        yield None
        return
    found = programs()
    if found is None:
        raise SystemExit("PostgreSQL is not installed")
    with new_server(found) as local, local.running():
        yield local.make()


def _account() -> str:
    for name in ACCOUNTS:
        with suppress(KeyError):
            return pwd.getpwnam(name).pw_name
    raise AssertionError("no account that could run a server")


def _group(account: str | None) -> int | None:
    return None if account is None else pwd.getpwnam(account).pw_gid


def _no_more(account: str | None) -> tuple[int, ...] | None:
    return None if account is None else ()
