"""The rules between records, as a plain tuple of small functions that return problems."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from quoter.catalogue.checks_parts import (
    check_goods_quantities,
    check_moulding_pressure,
    check_operation_drivers,
    check_shapes,
    check_zones,
)
from quoter.catalogue.factory import Laminate
from quoter.catalogue.fields import Ref
from quoter.catalogue.materials import (
    Bought,
    Glass,
    Material,
    counted_in,
    density_of,
    price_per,
    said,
)
from quoter.catalogue.options import Credit, Option, PartUse
from quoter.catalogue.record import Record
from quoter.catalogue.records import Records
from quoter.figures import Figure
from quoter.problems import Place, Problem, nearest
from quoter.units import unit


def every_record(records: Records) -> Iterator[Record]:
    """Every record of the catalogue, outer ones first."""
    if records.yard:
        yield from _within(records.yard)
    for found in records.by_kind.values():
        for record in found.values():
            yield from _within(record)
    for rows in records.price_lists.values():
        yield from rows
    yield from (*records.exchange, *records.wages, *records.volumes, *records.book)


def _within(value: Any) -> Iterator[Record]:
    if isinstance(value, Record):
        yield value
        for name in type(value).model_fields:
            yield from _within(getattr(value, name))
    elif isinstance(value, tuple):
        for item in value:
            yield from _within(item)
    elif isinstance(value, dict):
        for item in value.values():
            yield from _within(item)


def check_references(records: Records) -> Iterator[Problem]:
    """An id that names nothing would leave a cost out."""
    for record in every_record(records):
        for name, info in type(record).model_fields.items():
            reading = _reference(info.annotation, info.metadata)
            value = getattr(record, name)
            if reading is None or value is None:
                continue
            known = {id for kind in reading.kinds for id in records.ids.get(kind, {})}
            for word in value if isinstance(value, tuple) else (value,):
                if str(word) not in known:
                    kinds = " or ".join(kind.replace("_", " ") for kind in reading.kinds)
                    yield Problem(word.place, f"unknown {kinds} '{word}'", nearest(word, known))


def _reference(annotation: Any, metadata: list[Any]) -> Ref | None:
    for meta in (*metadata, *getattr(annotation, "__metadata__", ())):
        if isinstance(meta, Ref):
            return meta
    for inner in getattr(annotation, "__args__", ()):
        found = _reference(inner, [])
        if found:
            return found
    return None


def check_home_currency(records: Records) -> Iterator[Problem]:
    """Only a supplier's price may be in a foreign currency: all else adds up without a rate."""
    if records.yard is None:
        return
    home = str(records.yard.company.currency)
    priced = {id(row) for rows in records.price_lists.values() for row in rows}
    priced |= {id(row) for row in records.exchange}
    for record in every_record(records):
        if id(record) in priced:
            continue
        for name in type(record).model_fields:
            for figure in _figures(getattr(record, name)):
                foreign = _currencies(figure) - {home}
                if foreign:
                    what = f"{sorted(foreign)[0]} found where the home currency is {home}"
                    hint = f"write it in {home}"
                    yield Problem(figure_place(figure), what, hint)


def _figures(value: Any) -> Iterator[Figure]:
    if isinstance(value, Figure):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from _figures(inner)


def _currencies(figure: Figure) -> set[str]:
    return {symbol for symbol, _ in figure.unit.parts if len(symbol) == 3 and symbol.isupper()}


def figure_place(figure: Figure) -> Place:
    """Where the input behind a catalogue figure stands."""
    while figure.origin is None:
        figure = figure.args[0]
    return figure.origin.place


def check_prices(records: Records) -> Iterator[Problem]:
    """A price must be of a known material, in its supplier's currency, per a unit that converts."""
    for rows in records.price_lists.values():
        for row in rows:
            material = records.materials.get(str(row.material))
            known = {m for kind in _PRICED for m in records.ids.get(kind, {})}
            if row.material not in known:
                what = f"unknown material '{row.material}'"
                yield Problem(row.material.place, what, nearest(row.material, known))
            supplier = records.suppliers.get(str(row.supplier))
            if row.supplier not in records.ids.get("supplier", {}):
                hint = nearest(row.supplier, records.ids.get("supplier", {}))
                yield Problem(row.supplier.place, f"unknown supplier '{row.supplier}'", hint)
            place = figure_place(row.price)
            if supplier and _currencies(row.price) != {str(supplier.currency)}:
                what = f"the price is not in {supplier.currency}, as '{supplier.id}' sells"
                yield Problem(place, what, f"write it in {supplier.currency}")
            if material and not _price_converts(material, row.price):
                what = f"'{row.material}' can't be priced per {said(price_per(row.price))}"
                yield Problem(place, what, _price_hint(material))


_PRICED = ("glass", "resin", "gelcoat", "catalyst", "foam_component", "bought")


def _price_converts(material: Material, price: Figure) -> bool:
    per = price_per(price)
    if per == unit("pack"):
        if material.pack is None:
            return False
        per = material.pack.unit * unit("pack")
    if per == unit("m2") and isinstance(material, Glass):
        return True
    if per == unit("m3") and density_of(material) is not None:
        return True
    return per == counted_in(material)


def _price_hint(material: Material) -> str:
    if isinstance(material, Bought):
        return f"it is counted in {said(counted_in(material))}; price it per that, or per pack"
    return "price it per kg, or give the material a density or a pack"


def check_exchange(records: Records) -> Iterator[Problem]:
    """A rate must say which currency buys which: how much foreign for one unit of home."""
    if records.yard is None:
        return
    home = str(records.yard.company.currency)
    for row in records.exchange:
        wanted = f"{row.currency}/{home}"
        if str(row.rate.unit) != wanted:
            what = f"a rate of {row.currency} in {str(row.rate.unit) or 'no unit'}"
            yield Problem(figure_place(row.rate), what, f"write it in {wanted}")


def check_policy(records: Records) -> Iterator[Problem]:
    """Provisions and target margin must leave something of the price to carry the cost."""
    if records.yard is None:
        return
    policy = records.yard.policy
    taken = sum(p.fraction.value for p in policy.provisions) + policy.target_margin.value
    if taken >= 1:
        what = f"provisions and target margin take {taken * 100:g} % of the price"
        yield Problem(figure_place(policy.target_margin), what, "together less than 100 %")
    if policy.floor_margin.value > policy.target_margin.value:
        what = "the floor margin is above the target margin"
        yield Problem(figure_place(policy.floor_margin), what, "expected at most the target")
    if policy.fibre_fraction_low.value >= policy.fibre_fraction_high.value:
        what = "the lower fibre fraction is not below the upper one"
        yield Problem(figure_place(policy.fibre_fraction_low), what, "for example 10 % and 30 %")
    for name in ("dealer_classes", "markets"):
        if not getattr(records.yard, name):
            yield Problem(records.yard.place, f"{name.replace('_', ' ')} are empty", "name one")
    sheet = records.yard.price_sheet
    if sheet.valid_until < sheet.valid_from:
        what = f"the price sheet ends on {sheet.valid_until}, before it begins"
        yield Problem(sheet.place, what, f"expected a day after {sheet.valid_from}")


def check_laminates(records: Records) -> Iterator[Problem]:
    """An empty stack costs nothing, which is never meant."""
    for laminate in records.laminates.values():
        if not laminate.plies:
            yield Problem(laminate.place, f"laminate '{laminate.id}' has no plies", "list one")
        yield from _overlaps(records, laminate)


def _overlaps(records: Records, laminate: Laminate) -> Iterator[Problem]:
    for ply in laminate.plies:
        glass = records.of("glass").get(str(ply.glass))
        if glass is None or glass.overlap is None:
            continue
        if glass.roll_width is None or glass.overlap.value >= glass.roll_width.value:
            what = f"'{glass.id}' overlaps by as much as its roll is wide, or more"
            yield Problem(figure_place(glass.overlap), what, "give a roll_width above the overlap")


def check_option_rules(records: Records) -> Iterator[Problem]:
    """Rules that contradict each other, or require an option through itself, can't be met."""
    options = records.options
    for option in options.values():
        for other in option.requires:
            if any(other == forbidden for forbidden in option.conflicts):
                what = f"option '{option.id}' requires '{other}' and conflicts with it"
                yield Problem(other.place, what, "keep one of the two")
        for other in (*option.conflicts, *option.requires):
            if other == option.id:
                what = f"option '{option.id}' names itself"
                yield Problem(other.place, what, "name another option")
        loop = _loop(options, str(option.id))
        if len(loop) > 2 and min(loop) == loop[0]:
            what = "options require each other in a circle: " + " -> ".join(loop)
            yield Problem(option.place, what, "drop one of the requirements")


def _loop(options: dict[str, Option], start: str) -> list[str]:
    """The path along `requires` that leads back to the start, or nothing."""
    waiting = [[start]]
    seen = {start}
    while waiting:
        path = waiting.pop()
        for following in map(str, options[path[-1]].requires):
            if following == start:
                return [*path, start]
            if following in options and following not in seen:
                seen.add(following)
                waiting.append([*path, following])
    return []


def check_option_models(records: Records) -> Iterator[Problem]:
    """An option that fits no model can't be sold; one too long for a model must not be offered."""
    models = records.models
    for option in records.options.values():
        shortest = option.minimum_length
        for named in option.models:
            model = models.get(str(named))
            if shortest is not None and model and model.length.value < shortest.value:
                what = f"'{model.id}' is {model.length.value:g} m long, below the minimum length"
                yield Problem(named.place, what, f"'{option.id}' needs {shortest.value:g} m")
        if models and not any(offered(option, model) for model in models.values()):
            yield Problem(
                option.place, f"no model can have option '{option.id}'", "check its rules"
            )
        uses: tuple[PartUse | Credit, ...] = (*option.parts, *option.credits)
        for use in uses:
            for key in use.per_model:
                if key not in records.ids.get("model", {}):
                    hint = nearest(str(key), records.ids.get("model", {}))
                    yield Problem(key.place, f"unknown model '{key}'", hint)
        if not (option.parts or option.goods or option.operations):
            what = f"option '{option.id}' holds no parts, goods or operations"
            yield Problem(option.place, what, "list what it is made of")


def offered(option: Option, model: Any) -> bool:
    """Whether an option can be had on a model."""
    if option.models and not any(str(model.id) == name for name in option.models):
        return False
    return option.minimum_length is None or model.length.value >= option.minimum_length.value


def check_models(records: Records) -> Iterator[Problem]:
    """The base boat's cost must be by known classes and stations; its standard options must fit."""
    classes = (
        "glass",
        "resin",
        "gelcoat",
        "catalyst",
        "foam",
        "hardware",
        "core",
        "consumable",
        "other",
    )
    for model in records.models.values():
        for known, named in (
            (classes, model.base.material),
            (records.ids.get("station", {}), model.base.hours),
        ):
            for key in named:
                if key not in known:
                    kind = "material class" if known is classes else "station"
                    yield Problem(key.place, f"unknown {kind} '{key}'", nearest(str(key), known))
        for name in model.standard:
            option = records.options.get(str(name))
            if option and not offered(option, model):
                what = f"standard option '{name}' is not offered on '{model.id}'"
                yield Problem(name.place, what, "check the option's models and minimum length")


def check_volumes(records: Records) -> Iterator[Problem]:
    """A line gives boats a year of a model, or the take rate of an option offered on it."""
    for row in records.volumes:
        model = records.models.get(str(row.model))
        if row.model not in records.ids.get("model", {}):
            hint = nearest(row.model, records.ids.get("model", {}))
            yield Problem(row.model.place, f"unknown model '{row.model}'", hint)
        if (row.boats is None) == (row.take_rate is None) or bool(row.option) != bool(
            row.take_rate is not None
        ):
            hint = "fill boats and leave option empty, or fill option and take_rate"
            yield Problem(row.place, "neither boats a year nor a take rate", hint)
        option = records.options.get(str(row.option))
        if row.option and row.option not in records.ids.get("option", {}):
            hint = nearest(row.option, records.ids.get("option", {}))
            yield Problem(row.option.place, f"unknown option '{row.option}'", hint)
        if model and option and not offered(option, model):
            what = f"'{row.option}' is not offered on '{row.model}'"
            yield Problem(row.option.place, what, "remove the line or check the option's models")


def check_price_book(records: Records) -> Iterator[Problem]:
    """A published price must be of an option that exists, on a model that exists or on all."""
    for row in records.book:
        for kind, word in (("option", row.option), ("model", row.model)):
            if word and word not in records.ids.get(kind, {}):
                hint = nearest(word, records.ids.get(kind, {}))
                yield Problem(word.place, f"unknown {kind} '{word}'", hint)


CHECKS: tuple[Callable[[Records], Iterator[Problem]], ...] = (
    check_references,
    check_home_currency,
    check_prices,
    check_exchange,
    check_policy,
    check_laminates,
    check_shapes,
    check_zones,
    check_goods_quantities,
    check_moulding_pressure,
    check_operation_drivers,
    check_option_rules,
    check_option_models,
    check_models,
    check_volumes,
    check_price_book,
)
