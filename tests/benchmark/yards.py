"""Yards of any size, made from the demonstration: its boats, options and parts over and over.

A yard has boats that are each a little larger than the one they were made from, options in series
whose panels are a little larger too, and for each boat a few options with parts of its own. All
other parts are shared among the boats, as they are in a yard. The same size is the same bytes.
"""

from __future__ import annotations

import csv
import re
import shutil
from collections.abc import Iterable, Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any

import yaml

from tests.benchmark.larger import marked, rounded, scale
from tests.benchmark.measured import PROJECT

DEMO = PROJECT / "demo_catalog"
Block = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Size:
    """How many boats, how many options each can have, and how many of those are its own alone."""

    models: int
    options: int
    own: int = 1


SIZES = {"M": Size(40, 60, 3), "L": Size(400, 100, 1)}  # S is the demonstration itself
OWN = ("seat_base", "deck_hatch", "fish_lid")  # what a boat has of its own is made from these
LARGER = Decimal("0.01")  # a series' panels, than those of the series before
LONGER = Decimal("0.001")  # a boat, than the one before
LONGEST = 30  # steps, so that no boat grows past the length from which an option is offered

_TRANSLATED = re.compile(r'msgctxt "((?:models\.models|options\.options|options\.packages)\.)'
                         r'(\w+)(\.[\w.]+)"')  # fmt: skip


def make_yard(folder: Path, size: Size | str, languages: Iterable[str] | None = None) -> Path:
    """Write a yard into a folder that is not there yet.

    Args:
        folder: to write it into
        size: how large, or the letter of one of the three sizes
        languages: other languages of the home market, if not the demonstration's
    """
    shutil.copytree(DEMO, folder)
    if isinstance(size, str):
        size = SIZES.get(size) or Size(0, 0)
    if size.models:
        _Yard(folder, size).write()
        shutil.rmtree(folder / "actuals")  # which are of the demonstration's boats
    if languages is not None:
        text = (folder / "yard.yaml").read_text("utf-8")
        listed = f"other_languages: [{', '.join(languages)}]"
        (folder / "yard.yaml").write_text(
            re.sub(r"other_languages: \[de, fr, nb, es\]", listed, text, count=1), "utf-8"
        )
    return folder


def written(folder: str, size: str | list[int], languages: list[str] | None = None) -> None:
    """The same as `make_yard`, told what JSON holds."""
    make_yard(Path(folder), size if isinstance(size, str) else Size(*size), languages)


@dataclass(frozen=True, slots=True)
class _Boat:
    """A boat: its id and number, and the demonstration's boat it was made from."""

    id: str
    number: int
    base: Block
    factor: Decimal


@dataclass(slots=True)
class _Option:
    """An option: what it was made from, what marks its name, how much larger, on which boats."""

    id: str
    base: Block
    mark: str
    factor: Decimal
    boats: list[_Boat] = field(default_factory=list)

    def other(self, id: str) -> str:
        """The id of what this option has of its own series in the place of another thing."""
        return id + self.id.removeprefix(str(self.base["id"]))


class _Yard:
    """A yard on its way into a folder that holds the demonstration."""

    def __init__(self, folder: Path, size: Size) -> None:
        """Say which boats there are and which options each can have."""
        self.folder, self.size = folder, size
        self.models = _read(folder, "models.yaml")["models"]
        given = _read(folder, "options.yaml")
        self.given = {option["id"]: option for option in given["options"]}
        self.packages = given["packages"]
        self.boats = [
            _boat(number, self.models[number % len(self.models)], len(self.models))
            for number in range(size.models)
        ]
        self.options: dict[str, _Option] = {}
        for boat in self.boats:
            self._offer(boat)

    def _offer(self, boat: _Boat) -> None:
        """Enter what a boat can have: its standard, shared series, and a few of its own."""
        standard = boat.base["standard"]
        for id in standard:
            self._enter(id, id, "", Decimal(1)).boats.append(boat)
        own = [OWN[n % len(OWN)] for n in range(min(self.size.own, len(OWN)))]
        left = self.size.options - len(own)
        series = 0
        while left > 0:
            for id, base in self.given.items():
                if left and self._fits(base, boat.base) and not _taken(base, standard, series):
                    mark = f"_{series + 1}" * bool(series)
                    factor = 1 + LARGER * series
                    name = mark.replace("_", " ")
                    self._enter(id + mark, id, name, factor).boats.append(boat)
                    left -= 1
            series += 1
        for id in own:
            mark, factor = f"_own_{boat.number + 1}", 1 + LARGER * (boat.number % LONGEST)
            name = f" B{boat.number + 1}"
            self._enter(id + mark, id, name, factor).boats.append(boat)

    def _enter(self, id: str, base: str, mark: str, factor: Decimal) -> _Option:
        return self.options.setdefault(id, _Option(id, self.given[base], mark, factor))

    def _fits(self, option: Block, model: Block) -> bool:
        """Whether the demonstration offers an option on a boat."""
        named = "models" not in option or model["id"] in option["models"]
        return named and _long_enough(option, model)

    def write(self) -> None:
        """Put all files that tell of boats, options and parts in the place of the old ones."""
        self._write_yaml("models.yaml", {"models": [_model(boat) for boat in self.boats]})
        packages = [
            made
            for package in self.packages
            for series in self._series()
            if (made := self._package(package, series))
        ]
        options: Block = {"options": [self._option(option) for option in self.options.values()]}
        self._write_yaml("options.yaml", options | ({"packages": packages} if packages else {}))
        self._write_yaml("parts.yaml", self._parts())
        self._write_table("price_book.csv", self._book)
        self._write_table("volumes.csv", self._volumes)
        for path in sorted((self.folder / "translations").glob("*.po")):
            path.write_text(self._translations(path.read_text("utf-8"), packages), "utf-8")
        for path in sorted((self.folder / "requests").glob("*.yaml")):
            if not self._can_be_had(_read(path.parent, path.name), packages):
                path.unlink()

    def _series(self) -> list[str]:
        """What marks the ids of each series, the first by nothing."""
        marks = {option.id.removeprefix(option.base["id"]) for option in self.options.values()}
        return sorted((mark for mark in marks if "own" not in mark), key=lambda m: (len(m), m))

    def _option(self, option: _Option) -> Block:
        made = deepcopy(option.base)
        made["id"] = option.id
        made["name"] += option.mark
        if option.id != option.base["id"]:
            made.pop("colour_surcharges", None)  # the series may meet no colour of its own
        made.pop("at", None)  # positions are by model, and the series goes on models of its own
        if "requires" in made:
            made["requires"] = [option.other(id) for id in made["requires"]]
        made.pop("models", None)
        if len(option.boats) < sum(_long_enough(made, boat.base) for boat in self.boats):
            made["models"] = [boat.id for boat in option.boats]
        for use in made.get("parts", ()):
            use["part"] = option.other(use["part"])
            scale(use, option.factor)
        for use in (*made.get("parts", ()), *made.get("credits", ())):
            if "per_model" in use:
                use["per_model"] = self._per_model(use["per_model"], option.boats)
        return made

    def _per_model(self, shapes: Block, boats: Iterable[_Boat]) -> Block:
        found = {}
        for boat in boats:
            if boat.base["id"] in shapes:
                found[boat.id] = scale(deepcopy(shapes[boat.base["id"]]), boat.factor)
        return found

    def _package(self, package: Block, series: str) -> Block | None:
        """A package of a series, if some boat can have all of it."""
        ids = [id + series for id in package["options"]]
        if not all(id in self.options for id in ids):
            return None
        sets = [{boat.id for boat in self.options[id].boats} for id in ids]
        standard = {boat.id for boat in self.boats if {*ids} & {*boat.base["standard"]}}
        if not set.intersection(*sets) - standard:
            return None
        name = package["name"] + series.replace("_", " ")
        return {**package, "id": package["id"] + series, "name": name, "options": ids}

    def _parts(self) -> Block:
        """The demonstration's parts, and for each series those that its options are made of."""
        parts = _read(self.folder, "parts.yaml")
        by_id = {part["id"]: (kind, part) for kind, each in parts.items() for part in each}
        for option in self.options.values():
            waiting = [use["part"] for use in option.base.get("parts", ())]
            while waiting:
                kind, base = by_id[waiting.pop(0)]
                waiting += [core["part"] for core in base.get("cores", ())]
                id = option.other(base["id"])
                if id not in by_id:
                    made = self._part(base, option, id)
                    by_id[id] = kind, made
                    parts[kind].append(made)
        return parts

    def _part(self, base: Block, option: _Option, id: str) -> Block:
        """A part a little larger, by the same route: lists it shares with others stay shared."""
        made = {**base, "id": id, "name": base["name"] + option.mark}
        for key in ("shape", "zones", "vacuum", "gelcoat"):
            if key in made:
                made[key] = scale(deepcopy(made[key]), option.factor)
        if "gallery_and_catch_pot" in made:
            made = scale({**made}, option.factor, ("gallery_and_catch_pot",))
        if "cores" in made:
            made["cores"] = [{**core, "part": option.other(core["part"])} for core in made["cores"]]
        return made

    def _book(self, row: Mapping[str, str]) -> Iterator[dict[str, str]]:
        """A published price for each series of an option, and for each boat made from its boat."""
        for option in self.options.values():
            if option.base["id"] != row["option"]:
                continue
            boats = [boat for boat in option.boats if boat.base["id"] == row["model"]]
            for model in [boat.id for boat in boats] if row["model"] else [""]:
                price = rounded(row["list_price"], option.factor, 10)
                yield {**row, "model": model, "option": option.id, "list_price": price}

    def _volumes(self, row: Mapping[str, str]) -> Iterator[dict[str, str]]:
        """Boats a year and take rates, shared out among the boats and series made from one."""
        series = len(self._series())
        kin = [boat for boat in self.boats if boat.base["id"] == row["model"]]
        for boat in kin:
            if not row["option"]:
                boats = max(1, round(int(row["boats"]) / len(kin)))
                yield {**row, "model": boat.id, "boats": str(boats)}
                continue
            for option in self.options.values():
                if option.base["id"] == row["option"] and boat in option.boats:
                    rate = Decimal(row["take_rate"].split()[0]) / series
                    told = {"model": boat.id, "option": option.id, "take_rate": f"{rate:.2f} %"}
                    yield {**row, **told}

    def _translations(self, text: str, packages: Iterable[Block]) -> str:
        """Each text again for all that was made from what it names."""
        named: dict[str, list[tuple[str, str]]] = {}
        for boat in self.boats:
            named.setdefault(f"models.models.{boat.base['id']}", []).append((boat.id, _mark(boat)))
        for option in self.options.values():
            base = f"options.options.{option.base['id']}"
            named.setdefault(base, []).append((option.id, option.mark))
        for package in self.packages:
            base = f"options.packages.{package['id']}"
            ids = [each["id"] for each in packages if each["id"].startswith(package["id"])]
            marks = [id.removeprefix(package["id"]).replace("_", " ") for id in ids]
            named[base] = list(zip(ids, marks, strict=True))
        entries = []
        for entry in text.rstrip("\n").split("\n\n"):
            found = _TRANSLATED.search(entry)
            if not found:
                entries.append(entry)
                continue
            start, id, rest = found.groups()
            for other, mark in named.get(start + id, ()):
                copied = entry.replace(found[0], f'msgctxt "{start}{other}{rest}"')
                entries.append(marked(copied, mark) if rest == ".name" else copied)
        return "\n\n".join(entries) + "\n"

    def _can_be_had(self, request: Block, packages: Iterable[Block]) -> bool:
        sold = {*self.options, *(package["id"] for package in packages)}
        wanted = {chosen["option"] for chosen in request["options"]} | {request["colour"]} - {None}
        return any(boat.id == request["model"] for boat in self.boats) and wanted <= sold

    def _write_yaml(self, name: str, content: Block) -> None:
        dumper = getattr(yaml, "CSafeDumper", yaml.SafeDumper)
        text = yaml.dump(content, Dumper=dumper, sort_keys=False, allow_unicode=True, width=96)
        (self.folder / name).write_text(text, "utf-8")

    def _write_table(self, name: str, rows_for: Any) -> None:
        path = self.folder / name
        with path.open(encoding="utf-8", newline="") as old:
            rows = list(csv.DictReader(old))
        with path.open("w", encoding="utf-8", newline="") as new:
            table = csv.DictWriter(new, list(rows[0]), lineterminator="\n")
            table.writeheader()
            for row in rows:
                table.writerows(rows_for(row))


def _boat(number: int, base: Block, count: int) -> _Boat:
    again = number // count
    id = base["id"] + f"_{again + 1}" * bool(again)
    return _Boat(id, number, base, 1 + LONGER * (again % LONGEST))


def _taken(option: Block, standard: list[str], series: int) -> bool:
    """Whether a boat's standard holds an option, or the only one of its group that it may have."""
    return option["id"] in standard and (not series or "at_most_one" in option)


def _long_enough(option: Block, model: Block) -> bool:
    shortest = 26 * 0.3048 if "minimum_length" in option else 0  # m
    return float(model["length"].split()[0]) >= shortest


def _mark(boat: _Boat) -> str:
    """What follows the name of a boat."""
    return boat.id.removeprefix(str(boat.base["id"])).replace("_", " ")


def _model(boat: _Boat) -> Block:
    made = deepcopy(boat.base)
    made |= {"id": boat.id, "name": made["name"] + _mark(boat)}
    made["list_price"] = rounded(made["list_price"], boat.factor, 100)
    scale(made, boat.factor, ("length", "beam"))
    base = made["base"]
    scale(base, boat.factor, ("mass", "tooling"))
    for amounts in (base["materials"], base["material"], base["hours"]):
        scale(amounts, boat.factor, tuple(amounts))
    return made


def _read(folder: Path, name: str) -> Block:
    """A file of the catalogue with every value as text, and shared blocks shared."""
    read: Block = yaml.load((folder / name).read_text("utf-8"), yaml.BaseLoader)
    return read
