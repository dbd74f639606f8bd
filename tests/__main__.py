"""`python3 -m tests`: lint, format, types, tests. What is said after it goes to pytest.

All steps run even when an earlier one fails, so that one run tells everything. pytest comes last,
so that its summary is the last line; the exit code is zero only when every step passed.
"""

from __future__ import annotations

import platform
import shlex
import sys
from collections.abc import Sequence
from pathlib import Path

from tests import environment

# On every core; a file's tests stay together, since they share what is dear to make.
SPREAD = ("-n", "auto", "--dist", "loadfile")
CHECKS = (("ruff", "check"), ("ruff", "format", "--check"), ("mypy",))


def main(arguments: Sequence[str]) -> int:
    if sys.version_info < (3, 11):  # noqa: UP036 - a machine's python3 may be older than we need
        print(
            f"tests: Python 3.11 or newer is needed, not {platform.python_version()}",
            file=sys.stderr,
        )
        return 1
    try:
        python = environment.prepare()
    except environment.UnpreparedError as fault:
        print(f"tests: {fault}", file=sys.stderr)
        return 1
    return run_all(python, arguments)


def run_all(python: Path, arguments: Sequence[str]) -> int:
    commands = [(python, "-m", *check) for check in CHECKS]
    failed = [command for command in commands if environment.run(*command)]
    for command in failed:
        print(f"FAILED {shlex.join(str(word) for word in command)}", flush=True)
    return environment.run(python, "-m", "pytest", *SPREAD, *arguments) or int(bool(failed))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
