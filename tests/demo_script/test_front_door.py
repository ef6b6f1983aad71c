"""The demo's command line: which stories there are, and what it says to a wrong one."""

import pytest

from demo_script.__main__ import main


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--story", "tomorrow"], "'six-weeks', 'busy-day'"),
        (["--story", "busy-day", "--weeks", "3"], "are for --story six-weeks"),
        (["--story", "busy-day", "--excerpt"], "are for --story six-weeks"),
        (["--seed", "-1"], "--seed"),
    ],
)
def test_what_cannot_be_played_is_refused_in_one_line(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """With the code for bad input, and what was expected."""
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert left.value.code == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert len(told.err.splitlines()) == 1
    assert said in told.err
