"""A look at everything comes at rest, now and then; and nothing is kept that nobody holds."""

import gc
import subprocess
import sys
import weakref
from collections.abc import Generator

import pytest

from bot.garbage import AT_LATEST_SECONDS, EVERY_SECONDS, Garbage, only_look_at_what_is_new


class Ring:
    """Holds itself, so that only a look at everything finds that nobody else does."""

    def __init__(self) -> None:
        self.itself = self


@pytest.fixture(autouse=True)
def as_before() -> Generator[None]:
    """The interpreter's own ways hold again for the tests that follow."""
    before = gc.get_threshold()
    yield
    gc.set_threshold(*before)
    gc.unfreeze()


def forgotten() -> weakref.ref[Ring]:
    """Something that has been there for long, and that nobody holds any more."""
    ring = Ring()
    gc.collect()
    gc.freeze()
    return weakref.ref(ring)


@pytest.mark.parametrize(
    ("busy", "seconds", "gone"),
    [
        (False, EVERY_SECONDS - 1, False),
        (False, EVERY_SECONDS, True),
        (True, EVERY_SECONDS, False),
        (True, AT_LATEST_SECONDS, True),
    ],
)
def test_everything_is_looked_at_in_its_time_or_late_amid_the_taps(
    busy: bool, seconds: float, gone: bool
) -> None:
    garbage, lost = Garbage(), forgotten()
    garbage.look_through(100.0, busy=False)
    garbage.look_through(100.0 + seconds, busy=busy)
    assert (lost() is None) == gone


def test_after_a_look_there_is_none_for_a_while() -> None:
    garbage = Garbage()
    garbage.look_through(0.0, busy=False)
    garbage.look_through(EVERY_SECONDS, busy=False)
    lost = forgotten()
    garbage.look_through(2 * EVERY_SECONDS - 1, busy=False)
    assert lost() is not None


def test_the_interpreter_looks_at_what_is_new_by_itself() -> None:
    only_look_at_what_is_new()
    looks = []
    gc.callbacks.append(lambda phase, info: looks.append(info["generation"]))
    try:
        held = [[] for _ in range(500_000)]  # type: ignore[var-annotated]
    finally:
        gc.callbacks.pop()
    assert held
    assert set(looks) == {0, 1}


WITHOUT_DOCUMENTATION = """
import inspect, telegram
from bot.garbage import let_go_of_documentation

before = {name: inspect.signature(each) for name, each in inspect.getmembers(telegram.Bot, callable)
          if inspect.isfunction(each)}
written = sum(len(getattr(telegram.Bot, name).__doc__ or "") for name in before)
assert written > 100_000
let_go_of_documentation()
assert telegram.Bot.__doc__ is None
assert not any(getattr(telegram.Bot, name).__doc__ for name in before)
assert all(inspect.signature(getattr(telegram.Bot, name)) == before[name] for name in before)
held = [each for name in before for each in getattr(telegram.Bot, name).__code__.co_consts]
assert not any(isinstance(each, str) and len(each) > 1000 for each in held)
user = telegram.User.de_json({"id": 1, "is_bot": False, "first_name": "Ana"}, None)
assert user.to_dict() == {"id": 1, "is_bot": False, "first_name": "Ana"}
print(user.mention_html())
"""


def test_documentation_goes_and_everything_else_stays() -> None:
    command = [sys.executable, "-c", WITHOUT_DOCUMENTATION]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.stderr == ""
    assert done.stdout == '<a href="tg://user?id=1">Ana</a>\n'
