"""Why a figure is what it is, down to lines of the catalogue; and why a cost moved."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any, TypeVar

from quoter.analysis.bridge import (
    MATERIAL,
    NOTHING,
    Bridge,
    Change,
    ModelChange,
    planned_weights,
)
from quoter.analysis.ladder import ladders_of
from quoter.analysis.moved import Moved, Moves
from quoter.analysis.stated_share import stated_of
from quoter.catalogue.settings import COMMAND_LINE
from quoter.costing.assembly import Assembly
from quoter.figures import Figure, Origin
from quoter.figures.exact import half_up
from quoter.figures.graph import in_order
from quoter.figures.trail import Step, expression
from quoter.pricing.price import BOAT, Priced, Pricing
from quoter.pricing.sale import Terms
from quoter.problems import nearest

Tree = TypeVar("Tree")


class UnknownFigureError(Exception):
    """Raised when no figure has the asked name; the message names the nearest."""


def find_figures(
    terms: Terms, priced: Priced, name: str, further: Iterable[Figure] = ()
) -> list[Figure]:
    """The figure called `name`: a full key, or its end after the option's own key; else all whose
    names begin with it and a dot, as those of a ladder do; else all that end so, of any part.
    `further` are figures to know besides.

    `more` are figures that stand beside those of the price, such as a cost of another day.

    Raises:
        UnknownFigureError: with the nearest names.
    """
    roots = [priced.list_price, priced.recommended, priced.assembly.mass, priced.assembly.all_hours]
    for part in stated_of(priced.assembly):
        roots += [part.share]
    for sale in priced.sales.values():
        roots += [sale.contribution_fraction, sale.margin_fraction, sale.breach]
    for ladder in ladders_of(terms, priced):
        roots += ladder.rungs
    roots += further
    return figures_named(roots, name, f"{priced.assembly.recipe.key}.")


def figures_named(roots: Iterable[Figure], name: str, own: str = "") -> list[Figure]:
    """The figure called `name` among some and all behind them, by the rules of `find_figures`;
    keys that begin with `own` may be said without it.

    Raises:
        UnknownFigureError: with the nearest names.
    """
    known = {figure.key: figure for figure in in_order(roots) if figure.key}
    for key in (own + name, name):
        if key in known:
            return [known[key]]
    if inside := [figure for key, figure in known.items() if key.startswith(f"{own}{name}.")]:
        return inside
    if ending := [figure for key, figure in known.items() if key.endswith(f".{name}")]:
        return ending
    short = {key.removeprefix(own) for key in known}
    raise UnknownFigureError(f"no figure is called '{name}': {nearest(name, short)}")


def tree_lines(step: Step) -> Iterator[str]:
    """The explanation as an indented tree, a figure a line: value, formula, and where it stands."""
    return drawn(step, _line, lambda inner: inner.steps)


def drawn(
    node: Tree,
    words: Callable[[Tree], str],
    parts: Callable[[Tree], Sequence[Tree]],
    before: str = "",
    last: bool | None = None,
) -> Iterator[str]:
    """Any tree as lines, each a node in words, under what it is a part of."""
    branch = "" if last is None else "└─ " if last else "├─ "
    yield f"{before}{branch}{words(node)}"
    below = before if last is None else before + ("   " if last else "│  ")
    for index, inner in enumerate(parts(node)):
        yield from drawn(inner, words, parts, below, index == len(parts(node)) - 1)


def _line(step: Step) -> str:
    figure = step.figure
    return f"{figure.label or figure.key}: {amount(figure)}{_told(step)}"


def _told(step: Step) -> str:
    if step.figure.origin is not None:
        return f"  {written_at(step.figure.origin)}"
    if step.again:
        return "  (explained above)"
    return f"  = {step.expression}" if step.expression else ""


def written_at(origin: Origin) -> str:
    """Where a value is written, since when it holds, and its note."""
    since = f", since {origin.effective}" if origin.effective else ""
    note = f" ({origin.note})" if origin.note else ""
    place = "set on the command line" if origin.place.file == COMMAND_LINE else origin.place
    return f"[{place}{since}]{note}"


def amount(figure: Figure) -> str:
    """A value with its unit, to nine significant digits at most."""
    if figure.form == "percent":
        return f"{figure.value * 100:.6g} %"
    return f"{figure.value:.9g} {figure.unit}".rstrip()


def as_data(step: Step) -> dict[str, Any]:
    """The explanation as plain data for JSON."""
    figure, origin = step.figure, step.figure.origin
    data: dict[str, Any] = {
        "figure": figure.key,
        "label": figure.label,
        "value": figure.value,
        "unit": str(figure.unit),
    }
    if figure.args:
        data["formula"] = expression(figure)
    if origin is not None:
        data["written"] = origin.text
        data["file"], data["line"] = origin.place.file, origin.place.line
        data |= {k: v for k, v in (("since", origin.effective), ("note", origin.note)) if v}
    if step.steps:
        data["from"] = [as_data(inner) for inner in step.steps]
    return data


CHANGE, TOTAL = "change", "total"
BOAT_WORDS = "Boat with standard equipment"


class UnknownChangeError(Exception):
    """Raised when the two sides don't both have what is asked about; the message says what."""


@dataclass(frozen=True, slots=True)
class Node:
    """A line of the tree: its words, the same as data, and what it is made of."""

    words: str
    data: Mapping[str, Any] = field(default_factory=dict)
    parts: tuple[Node, ...] = ()


@dataclass(frozen=True, slots=True)
class Component:
    """What a total is made of: a change, how often it counts, and its outputs on both sides."""

    id: str
    change: Change
    weight: float
    old: tuple[Figure, ...]
    new: tuple[Figure, ...]


class Explainer:
    """Two priced catalogues with their bridge, asked why one of its numbers is what it is."""

    def __init__(self, before: Pricing, after: Pricing, bridge: Bridge) -> None:
        """Keep the three; `bridge` compares the two."""
        self._before, self._after, self._bridge = before, after, bridge
        self._moves = Moves(before.costing, after.costing)

    def item(self, model: str, option: str = BOAT) -> Node:
        """The change of a boat's cost, or an option's.

        Raises:
            UnknownChangeError: unless both sides have it.
        """
        found = self._model(model)
        if option and option not in found.options:
            hint = nearest(option, found.options)
            raise UnknownChangeError(f"'{model}' has no option '{option}' on both sides: {hint}")
        change = found.options[option] if option else found.boat
        name = change.name if option else f"{found.name}, {BOAT_WORDS.lower()}"
        old, new = self._costs(model, option, "")
        return self._changed(name, change, "", [], [Component(option, change, 1.0, old, new)])

    def model(self, model: str) -> Node:
        """The change of a model's total: its boat and options, by how often each is planned.

        Raises:
            UnknownChangeError: unless both sides have the model.
        """
        found = self._model(model)
        parts = list(self._items(found))
        made = [_weighed(part, self._bridge.currency) for part in parts]
        return self._changed(found.name, found.total, _basis(found.planned), made, parts)

    def yard(self) -> Node:
        """The change of all models together, by model and by class of material."""
        bridge = self._bridge
        parts = [
            Component(model.id, model.total, 1.0, *self._outputs(model, ""))
            for model in self._counted()
        ]
        made = [_weighed(part, bridge.currency) for part in parts]
        root = self._changed("All models", bridge.total, _basis(bridge.planned), made, parts)
        classes = tuple(self._class(name, change) for name, change in bridge.classes.items())
        inside = [Node("By class of material", {"name": "classes"}, classes)] if classes else []
        return replace(root, parts=(*root.parts, *inside))

    def _class(self, name: str, change: Change) -> Node:
        parts = [
            Component(m.id, replace(m.classes[name], name=m.name), 1.0, *self._outputs(m, name))
            for m in self._counted()
            if name in m.classes
        ]
        made = [_weighed(part, self._bridge.currency) for part in parts]
        return self._changed(change.name, change, _basis(self._bridge.planned), made, parts)

    def _model(self, model: str) -> ModelChange:
        if model not in self._bridge.models:
            hint = nearest(model, self._bridge.models)
            raise UnknownChangeError(f"no model '{model}' is on both sides: {hint}")
        return self._bridge.models[model]

    def _counted(self) -> list[ModelChange]:
        bridge = self._bridge
        return [m for m in bridge.models.values() if m.planned or not bridge.planned]

    def _weights(self, model: ModelChange) -> dict[str, float]:
        """How often the boat and each option count in a model's total, those on both sides."""
        now = self._after.models[model.id]
        weights = planned_weights(self._before, self._after, now) or {BOAT: 1.0}
        return {o: w for o, w in weights.items() if o == BOAT or o in model.options}

    def _items(self, model: ModelChange) -> Iterator[Component]:
        for option, weight in self._weights(model).items():
            change = model.options[option] if option else replace(model.boat, name=BOAT_WORDS)
            yield Component(option, change, weight, *self._costs(model.id, option, ""))

    def _outputs(self, model: ModelChange, name: str) -> tuple[tuple[Figure, ...], ...]:
        """The costs, or those of a class of material, of all that counts in a model's total."""
        sides = [self._costs(model.id, option, name) for option in self._weights(model)]
        return tuple(tuple(f for side in sides for f in side[which]) for which in (0, 1))

    def _costs(self, model: str, option: str, name: str) -> tuple[tuple[Figure, ...], ...]:
        found = []
        for pricing in (self._before, self._after):
            priced = pricing.models[model]
            assembly = (priced.options[option] if option else priced.boat).assembly
            found.append((_cost(assembly, name),))
        return tuple(found)

    def _changed(
        self,
        name: str,
        change: Change,
        basis: str,
        made: Sequence[Node],
        parts: Sequence[Component],
    ) -> Node:
        """A change with its causes, each with its shares in the parts and what moved under it."""
        bridge, many = self._bridge, bool(made)
        moved = self._moves.of([f for p in parts for f in p.old], [f for p in parts for f in p.new])
        causes = []
        for cause, share in change.largest:
            inner = list(_contributions(cause, parts, bridge.currency)) if many else []
            inner += [_moved_node(each) for each in moved.get(cause, ())]
            words = f"{bridge.causes[cause]}: {signed(share, bridge.currency)}"
            data = {"cause": cause, "name": bridge.causes[cause], "share": share}
            causes.append(Node(words, data, tuple(inner)))
        data = {"name": change.name, "old": change.old, "new": change.new, "change": change.change}
        percent = "" if change.fraction is None else f" ({_rounded(change.fraction * 100, 1):+} %)"
        words = (
            f"{name}: change in cost{basis}, {bridge.old} to {bridge.new}: "
            f"{signed(change.change, bridge.currency)}{percent} = "
            f"{money(change.new)} - {money(change.old)}"
        )
        whole = [Node("Made of", {"name": "made of"}, tuple(made))] if many else []
        return Node(words, data | {"currency": bridge.currency}, (*causes, *whole))


def change_lines(node: Node) -> Iterator[str]:
    """The tree as indented lines."""
    return drawn(node, lambda inner: inner.words, lambda inner: inner.parts)


def change_data(node: Node) -> dict[str, Any]:
    """The tree as plain data for JSON."""
    inside = {"from": [change_data(inner) for inner in node.parts]} if node.parts else {}
    return dict(node.data) | inside


def cut(node: Node, depth: int) -> Node:
    """The tree, at most so many levels deep."""
    inner = tuple(cut(part, depth - 1) for part in node.parts) if depth > 0 else ()
    return replace(node, parts=inner)


def money(value: float) -> str:
    """An amount of home currency to its hundredths, halves away from zero, as pages show it."""
    return f"{_rounded(value, 2):,}"


def signed(value: float, currency: str) -> str:
    """A change of cost with its sign and currency."""
    rounded = _rounded(value, 2)
    return f"{rounded:+,} {currency}" if rounded else f"{rounded} {currency}"


def _rounded(value: float, digits: int) -> Decimal:
    return half_up(Decimal(repr(value)), digits)


def _basis(planned: bool) -> str:
    return " of the year's plan at the new volumes" if planned else " of one boat each"


def _cost(assembly: Assembly, name: str) -> Figure:
    return assembly.elements.get(f"{MATERIAL}{name}", NOTHING) if name else assembly.cost


def _weighed(part: Component, currency: str) -> Node:
    """A part of a total: how often it counts, and what it was and is."""
    change, id = part.change, part.id or "boat"
    times = "" if part.weight == 1.0 else f"{part.weight:g} × "
    words = (
        f"{change.name} [{id}]: {times}({money(change.new)} - {money(change.old)}) = "
        f"{signed(part.weight * change.change, currency)}"
    )
    data = {"id": id, "name": change.name, "weight": part.weight}
    return Node(words, data | {"old": change.old, "new": change.new, "change": change.change})


def _contributions(cause: str, parts: Iterable[Component], currency: str) -> Iterator[Node]:
    """The share of a cause in each part, times how often that counts."""
    for part in parts:
        share = part.change.shares.get(cause, 0.0)
        if not share:
            continue
        times = f"{part.weight:g} × {share:+,.4f} = " if part.weight != 1.0 else ""
        words = f"{part.change.name}: {times}{signed(part.weight * share, currency)}"
        data = {"id": part.id or "boat", "name": part.change.name, "weight": part.weight}
        yield Node(words, data | {"share": share})


def _moved_node(moved: Moved) -> Node:
    words = f"{moved.label}: {_side(moved.old)} → {_side(moved.new)}"
    data = {"name": moved.label, "old": _side_data(moved.old), "new": _side_data(moved.new)}
    return Node(words, data, tuple(_moved_node(line) for line in moved.lines))


def _side(figure: Figure | None) -> str:
    if figure is None:
        return "nothing"
    place = f" {written_at(figure.origin)}" if figure.origin is not None else ""
    return f"{amount(figure)}{place}"


def _side_data(figure: Figure | None) -> dict[str, Any] | None:
    if figure is None:
        return None
    data: dict[str, Any] = {"figure": figure.key, "value": figure.value, "unit": str(figure.unit)}
    origin = figure.origin
    if origin is not None:
        data |= {"written": origin.text, "file": origin.place.file, "line": origin.place.line}
        data |= {k: v for k, v in (("since", origin.effective), ("note", origin.note)) if v}
    return data
