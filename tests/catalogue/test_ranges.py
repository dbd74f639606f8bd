"""Ranges behind values: `4.10 EUR/kg [3.80 to 4.60]`, as the catalogue reads them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from quoter.catalogue import fields as f
from quoter.catalogue.load import load_catalogue
from quoter.catalogue.source import Text
from quoter.figures import Figure, Origin
from quoter.problems import Place
from tests.catalogues.written import write_catalogue
from tests.figures.made import written


def read(kind: Any, words: str) -> Figure:
    text = Text.at(words, Place("a.yaml", 3, 9, "key"), "a.key", "thing, key", "")
    figure = TypeAdapter(kind).validate_python(text)
    assert isinstance(figure, Figure)
    return figure


def origin_of(figure: Figure) -> Origin:
    found = written(figure).origin
    assert found is not None
    return found


def refusal(kind: Any, words: str) -> tuple[str, str]:
    with pytest.raises(ValidationError) as refused:
        read(kind, words)
    (error,) = refused.value.errors()
    return error["ctx"]["what"], error["ctx"]["hint"]


READ = [
    (f.Price, "4.10 EUR/kg [3.80 to 4.60]", 4.10, 3.80, 4.60, "three-point"),
    (f.Price, "4.10 EUR/kg [3.80 to 4.60 triangular]", 4.10, 3.80, 4.60, "triangular"),
    (f.Duration, "45 min [30 to 70]", 0.75, 30.0, 70.0, "three-point"),
    (f.Fraction, "12 % [8 to 20]", 0.12, 0.08, 0.20, "three-point"),
    (f.Fraction, "0.12 [0.08 to 0.2]", 0.12, 0.08, 0.20, "three-point"),
    (f.Length, "26 ft [25.5 to 26]", 7.9248, 25.5, 26.0, "three-point"),
    (f.Whole, "60 [40 to 80]", 60.0, 40.0, 80.0, "three-point"),
    (f.Money, "0 EUR [0 to 500]", 0.0, 0.0, 500.0, "three-point"),
    (f.Passed, "97 % [95 to 100]", 0.97, 0.95, 1.0, "three-point"),
    (f.Length, "18 ft 4 in [18 ft 2 in to 18 ft 6 in]", 5.588, 218.0, 222.0, "three-point"),
    (f.Length, "18' 4\" [218 to 222]", 5.588, 218.0, 222.0, "three-point"),
    (f.Length, "1 1/2 in [1 1/4 to 1 3/4]", 0.0381, 1.25, 1.75, "three-point"),
]


@pytest.mark.parametrize(("kind", "words", "value", "low", "high", "shape"), READ)
def test_a_range_is_in_the_unit_of_its_value(
    kind: Any, words: str, value: float, low: float, high: float, shape: str
) -> None:
    figure = read(kind, words)
    origin = origin_of(figure)
    assert figure.value == pytest.approx(value, rel=1e-12)
    assert [origin.low, origin.high] == pytest.approx([low, high], rel=1e-12)
    assert origin.spread == shape
    assert origin.text == words[: words.index(" [")]
    assert low - 1e-12 <= written(figure).value <= high + 1e-12


def test_a_note_may_follow_a_range() -> None:
    origin = origin_of(read(f.Price, "4.10 EUR/kg [3.80 to 4.60] (quoted by two)"))
    assert (origin.low, origin.high, origin.note) == (3.80, 4.60, "quoted by two")


def test_a_value_without_a_range_is_sure() -> None:
    origin = origin_of(read(f.Price, "4.10 EUR/kg (list)"))
    assert (origin.low, origin.high) == (None, None)


WITHIN = "write the low end first, and the likely value between the two"
PLAIN = "write two numbers, '[3.80 to 4.60]'"
SHAPED = "write '4.10 EUR/kg [3.80 to 4.60]', or '[3.80 to 4.60 triangular]'"
REFUSED = [
    *(
        (f.Price, f"4 EUR/kg {words}", f"'{words}' does not hold '4 EUR/kg'", WITHIN)
        for words in ("[5 to 6]", "[2 to 3]", "[6 to 3]", "[4 to 4]")
    ),
    *(
        (f.Price, f"4 EUR/kg {words}", f"'{words}' is no range", PLAIN)
        for words in ("[3,5 to 5]", "[three to 5]", "[3 to five]", "[3 to 5e1]")
    ),
    *(
        (f.Price, words, f"'{words}' has brackets that give no range", SHAPED)
        for words in (
            "4 EUR/kg [3 - 5]",
            "4 EUR/kg [3 to 5 beta]",
            "4 EUR/kg [3 to 5] [1 to 9]",
            "4 EUR/kg [3 to 5",
            "4 EUR/kg []",
            "[3 to 5] 4 EUR/kg",
        )
    ),
    (f.Price, "4 EUR/kg [-1 to 5]", "'[-1 to 5]' is out of range", "expected at least 0"),
    (
        f.Passed,
        "97 % [95 to 101]",
        "'[95 to 101]' is out of range",
        "expected more than 0 % and at most 100 %",
    ),
    (f.Whole, "4 [3 to 5.5]", "'[3 to 5.5]' is not a whole number", "write for example '4'"),
]


@pytest.mark.parametrize(("kind", "words", "what", "hint"), REFUSED)
def test_a_range_that_gives_none_is_refused(kind: Any, words: str, what: str, hint: str) -> None:
    assert refusal(kind, words) == (what, hint)


def test_a_price_list_may_give_a_range(tmp_path: Path) -> None:
    row = ("5.25 USD/lb,", "5.25 USD/lb [4.50 to 7.00] (two offers),")
    folder = write_catalogue(tmp_path / "c", {}, {"prices/2026-01-01.csv": row})
    catalogue, _ = load_catalogue(folder)
    origin = origin_of(catalogue.prices["direct_material"].price)
    assert (origin.low, origin.high, origin.effective) == (4.50, 7.00, "2026-01-01")
    assert origin.note.startswith("two offers")
