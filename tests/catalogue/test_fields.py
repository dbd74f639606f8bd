"""What a text may mean in a field, and the words for one that means nothing there."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from pint import UnitRegistry
from pydantic import TypeAdapter, ValidationError

from quoter.catalogue import fields as f
from quoter.catalogue.fields import day_of, is_currency, is_identifier
from quoter.catalogue.materials import Glass
from quoter.catalogue.measures import Measure
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.source import Block, Items, Text
from quoter.catalogue.values import Maybe, Plain, Ref
from quoter.figures.graph import input_behind
from quoter.problems import Place
from quoter.units import NONE, quantity, unit

PLACE = Place("a.yaml", 3, 9, "key")


def text(words: str, since: str = "") -> Text:
    return Text.at(words, PLACE, "a.key", "thing, key", since)


def read(kind: Any, words: str) -> Any:
    return TypeAdapter(kind).validate_python(text(words))


def refusal(kind: Any, raw: object) -> tuple[str, str]:
    """What a fault says of a value, and what it advises."""
    with pytest.raises(ValidationError) as refused:
        TypeAdapter(kind).validate_python(raw)
    (error,) = refused.value.errors()
    assert error["type"] == "catalogue"
    return error["ctx"]["what"], error["ctx"]["hint"]


@pytest.mark.parametrize(
    ("kind", "words", "value", "base"),
    [
        (f.ArealMass, "450 g/m2", 0.45, "kg/m2"),
        (f.Length, "26 ft", 7.9248, "m"),
        (f.Duration, "45 min", 0.75, "h"),
        (f.Density, "1.20 kg/L", 1200.0, "kg/m3"),
        (f.Price, "4.10 EUR/kg", 4.10, "EUR/kg"),
        (f.MoneyEach, "5 EUR/pull", 5.0, "EUR"),
        (f.Pack, "220 kg", 220.0, "kg/pack"),
        (f.Amount, "7", 7.0, ""),
        (f.Whole, "010", 10.0, ""),  # never octal
        (f.Fraction, "12 %", 0.12, ""),
        (f.Fraction, "0.12", 0.12, ""),
        (f.Rate, "1.08 USD/EUR", 1.08, "USD/EUR"),
    ],
)
def test_a_quantity_is_in_base_units(kind: Any, words: str, value: float, base: str) -> None:
    figure = read(kind, words)
    assert figure.value == pytest.approx(value, rel=1e-15)
    assert figure.unit == unit(base)


def test_a_quantity_remembers_where_and_how_it_was_written() -> None:
    figure = read(f.ArealMass, "450 g/m2 (from the roll's label)")
    written = figure.args[0]
    assert (written.value, written.unit) == (450.0, unit("g/m2"))
    assert (figure.key, figure.label) == ("a.key.working", "thing, key")
    assert (written.key, written.origin.place) == ("a.key", PLACE)
    assert (written.origin.text, written.origin.note) == ("450 g/m2", "from the roll's label")


def test_a_quantity_of_a_dated_row_remembers_since_when_it_holds() -> None:
    figure: Any = TypeAdapter(f.Wage).validate_python(text("26 EUR/h", since="2026-11-01"))
    assert figure.origin.effective == "2026-11-01"


def test_a_percentage_is_shown_as_one() -> None:
    assert read(f.Fraction, "12 %").form == "percent"
    assert read(f.Fraction, "0.12").form == ""


@pytest.mark.parametrize(
    ("kind", "words", "what", "hint"),
    [
        (f.ArealMass, "450", "'450' needs a unit", "write for example '450 g/m2'"),
        (f.ArealMass, "no", "'no' does not begin with a number", "write for example '450 g/m2'"),
        (f.ArealMass, "450 gsm", "'450 gsm' has an unknown unit 'gsm'", "did you mean 'g/m2'?"),
        (
            f.ArealMass,
            "450 g/m",
            "'450 g/m' has the wrong kind of unit",
            "write for example '450 g/m2'",
        ),
        (f.Mass, "5 %", "'5 %' has the wrong kind of unit", "write for example '1.2 kg'"),
        (
            f.Number,
            "5 kg",
            "'5 kg' has a unit where a plain number belongs",
            "write for example '1.5'",
        ),
        (f.Length, "0 m", "'0 m' is out of range", "expected more than 0"),
        (f.Mass, "-1 kg", "'-1 kg' is out of range", "expected at least 0"),
        (
            f.Fraction,
            "30",
            "'30' is out of range",
            "expected at least 0 % and at most 100 %; is '30 %' meant?",
        ),
        (
            f.Fraction,
            "130 %",
            "'130 %' is out of range",
            "expected at least 0 % and at most 100 %",
        ),
        (f.Loss, "100 %", "'100 %' is out of range", "expected at least 0 % and less than 100 %"),
        (f.Passed, "0 %", "'0 %' is out of range", "expected more than 0 % and at most 100 %"),
        (f.Whole, "2.5", "'2.5' is not a whole number", "write for example '4'"),
        (f.Whole, "0", "'0' is out of range", "expected at least 1"),
        (f.Length, "  ", "has no value", "write one, for example '720 mm'"),
        (
            f.Length,
            "1 m (a (b))",
            "'1 m (a (b))' has parentheses within each other or apart",
            "one note in parentheses may follow: '720 mm (note)'",
        ),
        (f.Words, " ", "has no value", "write a text"),
        (f.Words, "x" * 2001, f"'{'x' * 59}…' has 2001 characters", "at most 2000 characters fit"),
        (
            f.Identifier,
            "010",
            "'010' can't serve as an id",
            "use small letters, digits and '_', a letter first, at most 40 characters",
        ),
        (
            f.Currency,
            "euro",
            "'euro' is no currency code",
            "write the three letters of a currency, for example 'EUR'",
        ),
        (
            f.Day,
            "2026-02-30",
            "'2026-02-30' is a day that does not exist",
            "write an existing day as year-month-day, for example '2026-11-01'",
        ),
        (
            f.Day,
            "20261101",
            "'20261101' is not a date",
            "write an existing day as year-month-day, for example '2026-11-01'",
        ),
        (f.Truth, "off", "'off' is neither yes nor no", "write 'yes' or 'no'"),
    ],
)
def test_a_refusal_has_a_finding_and_advice(kind: Any, words: str, what: str, hint: str) -> None:
    assert refusal(kind, text(words)) == (what, hint)


def test_one_value_is_neither_keys_nor_a_list() -> None:
    advice = "write a single value after the key"
    assert refusal(f.Mass, Block.at(PLACE)) == ("holds keys where one value belongs", advice)
    assert refusal(f.Mass, Items()) == ("holds a list where one value belongs", advice)


def test_a_list_is_not_one_value() -> None:
    advice = "begin each item with '- ', or write [one, two]"
    assert refusal(Many[f.Words], text("one")) == ("'one' is not a list", advice)
    assert refusal(Many[f.Words], text("")) == ("has no value", advice)
    assert refusal(Many[f.Words], Block.at(PLACE)) == ("holds keys where a list belongs", advice)


class Lid(CatalogueRecord):
    """A record to try."""

    width: f.Length


def test_a_record_is_made_of_keys() -> None:
    advice = "write keys with values, for example 'width: …'"
    assert refusal(Lid, text("5 m")) == ("holds '5 m' where keys belong", advice)
    assert refusal(Lid, text("")) == ("holds nothing where keys belong", advice)
    assert refusal(Lid, Items()) == ("holds a list where keys belong", advice)


def test_a_record_knows_its_place_and_stays_as_it_is() -> None:
    block = Block.at(PLACE)
    block["width"] = text("5 m")
    lid = TypeAdapter(Lid).validate_python(block)
    assert lid.place == PLACE
    with pytest.raises(ValidationError, match="Instance is frozen"):
        lid.width = lid.width


def test_a_choice_is_one_of_its_words() -> None:
    choice = f.choice("mat", "veil")
    assert choice(text("veil")) == "veil"
    assert choice.schema() == {"type": "string", "enum": ["mat", "veil"]}


def test_a_reference_keeps_its_place_and_is_named_by_what_it_may_be() -> None:
    word = f.ref("resin")(text("resin_lam"))
    assert (str(word), word.place) == ("resin_lam", PLACE)
    assert Ref(("resin",)).named == "resin"
    assert Ref(("foam_component",)).named == "foam component"
    assert Ref(("bought",)).named == "bought item"
    assert Ref(("gelcoat", "hull colour")).named == "gelcoat"
    assert Ref(("open_mould", "closed_mould", "core")).named == "part"


def test_a_cell_may_be_left_empty_where_a_field_says_so() -> None:
    maybe = Maybe(f.measure("40", "each", low=0.0))
    assert maybe(text(" ")) is None
    figure: Any = maybe(text("12"))
    assert (figure.value, figure.unit) == (12.0, NONE)


def test_days_ids_and_currencies_are_told_from_other_texts() -> None:
    assert day_of("2026-11-01") == date(2026, 11, 1)
    assert [day_of(words) for words in ("2026-W45-1", "2026-13-01", "1.11.2026", "")] == [None] * 4
    assert is_identifier(text("no"))  # a text here, whatever other YAML readers make of it
    assert not any(is_identifier(text(words)) for words in ("010", "12:30", "1e3", "Lid", "", "é"))
    assert not is_identifier(Items())
    assert is_currency("EUR")
    assert not any(map(is_currency, ("ERU", "eur", "")))


def test_a_field_describes_itself_to_editors() -> None:
    measure = f.measure("450 g/m2", "kg/m2")
    assert isinstance(measure, Measure)
    described = measure.schema()
    assert (described["type"], described["examples"]) == ("string", ["450 g/m2"])
    assert f.measure("4", "each").schema()["type"] == ["string", "number"]
    assert Plain(lambda words: words).schema()["type"] == ("string", "number", "boolean")


# Mat by the square foot, woven and stitched glass by the square yard (common practice, no source);
# a square yard is nine square feet (NIST Handbook 44, Appendix C).
@pytest.mark.parametrize(
    ("form", "words", "meant"),
    [
        ("mat", "1.5 oz", "1.5 oz/ft2"),
        ("mat", "3/4 oz (by the label)", "0.75 oz/ft2"),
        ("mat", "1.5 oz [1.4 to 1.6]", "1.5 oz/ft2"),
        ("woven", "24 oz", "24 oz/yd2"),
        ("stitched", "17 oz", "17 oz/yd2"),
        ("woven", "10 oz/ft2", "10 oz/ft2"),
        ("mat", "450 g/m2", "450 g/m2"),
    ],
)
def test_a_glass_named_in_ounces_is_by_the_area_its_form_is_sold_by(
    form: str, words: str, meant: str
) -> None:
    block = Block.at(Place("materials.yaml", 3))
    written = {"id": "glass", "name": "Glass", "form": form, "areal_mass": words}
    for key, value in (written | {"glass_content": "30 %"}).items():
        block[key] = text(value)
    found = Glass.model_validate(block).areal_mass
    given, by_area = input_behind(found), quantity(meant)
    assert (given.value, given.unit) == (by_area.number, by_area.unit)
    assert given.origin is not None
    assert given.origin.text == words.partition(" (")[0].partition(" [")[0]
    pint = UnitRegistry().Quantity(by_area.number, str(by_area.unit).replace("2", "**2"))
    assert found.value == pytest.approx(pint.to("kg/m**2").magnitude, rel=1e-12)
