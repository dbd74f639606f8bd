"""`python3 -m tests.trials [--short] [NAME …]`: run trials and print a line of counts for each."""

from __future__ import annotations

import signal
import sys

from tests.trials.trial import every_trial


def main(arguments: list[str]) -> int:
    # As in conftest.py: a shell's background is deaf to it.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    short = "--short" in arguments
    wanted = [word for word in arguments if word != "--short"]
    failed = 0
    for trial in every_trial():
        if wanted and trial.name not in wanted:
            continue
        tried = trial.run(trial.short if short else trial.long)
        failed += len(tried.failed)
        print(f"{trial.name}: {tried.count} tried, {len(tried.failed)} failed. {trial.what}")
        for words in tried.failed:
            print(f"    {words}")
        sys.stdout.flush()
    return int(bool(failed))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
