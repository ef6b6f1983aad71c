"""All checks in one command, as the README has it: style, types, floors, then the tests."""

import os
import subprocess
import sys
import time

LONG = "--long"
"""Asks for the longest tests as well, for which a continuous check has no time."""
CHECKS = (
    ("style", ("-m", "ruff", "check", ".")),
    ("format", ("-m", "ruff", "format", "--check", ".")),
    ("types", ("-m", "mypy")),
    ("floors", ("-c", "from importlinter.cli import lint_imports_command as main; main()")),
    ("tests", ("-m", "pytest", "--numprocesses", str(1 + (os.cpu_count() or 1)))),  # some wait
)


def main() -> int:
    """Run every check, also after one that fails; the exit code says whether all passed."""
    failed = []
    for name, command in CHECKS:
        began = time.monotonic()
        print(f"\n== {name}", flush=True)
        if name == "tests" and LONG not in sys.argv[1:]:
            command = (*command, "-m", "not long")
        if subprocess.run((sys.executable, *command), check=False).returncode != 0:
            failed.append(name)
        print(f"== {name}: {time.monotonic() - began:.1f} s", flush=True)
    print(f"\nfailed: {', '.join(failed)}" if failed else "\nall checks passed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
