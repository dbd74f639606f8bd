"""The elements a cost is made of; they keep their names from a part up to a configured boat.

Material with what comes on top of it, labour, tooling and variable station overhead vary with the
boats built; fixed station overhead, general overhead and one-off costs don't. Rework and yield loss
have a part of either kind.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from quoter.figures import Figure, total
from quoter.phrases import capital, phrase, together

# group -> (what people call it, whether it varies with the number of boats built)
GROUPS: dict[str, tuple[str, bool]] = {
    "material": (phrase("Material"), True),
    "batch_material": (phrase("Material per batch"), True),
    "handling": (phrase("Material handling"), True),
    "ordering": (phrase("Order freight and minimum orders"), True),
    "inventory": (phrase("Inventory and working capital"), True),
    "waste": (phrase("Waste disposal"), True),
    "labour": (phrase("Labour"), True),
    "tooling": (phrase("Tooling"), True),
    "overhead_variable": (phrase("Station overhead, variable"), True),
    "overhead_fixed": (phrase("Station overhead, fixed"), False),
    "general_overhead": (phrase("General overhead"), False),
    "one_off": (phrase("Design and certification"), False),
    "rework_variable": (phrase("Rework, variable cost"), True),
    "rework_fixed": (phrase("Rework, fixed cost"), False),
    "yield_variable": (phrase("Yield loss, variable cost"), True),
    "yield_fixed": (phrase("Yield loss, fixed cost"), False),
}

# What tables and charts show; rework and yield loss each in one column, whatever their kind.
SHOWN: dict[str, str] = {
    group: words
    for group, (words, _) in GROUPS.items()
    if not group.startswith(("rework", "yield"))
} | {"rework": phrase("Rework"), "yield": phrase("Yield loss")}

# What an element is of, in words: classes of material, and what is spent once.
DETAILS: dict[str, str] = {
    "glass": phrase("glass"),
    "resin": phrase("resin"),
    "gelcoat": phrase("gelcoat"),
    "catalyst": phrase("catalyst"),
    "foam": phrase("foam"),
    "hardware": phrase("hardware"),
    "core": phrase("core"),
    "consumable": phrase("consumable"),
    "other": phrase("other"),
    "design": phrase("design"),
    "tooling_design": phrase("tooling design"),
    "certification": phrase("certification"),
}

# What is there only where a catalogue states it, and is shown nowhere where none does.
IF_STATED = ("batch_material", "ordering", "inventory", "waste", "one_off")


def shown_groups(found: Iterable[Mapping[str, object]]) -> dict[str, str]:
    """The groups that a table of several costs shows, each cost by group: all but what no
    catalogue line is behind."""
    present = {group for groups in found for group in groups}
    return {
        group: words for group, words in SHOWN.items() if group in present or group not in IF_STATED
    }


def group_of(element: str) -> str:
    """The group of an element such as ``labour.gelcoat``."""
    return element.partition(".")[0]


def varies(element: str) -> bool:
    """Whether an element is a variable cost."""
    return GROUPS[group_of(element)][1]


def in_element_order(elements: Iterable[str]) -> list[str]:
    """Elements by group, then as they first came."""
    groups = list(GROUPS)
    return sorted(dict.fromkeys(elements), key=lambda element: groups.index(group_of(element)))


def summed(
    parts: Iterable[Mapping[str, Figure]],
    zero: Figure,
    key: str,
    name: str,
    stations: Mapping[str, str],
) -> dict[str, Figure]:
    """Element by element sums of several costs, each sum with a name of its own.

    Args:
        parts: the costs by element
        zero: of their unit
        key: begins the sums' keys
        name: begins their labels
        stations: names by id
    """
    terms: dict[str, list[Figure]] = {}
    for part in parts:
        for element, figure in part.items():
            terms.setdefault(element, []).append(figure)
    return {
        element: total(terms[element], zero).named(
            f"{key}.{element}", together(": ", (name, label_of(element, stations)))
        )
        for element in in_element_order(terms)
    }


def label_of(element: str, stations: Mapping[str, str]) -> str:
    """What people call an element: ``Material, gelcoat``, or ``Labour, Hand lay-up``.

    Args:
        element: its id
        stations: names by id
    """
    name, words = GROUPS[group_of(element)][0], detail_of(element, stations)
    return phrase("{name}, {what}", name=name, what=words) if words else name


def detail_of(element: str, stations: Mapping[str, str]) -> str:
    """What an element is of, within its group: a station by its name, a class, or nothing."""
    group, _, detail = element.partition(".")
    if group == "labour" and detail in stations:
        return stations[detail]
    return in_words(detail)


def in_words(detail: str) -> str:
    """What people call a class of material, or a kind of what is spent once, in a sentence."""
    return DETAILS.get(detail) or detail.replace("_", " ")


def class_words(name: str) -> str:
    """What people call a material class, as a heading."""
    return capital(in_words(name))


def by_group(elements: Mapping[str, Figure], zero: Figure) -> dict[str, Figure]:
    """The sum of the elements of each shown group that occurs."""
    terms: dict[str, list[Figure]] = {}
    for element, figure in elements.items():
        terms.setdefault(shown_group(element), []).append(figure)
    return {group: total(terms[group], zero) for group in SHOWN if group in terms}


def shown_group(element: str) -> str:
    """The column an element is shown in."""
    group = group_of(element)
    return group if group in SHOWN else group.partition("_")[0]
