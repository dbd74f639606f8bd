"""What is killed: every command that writes, in a yard where each finds something to do."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from click.testing import CliRunner

from quoter.cli import main
from tests.catalogues.written import write_catalogue

SMALL = Path(__file__).parents[1] / "catalogues" / "small"


@dataclass(frozen=True, slots=True)
class Act:
    """A command, its words within a folder, and whether it writes several files one by one."""

    name: str
    words: tuple[str, ...]
    several: bool = False

    def within(self, root: Path) -> list[str]:
        """The words with the folder's own files for names in braces."""
        return [word.format(root=root) for word in self.words]


STATED = ("--on", "2026-02-12", "--chance", "60 %")
RISE = ("rise", "{root}/yard", "--supplier", "brisk", "--family", "polyester", "--by", "4 %")
ACTS = (
    Act(
        "import-prices",
        (
            *("import-prices", "{root}/yard", "{root}/prices.csv", "--supplier", "brisk"),
            *("--effective", "2026-03-01"),
        ),
    ),
    Act(
        "import-rates",
        ("import-rates", "{root}/yard", "{root}/rates.csv", "--effective", "2026-03-01"),
    ),
    Act(
        "rise",
        (
            *(*RISE, "--effective", "2026-03-01", "--state", "confirmed"),
            *("--dated", "2026-02-10", "--note", "letter"),
        ),
        several=True,
    ),
    Act(
        "reprice",
        ("reprice", "{root}/yard", "--accept", "--meant", "--effective", "2026-03-01"),
    ),
    Act(
        "quote",
        ("quote", "{root}/yard", "{root}/request.yaml", "--even-so", "--quotes", "{root}/quotes"),
    ),
    Act(
        "requote",
        (
            *("requote", "{root}/yard", "2026-0001", "--on", "2026-02-20", "--revise"),
            *("--quotes", "{root}/quotes"),
        ),
    ),
    Act(
        "outcome",
        (
            *("outcome", "2026-0001", "won", "--on", "2026-02-20", "--reason", "=the roof"),
            *("--quotes", "{root}/quotes"),
        ),
    ),
    Act(
        "sent",
        ("outcome", "2026-0001", "sent", *STATED, "--quotes", "{root}/quotes"),
    ),
    Act(
        "confirm",
        (
            *("confirm", "2026-0002", "--delivery", "2026-09-01", "--on", "2026-03-02"),
            *("--quotes", "{root}/quotes"),
        ),
    ),
    Act(
        "change-order",
        (
            *("requote", "{root}/yard", "2026-0002", "--on", "2026-03-02", "--change-order"),
            *("--even-so", "--quotes", "{root}/quotes"),
        ),
    ),
    Act("translations", ("translations", "{root}/yard"), several=True),
)

QUOTES = """
rate_file:
  headings: {date: Date}
  quoted: foreign per home
quotes:
  valid_for: 30
  payment: [Ten days after its invoice.]
  deposits: [{due: with the order, share: 100 %}]
  delivery: {term: EXW, named_place: Sundby, edition: Incoterms 2020}
  schemes: [{id: domestic, charged: yes}]
"""
SUPPLIER = "{id: brisk, name: Brisk Chemicals Wholesale, currency: EUR, freight: 2 %}\n"
LISTED = """id: brisk
    name: Brisk Chemicals Wholesale
    currency: EUR
    freight: 2 %
    price_file:
      headings: {code: Code, price: Price}
      per: kg
      codes:
        - {code: B-1, material: mat}
        - {code: B-2, material: hand_resin}
        - {code: B-3, material: injection_resin}
"""
REQUEST = """date: 2026-02-10
prepared_by: Ilsabet Harrow
market: home
buyer: direct
model: skiff
customer: {name: Mirelle Astrup}
"""


@cache
def template() -> Path:
    """A small yard that every command finds something to do in, and a quote and an order of it."""
    root = Path(tempfile.mkdtemp(prefix="killed."))
    atexit.register(shutil.rmtree, root)
    yard = (SMALL / "yard.yaml").read_text("utf-8")
    rounding = "  rounding: {step: 5 EUR, direction: up}\n"
    assert rounding in yard
    assert "prices: without tax}" in yard
    yard = yard.replace(
        rounding, rounding + "  repricing: {hold_within: 2 %, largest_step: 30 %}\n"
    )
    yard = yard.replace("Abroad, language: en", "Abroad, language: de, other_languages: [fr, nb]")
    materials = (SMALL / "materials.yaml").read_text("utf-8")
    for name in ("Hand resin", "Injection resin"):
        assert materials.count(f"    name: {name}\n") == 1
        materials = materials.replace(
            f"    name: {name}\n", f"    name: {name}\n    family: polyester\n"
        )
    files = {"yard.yaml": yard + QUOTES, "materials.yaml": materials}
    write_catalogue(root / "yard", files, {"suppliers.yaml": (SUPPLIER, LISTED)}, base=SMALL)
    (root / "prices.csv").write_text("Code,Price\nB-1,2.70\nB-2,3.45\nB-3,3.90\n", "utf-8")
    (root / "rates.csv").write_text("Date,GBP\n2026-02-28,0.87\n2026-03-01,0.88\n", "utf-8")
    (root / "request.yaml").write_text(REQUEST, "utf-8")
    quote = next(act for act in ACTS if act.name == "quote")
    won = ("outcome", "2026-0002", "won", "--on", "2026-03-01", "--quotes", "{root}/quotes")
    for act in (quote, quote, Act("order", won)):
        if ran(act, root):
            raise ValueError("the yard of the trial can't make a quote and an order")
    return root


def ran(act: Act, root: Path) -> int:
    """Run a command to its end within this process; its exit code."""
    result = CliRunner().invoke(main, act.within(root))
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code
