"""What if this were so: values set on the command line, applied while a catalogue is read.

`KEY=VALUE`, where a key is that of a single value of a YAML file, or one of these:

    class.CLASS=+10%                     every price of a material class
    price.MATERIAL=3.90 EUR/kg or +5%    one price
    wages=+4%                            every wage
    wage.GROUP=25.40 EUR/h or +3%        one wage
    rate.CURRENCY=1.02                   how much of it one unit of home money buys
    currency.CURRENCY=+5%                that currency, dearer in home money
    units=US                             which units are read; nothing is costed otherwise

A percentage multiplies what is in force; one of many comes on top of what is set for one of them.
Files and dated lines stay as they are: what changes is what is in force on the day asked about.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TypeVar

from quoter.catalogue.checks_ids import figure_place
from quoter.catalogue.checks_prices import check_exchange, price_faults
from quoter.catalogue.checks_yard import check_home_currency
from quoter.catalogue.day import asked_day
from quoter.catalogue.materials import material_class
from quoter.catalogue.prices import Catalogue, newest, quotes, rate_key, wage_key
from quoter.catalogue.reading import read
from quoter.catalogue.records import MATERIAL_KINDS, Records
from quoter.catalogue.source import Block, Sources, Text
from quoter.catalogue.tables import ExchangeRow, PriceRow, WageRow
from quoter.figures import Figure, Origin, entered
from quoter.figures.graph import input_behind
from quoter.figures.readers import CHOICES
from quoter.phrases import phrase
from quoter.problems import UNPRINTABLE, Place, Problem, Problems, closest, quoted, unprintable
from quoter.units import NONE, Quantity, UnitError, quantity

UNITS = "units"
COMMAND_LINE = "--set"  # stands for the file that a setting's place is in
FORMS = "class.CLASS, price.MATERIAL, wages, wage.GROUP, rate.CURRENCY, currency.CURRENCY"
OF_MANY, OF_ONE = ("class", "wages", "currency"), ("price", "wage")  # what a percentage changes
_CHANGE = re.compile(r"([+-]) ?([0-9.]+) ?%\Z")
_RELATIVE = re.compile(r"(\+ ?[0-9.]+ ?([%A-Za-z].*)?|- ?[0-9.]+ ?%)\Z")
Row = TypeVar("Row", PriceRow, WageRow, ExchangeRow)


def read_settings(words: Sequence[str], problems: Problems) -> dict[str, Text]:
    """Key -> value as set, each with its place: which of the settings, and where in it."""
    found: dict[str, Text] = {}
    for number, whole in enumerate(words, 1):
        before, sign, after = whole.partition("=")
        key, value = before.strip(), after.strip()
        start = Place(COMMAND_LINE, number, 1, key)
        column = len(before) + 2 + len(after) - len(after.lstrip())
        text = Text.at(value, replace(start, column=column), key, key)
        if bad := UNPRINTABLE.search(whole) or re.search(r"[\n\t]", whole):
            place = replace(start, column=bad.start() + 1)
            problems.add(place, "unprintable", unprintable(bad), "remove it")
        elif not sign or not key:
            what = f"{quoted(whole)} is not KEY=VALUE"
            problems.add(start, "bad-setting", what, "write for example 'class.resin=+10%'")
        elif key in found:
            problems.add(
                start, "written-twice", f"{quoted(key)} is set twice", "keep one of the two"
            )
        elif fault := _misplaced_sign(text):
            problems.add(text.place, fault.code, fault.what, fault.hint)
        else:
            found[key] = text
    return found


def asked_units(given: dict[str, Text], problems: Problems) -> str:
    """The units that a reader asks for in place of the yard's own, taken from what is given."""
    asked = given.pop(UNITS, None)
    if asked is None or asked in CHOICES:
        return str(asked or "")
    hint = "expected " + ", ".join(f"'{choice}'" for choice in CHOICES)
    problems.add(asked.place, "unknown-word", f"unknown units {quoted(asked)}", hint)
    return ""


def lines_of(words: Iterable[str]) -> list[str]:
    """The settings as the lines that problems of them quote."""
    return [re.sub(r"\s", " ", whole) for whole in words]


def _misplaced_sign(text: Text) -> UnitError | None:
    """A change in per cent where a value belongs, or the other way round."""
    form, _, id = text.key.partition(".")
    if form in OF_MANY or (form in OF_ONE and text[:1] in ("+", "-")):
        try:
            _change(text)
        except UnitError as fault:
            return fault
    elif _RELATIVE.match(text) and form not in OF_ONE:
        hint = "only prices, wages and currencies change by a percentage: write the value itself"
        if form == "rate":
            hint = f"write the rate itself, or how much dearer it is: 'currency.{id}=+5%'"
        return UnitError("bad-setting", f"{quoted(text)} is a change where a value belongs", hint)
    return None


def _change(text: Text) -> Quantity:
    match = _CHANGE.match(text)
    if match is None:
        what = f"{quoted(text)} is no rise or fall in per cent" if text else "there is no value"
        hint = "write for example '+10%' or '-5%'"
        if text.key.partition(".")[0] in OF_ONE:
            hint += ", or the new amount without a sign"
        raise UnitError("bad-setting", what, hint)
    found = quantity(f"{match[1]}{match[2]} %")
    if found.number <= -1:
        raise UnitError(
            "bad-setting", f"{quoted(text)} takes all of it away", "expected more than -100 %"
        )
    return found


def apply_settings(
    given: Mapping[str, Text],
    sources: Sources,
    records: Records,
    catalogue: Catalogue | None,
    as_of: date | None,
    problems: Problems,
) -> Catalogue | None:
    """The catalogue with other prices, wages and rates in force; what is wrong is recorded.

    Values of YAML files were set as these were read; here only their keys are checked. Where the
    catalogue could not be resolved, settings are still read for what is wrong with them.
    """
    if not given:
        return catalogue
    day = asked_day(records, as_of)
    told = quotes(records, day)
    made = _InForce(
        sources,
        records,
        problems,
        {id: rows[0] for id, rows in told.items()},
        newest(records.wages, day, wage_key),
        newest(records.exchange, day, rate_key),
    )
    for text in given.values():
        made.check_key(text)
    for text in sorted(given.values(), key=lambda text: text.key.partition(".")[0] in OF_MANY):
        made.apply(text, day)
    problems.extend(made.faults(day))
    if catalogue is None:
        return None
    return replace(
        catalogue,
        prices=made.prices,
        wages=made.wages,
        exchange=made.exchange,
        settings={key: str(text) for key, text in given.items()},
    )


@dataclass(slots=True)
class _InForce:
    """The rows in force while settings change them; `written` are those with a new amount."""

    sources: Sources
    records: Records
    problems: Problems
    prices: dict[str, PriceRow]
    wages: dict[str, WageRow]
    exchange: dict[str, ExchangeRow]
    written: list[PriceRow | WageRow | ExchangeRow] = field(default_factory=list)

    def check_key(self, text: Text) -> None:
        """Record a key that is none, with the nearest that is one."""
        form, _, id = text.key.partition(".")
        forms, values = self._keys(), self.sources.scalars
        if text.key in forms or text.key in values or self._may_be_unread(form, id):
            return
        place = replace(text.place, column=1)
        inner = next((key for key in values if key.startswith(f"{text.key}.")), "")
        if inner:
            what = f"{quoted(text.key)} is no single value"
            self.problems.add(
                place, "bad-setting", what, f"set one that it holds, such as '{inner}'"
            )
            return
        near = closest(text.key, [*forms, *values])
        hint = f"did you mean '{near}'?" if near else f"set a value of a YAML file, or {FORMS}"
        self.problems.add(place, "unknown-key", f"unknown key {quoted(text.key)}", hint)

    def _keys(self) -> list[str]:
        """Every key that is not one of a YAML file."""
        records = self.records
        codes = dict.fromkeys(str(row.currency) for row in records.exchange)
        return [
            "wages",
            *(f"class.{material_class(material)}" for material in records.materials.values()),
            *(f"price.{id}" for id in records.materials),
            *(f"wage.{row.group}" for row in records.wages),
            *(f"{form}.{code}" for code in codes for form in ("rate", "currency")),
        ]

    def _may_be_unread(self, form: str, id: str) -> bool:
        """Whether the key may be of something that could not be read, which is told elsewhere."""
        unread, kinds = self.records.unread, self.records.ids
        if form == "price":
            return not self.records.lacks(MATERIAL_KINDS, id)
        if form == "class":
            listed = {id for kind in MATERIAL_KINDS for id in kinds.get(kind, {})}
            return bool(unread.kinds.intersection(MATERIAL_KINDS)) or listed > {
                *self.records.materials
            }
        table = {"wage": "WageRow", "rate": "ExchangeRow", "currency": "ExchangeRow"}.get(form)
        return f"{form}.yaml" in self.sources.doubtful or (
            table is not None and unread.may_hold(table, id)
        )

    def apply(self, text: Text, day: date) -> None:
        """Apply one setting of what is in force."""
        form, _, id = text.key.partition(".")
        materials = self.records.materials
        if form == "class":
            of_class = [key for key in self.prices if material_class(materials[key]) == id]
            self._change(text, self.prices, "price", of_class, f"{id} prices")
        elif form == "price" and id in self.prices:
            self._set(text, self.prices, "price", id, f"price of {materials[id].name}")
        elif text.key == "wages":
            self._change(text, self.wages, "wage", list(self.wages), "wages")
        elif form == "wage" and id in self.wages:
            self._set(text, self.wages, "wage", id, f"wage of {id}")
        elif form in ("rate", "currency") and id in self.exchange:
            self._set(text, self.exchange, "rate", id, f"{id} in home money")
        elif text.key in self._keys() and form != "price":  # whose lack is told already
            what = f"nothing of {quoted(text.key)} is in force on {day}"
            self.problems.add(
                replace(text.place, column=1), "bad-setting", what, "choose a later day"
            )

    def _set(self, text: Text, rows: dict[str, Row], name: str, id: str, called: str) -> None:
        if text[:1] in ("+", "-") and text.key.partition(".")[0] != "rate":
            self._change(text, rows, name, [id], called)
        else:
            self._write(text, rows, name, id)

    def _change(
        self, text: Text, rows: dict[str, Row], name: str, ids: Iterable[str], called: str
    ) -> None:
        """Multiply the amounts of rows by one change; a rate falls as its currency gets dearer."""
        origin = Origin(text.place, str(text))
        change = entered(_change(text), f"set.{text.key}", f"{called}: change", origin)
        for id in ids:
            old: Figure = getattr(rows[id], name)
            new = old / (1 + change) if name == "rate" else old * (1 + change)
            new = new.named(
                f"{old.key.removesuffix('.working')}.set",
                phrase("{label}, as set", label=old.label),
            )
            rows[id] = rows[id].model_copy(update={name: new})

    def _write(self, text: Text, rows: dict[str, Row], name: str, id: str) -> None:
        """Read a row again with another amount, as if its line said so."""
        row, old = rows[id], input_behind(getattr(rows[id], name))
        block = Block.at(row.place)
        for column in type(row).model_fields:
            value = getattr(row, column)
            block[column] = value if isinstance(value, Text) else Text.at(str(value), row.place)
        words = self._with_unit(text, id) if name == "rate" else str(text)
        block[name] = Text.at(words, text.place, old.key, old.label)
        block[name].was = old.origin.text if old.origin is not None else ""
        found = read(self.sources, type(row), block)
        if found is not None:
            rows[id] = found
            self.written.append(found)

    def _with_unit(self, text: Text, code: str) -> str:
        """A rate with its unit, which need not be written here; a range or note may follow it."""
        number, _, after = text.partition(" ")
        if after and after[0] not in "[(":
            return str(text)
        try:
            bare = quantity(number).unit == NONE
        except UnitError:
            bare = False
        return f"{number} {code}/{self.records.home} {after}".rstrip() if bare else str(text)

    def faults(self, day: date) -> Iterator[Problem]:
        """What the ordinary rules say of the new amounts."""
        prices = [row for row in self.written if isinstance(row, PriceRow)]
        alone = replace(
            self.records,
            yard=None,
            by_kind={},
            price_lists={day: prices},
            exchange=[row for row in self.written if isinstance(row, ExchangeRow)],
            wages=[row for row in self.written if isinstance(row, WageRow)],
            volumes=[],
            book=[],
            editions=[],
            indices=[],
            rises=[],
            accepted=[],
        )
        yield from check_home_currency(alone)
        yield from check_exchange(alone)
        for row in prices:
            yield from price_faults(self.records, row)
            if not row.price.value:
                place = figure_place(row.price)
                yield Problem(
                    place, "zero-amount", "a price of nothing", "write the price, more than 0"
                )
