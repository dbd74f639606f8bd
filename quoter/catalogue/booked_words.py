"""What texts of the tables of actuals say: what was built in, how much of a material, which month.

A reading of a row that `read_booked` has checked gives what it says; of any other text it also
gives what is wrong, each fault at its own place.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date

from pydantic_core import PydanticCustomError

from quoter.catalogue.booked import Booked, JobRow
from quoter.catalogue.checks_prices import needed_key
from quoter.catalogue.counting import PACK, converts, counted_per
from quoter.catalogue.fields import is_meant, measure
from quoter.catalogue.materials import Bought, Material, counted_in, said
from quoter.catalogue.source import Text
from quoter.figures import Figure
from quoter.problems import Place, Problem, quoted
from quoter.units import NONE

BETWEEN = ";"  # options of a job, and fields of a code to book by
_ITEM = re.compile(r"(?P<id>\S+)(?:\s+[x×]\s*(?P<count>\S+))?\Z")
_COUNT = re.compile(r"[1-9]\d{0,4}\Z", re.ASCII)
_MONTH = re.compile(r"(\d{4})-(\d\d)\Z", re.ASCII)
_BOOKED = measure("12.5 kg", "kg", "m3", "m2", "m", "each", "pack", low=0.0, above_low=True)
_FIELDS = ("job", "part", "operation")
_COARSE = ("job", "station")


@dataclass(frozen=True, slots=True)
class Booking:
    """What a code to book by says: a job, and of it a part and an operation's number, or a station;
    "" for what it doesn't say.

    `part` is the key of what the costing made without its kind, as a code holds it.
    """

    job: str
    part: str = ""
    operation: str = ""
    station: str = ""


def options_in(text: Text) -> tuple[dict[Text, int], list[Problem]]:
    """How many of each option a text such as ``side_single; cushions x 2`` says, and its faults.

    The ids are texts at their own places. That an id is one of an option is not asked here.
    """
    found: dict[Text, int] = {}
    faults: list[Problem] = []
    at = 0
    for words in text.split(BETWEEN):
        begin = at + len(words) - len(words.lstrip())
        at += len(words) + 1
        item = Text.at(words.strip(), replace(text.place, column=text.place.column + begin))
        if not item:
            continue
        read = _ITEM.match(item)
        count = read["count"] or "1" if read else "1"
        if read is None or not _COUNT.match(count) or "," in read["id"]:
            what = f"{quoted(item)} is no option with a quantity"
            hint = "write for example 'side_single; cushions x 2; hull_blue'"
            faults.append(Problem(item.place, "bad-options", what, hint))
            continue
        id = Text.at(read["id"], item.place, text.key)
        if id in found:
            what, hint = f"{quoted(id)} is named twice", "write its quantity once"
            faults.append(Problem(id.place, "written-twice", what, hint))
        found.setdefault(id, int(count))
    return found, faults


def options_of(row: JobRow) -> dict[str, int]:
    """How many of each option and package one boat of a job has; none where it names none."""
    found, _ = options_in(row.options) if row.options is not None else ({}, [])
    return {str(id): count for id, count in found.items()}


def quantity_of(text: Text, material: Material) -> Figure:
    """How much of a material a checked text says, in what the material is counted in.

    The input behind it is the quantity as written, at the place of its cell.

    Raises:
        ValueError: it says none, which the rules of the tables exclude.
    """
    found, fault = quantity_in(text, material)
    if found is None:
        raise ValueError(fault.what if fault is not None else f"no quantity: {text}")
    return found


def quantity_in(text: Text, material: Material) -> tuple[Figure | None, Problem | None]:
    """How much of a material a text says, in what the material is counted in, or its fault."""
    try:
        written = _BOOKED(text)
    except PydanticCustomError as fault:
        told = fault.context or {}
        what = f"quantity {told['what']}"
        return None, Problem(text.place, told["code"], what, told["hint"])
    per = written.unit
    if "%" not in text:
        if per == counted_in(material):
            return written, None
        if (material.pack is not None) if per == PACK else converts(material, per):
            return written * counted_per(material, per), None
    counted = said(counted_in(material))
    what = f"{quoted(text)} does not say how much of '{material.id}' it is"
    hint = f"write it in {counted}" if counted_in(material) != NONE else "write how many, as '12'"
    if per == PACK:
        hint += ", or say with 'pack:' how much one holds"
    elif needed := needed_key(material, per):
        hint += f", or give the material a {needed}"
    elif isinstance(material, Bought) and material.pack is not None:
        hint += ", or in packs"
    return None, Problem(text.place, "wrong-unit", what, hint)


def month_in(text: str) -> date | None:
    """The first day of a month such as ``2026-08``; None where it is no month that can be meant."""
    found = _MONTH.match(text)
    if found is None or not 1 <= int(found[2]) <= 12 or int(found[1]) < 1:
        return None
    day = date(int(found[1]), int(found[2]), 1)
    return day if is_meant(day) else None


def month_of(day: date) -> str:
    """The month of a day, as overhead names it.

    >>> month_of(date(2026, 8, 5))
    '2026-08'
    """
    return f"{day:%Y-%m}"


def rows_after(booked: Booked, day: date) -> list[tuple[str, Place]]:
    """The rows that are not of a day or before it, each with its own day or month."""
    later = [
        (str(row.date), row.place)
        for rows in (booked.hours, booked.issues, booked.purchases, booked.pulls)
        for row in rows
        if row.date > day
    ]
    until = month_of(day)
    months = [(str(row.month), row.place) for row in booked.overhead if str(row.month) > until]
    return later + months


def booking_in(text: str) -> Booking | None:
    """What a code to book by holds; None where a text is none.

    >>> booking_in("job=2026-0007;part=side_door__gel_blue;operation=3")
    Booking(job='2026-0007', part='side_door__gel_blue', operation='3', station='')
    >>> booking_in("job=2026-0007"), booking_in("2026-0007")
    (Booking(job='2026-0007', part='', operation='', station=''), None)
    >>> booking_in("job=2026-0007;station=laminating")
    Booking(job='2026-0007', part='', operation='', station='laminating')
    """
    fields = [each.strip().partition("=") for each in text.strip().split(BETWEEN)]
    names = tuple(name for name, _, _ in fields)
    if names not in (_COARSE, _FIELDS[: len(names)]) or not all(value for _, _, value in fields):
        return None
    return Booking(**{name: value.strip() for name, _, value in fields})
