"""What is stored is stored alike by both engines: every test of a database runs on each."""

import pytest

from tests.conftest import ENGINES, engine_of


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run it on both, but for what is about a file or a server."""
    if "engine" in metafunc.fixturenames and engine_of(metafunc.definition) is None:
        metafunc.parametrize("engine", ENGINES)
