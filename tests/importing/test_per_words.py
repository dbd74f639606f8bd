"""What a price is for, as suppliers write it, and that it is that by exact decimals elsewhere."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from babel.numbers import list_currencies
from pint import UnitRegistry

from quoter.catalogue.reading import read
from quoter.catalogue.received import PriceFile
from quoter.catalogue.source import Block, Items, Sources, Text
from quoter.importing.cells import CellFault
from quoter.importing.per_words import parted, said_in_heading, unit_in
from quoter.problems import Place, Problems
from quoter.spellings import AMBIGUOUS, MEANT, SENT_IN_TWO
from quoter.units import SYMBOLS, quantity, to_base, unit

HERE = Place("suppliers.yaml", 26, 7)


def price_file(decimal: str, **units: str) -> PriceFile:
    """What the catalogue says of a supplier's file that has words of its own for units."""
    block = _block(headings=_block(code="Item", price="Price"), per="kg", decimal=decimal)
    block["codes"] = Items()
    block["units"] = Items(_block(word=word, means=means) for word, means in units.items())
    made = read(Sources(Path(), Problems()), PriceFile, block)
    assert made is not None
    return made


def _block(**keys: str | Block) -> Block:
    block = Block.at(HERE)
    for key, value in keys.items():
        block[key] = Text.at(value, HERE) if isinstance(value, str) else value
    return block


POINT, COMMA = price_file("point", DRM="gal"), price_file("comma")
HOME = "'units' at suppliers.yaml:26:7"

# Written by suppliers -> what pint calls it and how many of that. A pound is 0.45359237 kg, a US
# gallon 3.785411784 L, a short hundredweight 45.359237 kg and a long one 50.80234544 kg: NIST
# Special Publication 811 (2008), appendix B.8; pint's definitions are of the same.
MEASURED = [
    ("100 kg", 100, "kg"),
    ("per 100 kg", 100, "kg"),
    ("/100kg", 100, "kg"),
    ("100 KG", 100, "kg"),
    ("kgs", 1, "kg"),
    ("Kg.", 1, "kg"),
    ("LBS.", 1, "lb"),
    ("100 lbs", 100, "lb"),
    ("short cwt", 1, "US_hundredweight"),
    ("US cwt", 1, "US_hundredweight"),
    ("Long Cwt.", 1, "UK_hundredweight"),
    ("2 long cwt", 2, "UK_hundredweight"),
    ("oz.", 1, "oz"),
    ("gal.", 1, "US_liquid_gallon"),
    ("gals", 1, "US_liquid_gallon"),
    ("US Gal.", 1, "US_liquid_gallon"),
    ("5 gal pail", 5, "US_liquid_gallon"),
    ("fl. oz.", 1, "US_fluid_ounce"),
    ("Ltr.", 1, "L"),
    ("litres", 1, "L"),
    ("l", 1, "L"),
    ("m²", 1, "m**2"),
    ("qm", 1, "m**2"),
    ("sq. ft.", 1, "ft**2"),
    ("100 sqft", 100, "ft**2"),
    ("sqyd", 1, "yd**2"),
    ("lfm", 1, "m"),
    ("lfd. m", 1, "m"),
    ("rm", 1, "m"),
    ("running metre", 1, "m"),
    ("lin. ft", 1, "ft"),
    ("roll of 50 m", 50, "m"),
    ("drum of 200 kg", 200, "kg"),
    ("drum (200 kg)", 200, "kg"),
    ("25 kg bag", 25, "kg"),
    ("cartridge of 310 ml", "0.310", "L"),
    ("carton of 12 cartridges of 310 ml", "3.72", "L"),
    ("ctn 12 x 310 ml", "3.72", "L"),
    ("Carton/12x310ml", "3.72", "L"),
    ("case of 24 oz", 24, "oz"),
]


def size_of(per: str) -> Decimal:
    return to_base(unit(per))[1]


@pytest.mark.parametrize(("written", "number", "name"), MEASURED)
def test_what_a_price_is_for_is_as_much_as_pint_says(
    written: str, number: int | str, name: str
) -> None:
    """In exact decimals, also once the price is read from the list it is written to."""
    per = unit_in(written, POINT)
    one = UnitRegistry(non_int_type=Decimal).Quantity(Decimal(number), name)
    bases = {"kg": "kg", "m": "m", "m2": "m**2", "m3": "m**3"}
    exact = one.to(bases[str(to_base(unit(per))[0])]).magnitude
    assert abs(size_of(per) / exact - 1) < Decimal("1e-25")
    price = quantity(f"89.10 EUR/{per}")
    assert price.number * float(price.factor) == pytest.approx(float(Decimal("89.10") / exact))


@pytest.mark.parametrize(
    ("file", "written", "per"),
    [
        (POINT, "pcs.", "pcs"),
        (POINT, "ea", "each"),
        (POINT, "PC", "each"),
        (POINT, "St.", "each"),
        (COMMA, "Stk.", "each"),
        (COMMA, "Stück", "each"),
        (POINT, "/100", "100 each"),
        (POINT, "100 ea.", "100 each"),
        (POINT, "1000", "1000 each"),
        (POINT, "per 1,000 pcs", "1000 pcs"),
        (POINT, "1,000", "1000 each"),
        (COMMA, "1.000 Stk.", "1000 each"),
        (COMMA, "1,000 Stk.", "each"),  # three decimals of one, as programs print them
        (POINT, "PE 100", "100 each"),
        (POINT, "box of 100 pcs", "100 pcs"),
        (POINT, "BOX/100", "100 each"),
        (POINT, "pr", "pair"),
        (POINT, "100 pairs", "100 pair"),
        (POINT, "per ctn", "carton"),
        (COMMA, "pro Fass", "drum"),
        (COMMA, "EUR je 100 kg", "100 kg"),
        (COMMA, "EUR/100 kg", "100 kg"),
        (COMMA, "Karton mit 12 Kartuschen à 0,31 l", "3.72 L"),
        (COMMA, "25kg-Sack", "25 kg"),
        (POINT, "10 rolls", "10 roll"),
        (POINT, "Drm", "gal"),  # the file's own word comes first
        (POINT, "2 Drm", "2 gal"),
    ],
)
def test_pieces_packs_and_the_suppliers_own_words(file: PriceFile, written: str, per: str) -> None:
    assert unit_in(written, file) == per


TWO = "may be two units"
SHORT_OR_LONG = "a short one is 100 lb ('short cwt'), a long one 112 lb ('long cwt')"
REFUSED = [
    ("cwt", TWO, f"{SHORT_OR_LONG}: say under {HOME} which is meant"),
    ("CWT.", TWO, f"{SHORT_OR_LONG}: say under {HOME} which is meant"),
    ("100 Hundredweight", TWO, f"{SHORT_OR_LONG}: say under {HOME} which is meant"),
    ("Ztr", TWO,
     f"it is 50 kg in some places and 100 kg in others: say under {HOME} which is meant"),
    ("tons", TWO, "write 't' for 1000 kg, or '2000 lb' for a ton of the US: "
     f"say under {HOME} which is meant"),
    ("imp. gal", TWO, "'gal' is that of the US; a British one is '4.54609 L': "
     f"say under {HOME} which is meant"),
    ("carton of 12 cartridges", "does not say what a cartridge holds",
     f"say so, such as 'carton of 12 x 310 mL', or write it under {HOME}"),
]  # fmt: skip


@pytest.mark.parametrize(("written", "what", "hint"), REFUSED)
def test_what_may_be_two_units_is_refused_with_what_to_write(
    written: str, what: str, hint: str
) -> None:
    with pytest.raises(CellFault) as refused:
        unit_in(written, POINT)
    assert (refused.value.what, refused.value.hint) == (f"'{written}' {what}", hint)


@pytest.mark.parametrize(
    "written", ["M", "C", "12 310 ml", "10 x", "each 100", "per", "carton x 12 x 310 ml", "0 kg"]
)
def test_what_says_nothing_clear_is_unknown(written: str) -> None:
    with pytest.raises(CellFault) as refused:
        unit_in(written, POINT)
    assert refused.value.what == f"unknown unit '{written}'"


def test_a_hundredweight_is_what_the_suppliers_habit_says() -> None:
    assert unit_in("cwt", price_file("point", cwt="112 lb")) == "112 lb"
    assert unit_in("per CWT", price_file("point", cwt="cwt")) == "cwt"
    assert size_of("112 lb") == Decimal("50.80234544")


def test_every_spelling_is_of_one_unit_that_exists() -> None:
    for spelt, symbol in MEANT.items():
        assert spelt == " ".join(spelt.replace(".", " ").split()).lower()
        assert spelt not in {*AMBIGUOUS, *SENT_IN_TWO}
        assert SYMBOLS.get(spelt, symbol) == symbol
        assert symbol == "%" or to_base(unit(symbol))


def test_a_spelling_hides_no_currency_but_one_that_is_read_all_the_same() -> None:
    codes = {code.lower() for code in list_currencies()}
    assert codes & {*MEANT, *AMBIGUOUS, *SENT_IN_TWO} == {"kgs"}
    assert unit("KGS/kg").currencies == ("KGS",)


@pytest.mark.parametrize(
    ("text", "amount", "per"),
    [
        ("245.00 EUR / 100 kg", "245.00 EUR", "/ 100 kg"),
        ("2.19/lb", "2.19", "/lb"),
        ("$ 48.50 per US gal", "$ 48.50", "per US gal"),
        ("1 200,50 €/Karton 12 x 310 ml", "1 200,50 €", "/Karton 12 x 310 ml"),
        ("48.50", "48.50", ""),
        ("n/a", "n/a", ""),
        ("12.00 perhaps", "12.00 perhaps", ""),
    ],
)
def test_a_price_may_say_in_its_cell_what_it_is_for(text: str, amount: str, per: str) -> None:
    assert parted(text) == (amount, per)


@pytest.mark.parametrize(
    ("heading", "per"),
    [
        ("EUR/100 kg", "100 kg"),
        ("Preis je 100 kg netto", "100 kg"),
        ("Price per 1,000", "1000 each"),
        ("Preis EUR/kg", "kg"),
        ("Preis/Price", ""),
        ("Price", ""),
    ],
)
def test_a_heading_says_what_its_prices_are_for_or_nothing(heading: str, per: str) -> None:
    assert said_in_heading(heading, POINT) == per
