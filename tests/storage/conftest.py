"""What is stored is stored alike by both engines: every test of a database runs on each."""

import pytest

from tests.conftest import ENGINES


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run it on both, but for what is about a file."""
    of_files = metafunc.definition.get_closest_marker("of_files") is not None
    if "engine" in metafunc.fixturenames and not of_files:
        metafunc.parametrize("engine", ENGINES)
