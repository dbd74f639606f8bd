"""`python3 -m tests.benchmark [--size S|M|L] [--only NAME] [--keep]`: measure and print a table."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from quoter import __version__
from tests.benchmark import commands
from tests.benchmark.commands import Bench
from tests.benchmark.measured import calibration, elsewhere
from tests.benchmark.table import (
    BYTES,
    COUNT,
    RATE,
    SECONDS,
    TIMES,
    Kept,
    Line,
    Missing,
    keep,
    laid_out,
    last_release,
    rows_of,
    since,
)

LEAST_RATE = 250_000  # figures a second, after reading


def check(bench: Bench) -> Iterator[Line | Missing]:
    """Reading, costing and pricing alone; all there is of L in one piece."""
    found = elsewhere("stages:check", bench.yard)
    figures, cpu = found["counts"]["figures"], found["stages"]["cpu"]
    yield Line("boats and options priced", found["counts"]["priced"], COUNT)
    yield Line("figures behind them", figures, COUNT)
    yield from _seconds(found["stages"], "check: ")
    rate = figures / cpu["costing and pricing"]
    yield Line("check: figures costed and priced", rate, RATE, "at least", LEAST_RATE)
    yield Line("check: peak memory, in process", found["memory"], BYTES)


def stages(bench: Bench) -> Iterator[Line | Missing]:
    """A build by its stages, what it makes and the memory it holds."""
    found = elsewhere("stages:build", bench.yard)
    yield from _seconds(found["stages"], "")
    total = sum(found["stages"]["cpu"].values())
    yield Line("all stages", total, SECONDS)
    yield Line("all stages, peak memory", found["memory"], BYTES)
    for name, count in found["counts"].items():
        yield Line(name, count, BYTES if "bytes" in name else COUNT)


def _seconds(found: dict[str, dict[str, float]], before: str) -> Iterator[Line]:
    for name, cpu in found["cpu"].items():
        yield Line(before + name, cpu, SECONDS, remark=f"wall {found['wall'][name]:.2f} s")


def workbooks(bench: Bench) -> Iterator[Line | Missing]:
    """Workbooks from finished costing to bytes, over openpyxl's, and over the floor."""
    found = elsewhere("rivals:workbooks", bench.yard, bench.rounds)
    theirs = found["openpyxl"]
    yield Line("workbooks: cells", found["cells"], COUNT)
    yield Line("workbooks: ours", found["ours"], SECONDS)
    yield Line(OPENPYXL, theirs, SECONDS, remark="no values beside formulas")
    yield Line("workbooks: floor, joined and zipped", found["floor"], SECONDS)
    yield Line("workbooks: ours over openpyxl", found["ours"] / theirs, TIMES, "at most", 0.25)
    yield Line("workbooks: floor over openpyxl", found["floor"] / theirs, TIMES)


def pages(bench: Bench) -> Iterator[Line | Missing]:
    """Public files with their guard, over a plain loop in jinja2 that renders the same bytes."""
    found = elsewhere("rivals:pages", bench.yard, bench.rounds)
    loop, both = found["jinja2"], found["ours"] + found["guard"]
    yield Line("pages: bytes", found["bytes"], BYTES)
    yield Line("pages: ours", found["ours"], SECONDS)
    yield Line("pages: guard", found["guard"], SECONDS)
    yield Line("pages: plain loop in jinja2", loop, SECONDS)
    yield Line("pages: ours and guard over the loop", both / loop, TIMES, "at most", 4)
    yield Line("pages: guard over the loop", found["guard"] / loop, TIMES)


OPENPYXL = "workbooks: openpyxl"
PARTS: dict[str, Callable[[Bench], Iterable[Line | Missing]]] = {
    "check": check,
    "stages": stages,
    "workbooks": workbooks,
    "pages": pages,
    "commands": commands.commands,
    "one-boat": commands.one_boat,
    "rebuilds": commands.rebuilds,
    "workers": commands.workers,
    "preview": commands.preview,
    "page-size": commands.page_size,
    "growth": commands.growth,
}

# What is measured of each size unless parts are named. L is asked only what can be asked of it in
# pieces; how a yard grows does not depend on the size that is asked for.
USUAL = {
    "S": [name for name in PARTS if name != "one-boat"],
    "M": [name for name in PARTS if name not in ("page-size", "growth")],
    "L": ["check", "one-boat"],
}


def measured(bench: Bench, parts: Iterable[str]) -> Iterator[tuple[Line | Missing, float]]:
    """Each line of these parts with the calibration of its time: the mean of before and after."""
    before = calibration()
    for name in parts:
        print(f"measuring {name}: {_what(name)}", file=sys.stderr, flush=True)
        lines = list(PARTS[name](bench))
        after = calibration()
        yield from ((line, (before + after) / 2) for line in lines)
        before = after


def over_all(
    bench: Bench, lines: Iterable[tuple[Line | Missing, float]], kept: Kept
) -> Iterator[tuple[Line | Missing, float]]:
    """What takes two parts: a build over the last release's, or over what openpyxl needs alone."""
    by_name = {line.name: (line, seconds) for line, seconds in lines if isinstance(line, Line)}
    if "build" not in by_name:
        return
    build, seconds = by_name["build"]
    against = since(build, kept, bench.size, seconds)
    if bench.size == "S" and against is not None:
        yield Line("build over the last release's", against, TIMES, "at most", 0.2), seconds
    if OPENPYXL in by_name:
        ratio = build.value / by_name[OPENPYXL][0].value
        alone = Line("build over openpyxl alone", ratio, TIMES, "at most", 1)
        yield alone.aimed_if(bench.size == "M"), seconds


def main(words: list[str]) -> int:
    """Measure what is asked for and print the table; of a run that is stopped, what there is."""
    asked = _arguments(words)
    lines: list[tuple[Line | Missing, float]] = []
    with TemporaryDirectory() as scratch:
        rounds = asked.rounds or (3 if asked.size == "S" else 1)
        bench = Bench(asked.size, Path(scratch), rounds)
        try:
            for line in measured(bench, asked.only or USUAL[asked.size]):
                lines.append(line)
        finally:
            _print(bench, lines)
    if asked.keep:
        keep(__version__, asked.size, lines)
    return 0


def _print(bench: Bench, lines: list[tuple[Line | Missing, float]]) -> None:
    release, kept = last_release()
    load = "/".join(f"{each:.1f}" for each in os.getloadavg())
    seconds = ", ".join(f"{each:.3f} s" for each in sorted({each for _, each in lines}))
    print(f"size {bench.size}, release {__version__}, last one {release or 'none'}, load {load}")
    print(f"calibration {seconds}; seconds are of CPU\n")
    print(laid_out(rows_of([*lines, *over_all(bench, lines, kept)], kept, bench.size)))


def _arguments(words: list[str]) -> argparse.Namespace:
    parts = "\n".join(f"  {name:10} {_what(name)}" for name in PARTS)
    parser = argparse.ArgumentParser(
        prog="python3 -m tests.benchmark",
        description="Measure the program and print what was measured beside its targets.",
        epilog=f"parts:\n{parts}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--size", choices=("S", "M", "L"), default="S", help="of the yard")
    parser.add_argument(
        "--only", action="append", choices=PARTS, metavar="NAME", help="one part; may be repeated"
    )
    told = "of which the least counts (default: 3 at S, else 1)"
    parser.add_argument("--rounds", type=int, help=told)
    parser.add_argument(
        "--keep", action="store_true", help="keep what was measured as this release's figures"
    )
    return parser.parse_args(words)


def _what(name: str) -> str:
    """The first line of what a part is for."""
    return (PARTS[name].__doc__ or "").split("\n")[0]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
