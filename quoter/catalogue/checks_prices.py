"""Rules of what is dated: prices, what suppliers send, volumes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from quoter.catalogue.booked import PurchaseRow
from quoter.catalogue.checks_ids import figure_place, unknown
from quoter.catalogue.checks_options import offered
from quoter.catalogue.counting import converts
from quoter.catalogue.examples import example, thickness
from quoter.catalogue.factory import Laminate
from quoter.catalogue.materials import (
    MIXED,
    Bought,
    Glass,
    Material,
    counted_in,
    price_per,
    said,
)
from quoter.catalogue.received import PriceFile
from quoter.catalogue.records import MATERIAL_KINDS, Records
from quoter.catalogue.rises import prices_before
from quoter.catalogue.source import Text
from quoter.catalogue.tables import PriceRow, RiseRow, VolumeRow
from quoter.figures import Figure
from quoter.problems import Problem, nearest, quoted
from quoter.units import NONE, Unit, unit

PACK = unit("pack")


def check_prices(records: Records) -> Iterator[Problem]:
    """A price must be of a known material, in its supplier's currency, per a unit that converts."""
    for rows in records.price_lists.values():
        for row in rows:
            yield from price_faults(records, row)


def price_faults(records: Records, row: PriceRow) -> Iterator[Problem]:
    """What is wrong with one price."""
    if row.material in records.ids.get("foam", {}):
        what = f"foam '{row.material}' is not bought as such"
        yield Problem(
            row.material.place, "unknown-id", what, "list the prices of its two components"
        )
    elif records.lacks(MATERIAL_KINDS, row.material):
        yield unknown(records, MATERIAL_KINDS, row.material, "material")
    if records.lacks(("supplier",), row.supplier):
        yield unknown(records, ("supplier",), row.supplier, "supplier")
    yield from amount_faults(records, row)


def amount_faults(records: Records, row: PriceRow | PurchaseRow) -> Iterator[Problem]:
    """What is wrong with the amount of a price: its currency, or what it is for."""
    place = figure_place(row.price)
    supplier = records.suppliers.get(row.supplier)
    found = row.price.unit.currencies
    if supplier and found != (str(supplier.currency),):
        what = f"the price is in {' and '.join(found)}"
        hint = f"'{supplier.id}' sells in {supplier.currency}: write it so, or correct the supplier"
        yield Problem(place, "wrong-currency", what, hint)
    material = records.materials.get(row.material)
    if material and not price_converts(material, row.price):
        what = f"'{row.material}' can't be priced per {said(price_per(row.price))}"
        yield Problem(place, "wrong-unit", what, price_hint(material, price_per(row.price)))


def price_converts(material: Material, price: Figure) -> bool:
    """Whether a price says what one unit of a material, as it is counted, costs."""
    per = price_per(price)
    if per == PACK:
        return material.pack is not None  # what it holds is for `check_packs`
    return converts(material, per)


def price_hint(material: Material, per: Unit) -> str:
    """What a price of a material should be per, instead of what it is."""
    counted = said(counted_in(material))
    if per == PACK:
        return f"say how much a pack holds, such as 'pack: 20 {counted}', or price it per {counted}"
    if needed := needed_key(material, per):
        return f"price it per {counted}, or give the material a {needed}"
    if isinstance(material, Bought):
        return f"it is counted in {counted}: price it per {counted}, or per pack"
    return f"price it per {counted}"


def needed_key(material: Material, per: Unit) -> str:
    """The key of a material that would make an amount in a unit convert."""
    counted = counted_in(material)
    rolled = isinstance(material, Glass) or counted == unit("m2")
    if per == unit("m") and rolled:
        return "'roll_width'"
    poured = not isinstance(material, Glass) and counted == unit("kg")
    return "'density'" if per == unit("m3") and poured else ""


def check_packs(records: Records) -> Iterator[Problem]:
    """A pack must hold the material in a unit it can be counted in."""
    for material in records.materials.values():
        if material.pack is not None and not converts(material, material.pack.unit * PACK):
            held, counted = said(material.pack.unit * PACK), said(counted_in(material))
            what = f"a pack of '{material.id}' is in {held}, the material in {counted}"
            hint = f"write the pack in {counted}"
            if needed := needed_key(material, material.pack.unit * PACK):
                hint += f", or give the material a {needed}"
            yield Problem(figure_place(material.pack), "wrong-unit", what, hint)
        yield from _idle_measures(material)
        if material.loss is not None and material.waste_on_net is not None:
            what = f"'{material.id}' has both a loss and a waste_on_net"
            hint = "keep one: loss is a fraction of what is issued, waste_on_net of what is used"
            yield Problem(figure_place(material.waste_on_net), "choose-one", what, hint)


def _idle_measures(material: Material) -> Iterator[Problem]:
    """A width or density that nothing is converted by, since the goods are counted otherwise."""
    if not isinstance(material, Bought):
        return
    counted = counted_in(material)
    for name, found, needed in (
        ("roll_width", material.roll_width, unit("m2")),
        ("density", material.density, unit("kg")),
    ):
        if found is not None and counted != needed:
            what = f"'{material.id}' is counted in {said(counted)}, and has a {name}"
            hint = f"remove it: only what is counted in {said(needed)} is converted by it"
            yield Problem(figure_place(found), "no-effect", what, hint)


def check_exchange(records: Records) -> Iterator[Problem]:
    """A rate must say which currency buys which: how much foreign for one unit of home."""
    if records.home is None:
        return
    for row in records.exchange:
        if row.currency == records.home:
            what = f"{records.home} is the home currency and needs no rate"
            yield Problem(row.currency.place, "no-effect", what, "remove the line")
            continue
        wanted = f"{row.currency}/{records.home}"
        if str(row.rate.unit) != wanted:
            what = f"a rate of {row.currency} in {str(row.rate.unit) or 'no unit'}"
            hint = f"write how much {row.currency} one {records.home} buys, in {wanted}"
            yield Problem(figure_place(row.rate), "wrong-unit", what, hint)


def check_laminates(records: Records) -> Iterator[Problem]:
    """An empty stack costs nothing, which is never meant; seams must be narrower than the roll."""
    for laminate in records.laminates.values():
        if not laminate.plies:
            what = f"laminate '{laminate.id}' has no plies"
            yield Problem(laminate.place, "empty", what, "list at least one under 'plies:'")
        yield from _mixed_faults(records, laminate)
    for glass in records.of("glass").values():
        if glass.overlap is None:
            continue
        if glass.roll_width is None:
            what = f"'{glass.id}' has an overlap but no roll width"
            yield Problem(
                figure_place(glass.overlap),
                "missing-key",
                what,
                f"add for example 'roll_width: {example('1.25 m')}'",
            )
        elif glass.overlap.value >= glass.roll_width.value:
            what = f"'{glass.id}' overlaps by as much as its roll is wide, or more"
            hint = f"expected less than {thickness(glass.roll_width.value)}"
            yield Problem(figure_place(glass.overlap), "values-disagree", what, hint)


def _mixed_faults(records: Records, laminate: Laminate) -> Iterator[Problem]:
    rule = laminate.mixed_content
    if rule is None:
        return
    kinds = [records.of("glass").get(ply.glass) for ply in laminate.plies]
    if not any(glass is None or glass.form in MIXED for glass in kinds):
        what = f"'{laminate.id}' has a rule for mat and woven glass, and no ply of either"
        hint = "remove 'mixed_content:': stitched glass and other kinds have a content of their own"
        yield Problem(rule.place, "no-effect", what, hint)
    if rule.mat_slope.value >= rule.all_woven.value:
        what = f"the glass content of '{laminate.id}' falls to nothing when all is mat"
        hint = f"expected less than the {rule.all_woven.value * 100:g} % of all_woven"
        yield Problem(figure_place(rule.mat_slope), "values-disagree", what, hint)


def check_price_files(records: Records) -> Iterator[Problem]:
    """A word of a supplier's file means one thing, and every price says what it is for."""
    for supplier in records.suppliers.values():
        if supplier.price_file is not None:
            yield from _mapping_faults(supplier.price_file)


def _mapping_faults(file: PriceFile) -> Iterator[Problem]:
    headings = file.headings
    named = (headings.code, headings.price, headings.per, headings.count, headings.currency)
    written = [head for head in (*named, headings.pack, headings.name) if head is not None]
    yield from named_twice(written, "heading", ONE_MEANING)
    words = [word.word for word in file.units]
    yield from named_twice(words, "word", "a word means one unit: keep one of them")
    codes = [*(known.code for known in file.codes), *file.ignored]
    yield from named_twice(codes, "code", "a code is one material, or ignored: keep one of them")
    materials = [known.material for known in file.codes]
    yield from named_twice(materials, "material", "a material has one price: keep one code of it")
    if (file.per is None) == (headings.per is None):
        what = "neither 'per' nor a heading of it says what a price is for"
        hint = "add 'per: kg' for all of them, or 'per:' with the column's heading to the headings"
        if file.per is not None:
            what, hint = "'per' is given for all prices and as a heading", "keep one of the two"
        yield Problem(file.place, "choose-one", what, hint)


def named_twice(words: Iterable[Text], called: str, hint: str) -> Iterator[Problem]:
    """Words that are written twice, however their letters and blanks are."""
    first: dict[str, Text] = {}
    for word in words:
        same = " ".join(word.split()).casefold()
        if same in first:
            what = f"the {called} {quoted(word)} stands here twice"
            yield Problem(
                word.place,
                "written-twice",
                what,
                f"line {first[same].place.line} has it already; {hint}",
            )
        first.setdefault(same, word)


def check_rate_file(records: Records) -> Iterator[Problem]:
    """A file of rates has a line for each currency, or a column."""
    file = records.yard.rate_file if records.yard is not None else None
    if file is None:
        return
    headings = file.headings
    found = [head for head in (headings.currency, headings.rate, headings.date) if head is not None]
    yield from named_twice(found, "heading", ONE_MEANING)
    both = headings.currency is not None and headings.rate is not None
    neither = headings.currency is None and headings.rate is None
    if not both and (not neither or headings.date is None):
        what = "the headings of the rates don't say how the file is laid out"
        hint = "name 'currency' and 'rate', or a 'date' alone where each currency has a column"
        yield Problem(headings.place, "headings", what, hint)


def check_rises(records: Records) -> Iterator[Problem]:
    """A rise is of a family that exists, by an amount that its prices can rise by."""
    materials = records.materials
    families = {str(m.family) for m in materials.values() if m.family is not None}
    all_read = materials.keys() == records.named(MATERIAL_KINDS)
    all_read &= not records.unread.kinds.intersection(MATERIAL_KINDS)
    done: dict[tuple[str, str, date], RiseRow] = {}
    for row in sorted(records.rises, key=lambda row: row.date):
        if row.family not in families and all_read:
            what = f"no material is of the family {quoted(row.family)}"
            yield Problem(row.family.place, "unknown-id", what, nearest(row.family, families))
        yield from _amount_faults(records, row)
        same = (str(row.supplier), str(row.family), row.effective)
        if same in done and row.date > done[same].date:
            what = f"the rise was confirmed on line {done[same].place.line} already"
            hint = "remove the line: what prices do after that stands in lists of their own"
            yield Problem(row.place, "already-listed", what, hint)
        if row.state == "confirmed":
            done.setdefault(same, row)


def _amount_faults(records: Records, row: RiseRow) -> Iterator[Problem]:
    place = figure_place(row.by)
    supplier = records.suppliers.get(row.supplier)
    if not row.by.value:
        yield Problem(
            place, "zero-amount", "a rise of nothing", "write by how much, or remove the line"
        )
    if row.by.unit == NONE and row.by.form == "percent":
        return
    found = row.by.unit.currencies
    if not found:
        hint = "write a percentage, '5 %', or an amount such as '0.10 EUR/kg'"
        yield Problem(place, "no-unit", "a rise by a plain number", hint)
        return
    if supplier is not None and found != (str(supplier.currency),):
        what = f"the rise is in {' and '.join(found)}"
        yield Problem(
            place,
            "wrong-currency",
            what,
            f"'{supplier.id}' sells in {supplier.currency}: write it so",
        )
        return
    for id in prices_before(records, str(row.supplier), str(row.family), row.effective):
        material = records.materials[id]
        if not price_converts(material, row.by):
            what = f"'{material.id}' can't be priced per {said(price_per(row.by))}"
            yield Problem(place, "wrong-unit", what, price_hint(material, price_per(row.by)))


def check_volumes(records: Records) -> Iterator[Problem]:
    """A line gives boats a year of a model, or the take rate of an option offered on it."""
    for row in records.volumes:
        yield from unknown_names(records, row.model, row.option)
        yield from not_offered(records, row.model, row.option)
        if fault := _filled_wrongly(row):
            hint = "a line has a model and boats, or a model, an option and a take rate"
            yield Problem(row.place, "choose-one", fault, hint)


def _filled_wrongly(row: VolumeRow) -> str:
    if row.boats is not None and row.take_rate is not None:
        return "boats and a take rate on one line"
    if row.boats is not None and row.option:
        return f"boats of the option '{row.option}'"
    if row.take_rate is not None and not row.option:
        return "a take rate of no option"
    if row.boats is None and row.take_rate is None:
        return "neither boats nor a take rate"
    return ""


def unknown_names(records: Records, model: Text, option: Text) -> Iterator[Problem]:
    """That a line names a model or option that does not exist."""
    for kind, word in (("model", model), ("option", option)):
        if word and records.lacks((kind,), word):
            yield unknown(records, (kind,), word, kind)


def not_offered(records: Records, model: Text, option: Text) -> Iterator[Problem]:
    """That a line is about an option its model is not offered with."""
    boat, choice = records.models.get(model), records.options.get(option)
    if boat and choice and not offered(choice, boat):
        what = f"option '{option}' is not offered on '{model}'"
        yield Problem(
            option.place, "not-offered", what, "remove the line, or check the option's models"
        )


ONE_MEANING = "a column has one meaning: write the heading once"
