"""Every key of the catalogue is described where it stands, and the reference is made of that."""

from __future__ import annotations

import json
import re
from collections import defaultdict
from collections.abc import Iterator
from typing import Annotated, Any

import pytest
import yaml
from jsonschema import Draft202012Validator
from pydantic import TypeAdapter

from quoter.catalogue import fields as f
from quoter.catalogue.checks_options import CLASSES
from quoter.catalogue.checks_parts import LONGEST_RUN, STANDARD_ATMOSPHERE_KPA
from quoter.catalogue.measures import Measure
from quoter.catalogue.prices import USUAL_LIMIT
from quoter.catalogue.record import CatalogueRecord, Many
from quoter.catalogue.reference import (
    BY_ID,
    LIST,
    FileTold,
    Key,
    files_told,
    keys_of,
    records_within,
    strings_under_fields,
)
from quoter.catalogue.schema import schemas
from quoter.catalogue.source import Block, Items, Text
from quoter.formats import CATALOGUE, REQUEST
from quoter.guide.keys import key_told, keys_index, keys_topics
from quoter.importing.rates import OLDEST
from quoter.problems import Place

FILES = files_told()
TOLD = [(file.name, told) for file in FILES.values() for told in file.records]
RECORDS = {told.record: told for _, told in TOLD}
SCHEMAS = {name: json.loads(text) for name, text in schemas().items()}
HERE = Place("example.yaml", 1, 1)
LONGEST_CELL = 260


class Base(CatalogueRecord):
    """What others are made from."""

    depth: f.Length
    """How deep it is.
    Example: `40 mm`"""
    colour: f.Words
    """Which colour it has.
    Example: `red`"""


class Small(Base):
    """A record with a key that nobody described, and one without an example."""

    colour: f.Words
    """Which colour it has inside.
    Unless given: as
    outside.
    Example: `blue`
    Since: 0.2.0"""
    weight: f.Mass | None = None
    price: f.Money | None = None
    """What it costs."""
    inner: Many[Base] = ()
    """What it holds."""
    note: f.Note | None = None


def faults(record: type[CatalogueRecord]) -> Iterator[str]:
    """Keys of a record that say too little."""
    for key in keys_of(record):
        if not key.description.endswith("."):
            yield f"{record.__name__}.{key.name} has no description in sentences"
        if key.block is None and not key.example:
            yield f"{record.__name__}.{key.name} has no example"
        if key.unless_given and key.default:
            yield f"{record.__name__}.{key.name} says its default {key.default} a second time"


def test_every_key_of_every_record_has_a_description_and_an_example() -> None:
    assert len(RECORDS) > 50
    assert [fault for record in RECORDS for fault in faults(record)] == []


def test_every_record_says_what_it_is() -> None:
    assert [told.record.__name__ for _, told in TOLD if not told.description.endswith(".")] == []


def test_a_key_without_description_or_example_is_found() -> None:
    assert list(faults(Small)) == [
        "Small.weight has no description in sentences",
        "Small.weight has no example",
        "Small.price has no example",
    ]


def test_the_string_under_a_field_is_its_own_or_the_nearest_it_is_inherited_from() -> None:
    assert strings_under_fields(Small)["depth"] == "How deep it is.\nExample: `40 mm`"
    depth, colour, weight, _, inner, note = keys_of(Small)
    assert (depth.description, depth.since) == ("How deep it is.", "0.1.0")
    assert (colour.description, colour.example) == ("Which colour it has inside.", "blue")
    assert (colour.unless_given, colour.since) == ("as outside", "0.2.0")
    assert (weight.units[:2], weight.limits, weight.needed) == (("kg", "lb"), "at least 0", False)
    assert (inner.block, inner.form) == (Base, LIST)
    assert note.description.startswith("For the yard alone")


def test_records_within_one_another_are_told_once_from_the_outermost() -> None:
    assert [told.record for told in records_within(Small)] == [Small, Base]
    assert records_within(Small)[1].names == ("inner",)


def node(value: Any) -> Any:
    """What was parsed, as the catalogue's reader gives it."""
    if isinstance(value, dict):
        block = Block.at(HERE)
        block.update({Text.at(key, HERE): node(inner) for key, inner in value.items()})
        return block
    if isinstance(value, list):
        return Items(map(node, value))
    return Text.at(value, HERE, "a.key", "thing, key")


def every_key() -> Iterator[tuple[type[CatalogueRecord], Key]]:
    for record, told in RECORDS.items():
        yield from ((record, key) for key in told.keys)


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__name__)
def test_every_example_and_default_is_read_by_the_type_of_its_key(
    record: type[CatalogueRecord],
) -> None:
    for key in RECORDS[record].keys:
        reading: TypeAdapter[Any] = TypeAdapter(record.model_fields[key.name].rebuild_annotation())
        if key.example:
            parsed = yaml.load(key.example, yaml.BaseLoader)
            assert (key.form in (LIST, BY_ID)) == (not isinstance(parsed, str)), key.name
            reading.validate_python(node(parsed))
        if key.default:
            reading.validate_python(node(key.default))


def test_every_unit_that_is_named_is_read() -> None:
    read = 0
    for record, key in every_key():
        number = key.example.partition(" ")[0].strip("[{")
        for unit in key.units:
            assert isinstance(key.reading, Measure)
            words = f"{number} {unit}" if key.form != BY_ID else f"1 {unit}"
            assert key.reading(node(words)).value is not None, (record, key.name)
            read += 1
    assert read > 200


def test_the_limits_that_are_told_are_those_of_the_type() -> None:
    found = {(record.__name__, key.name): key for record, key in every_key()}
    assert found["Glass", "loss"].limits == "at least 0 % and less than 100 %"
    mass = found["Glass", "areal_mass"]
    assert (mass.units[0], mass.limits, mass.needed) == ("g/m2", "more than 0", True)
    assert mass.written == "a quantity in `g/m2`, `oz/ft2`, `kg/m2`, `oz/yd2`; more than 0"
    assert found["Glass", "form"].choices[0] == "mat"
    assert found["Option", "requires"].written == "a list; each the id of an option"
    assert found["BaseBoat", "hours"].form == BY_ID
    assert found["Station", "allowance_basis"].default == "work"
    assert found["VolumeRow", "boats"].needed is False
    assert found["VolumeRow", "model"].needed is True


def test_no_two_keys_of_different_meaning_are_described_alike() -> None:
    """Word for word alike are only keys of one name that are written alike."""
    meanings = defaultdict(set)
    for _, key in every_key():
        meanings[key.description].add((key.name, key.written))
    assert {words: keys for words, keys in meanings.items() if len(keys) > 1} == {}


def test_a_number_that_a_description_repeats_is_the_program_s() -> None:
    found = {(record.__name__, key.name): key for record, key in every_key()}
    assert found["Policy", "import_limit"].unless_given == f"{USUAL_LIMIT * 100:g} %"
    assert f"at most {LONGEST_RUN:,} of them" in found["Learning", "last"].description
    for name in ("flange_pressure", "cavity_pressure"):
        told = found["Vacuum", name].description
        assert told.endswith(f"at most {STANDARD_ATMOSPHERE_KPA} kPa.")
    assert f"({', '.join(CLASSES)})" in found["BaseBoat", "material"].description
    days = f"the newest at most {OLDEST} days before."
    assert found["RateHeadings", "date"].description.endswith(days)
    assert f"now {CATALOGUE.newest};" in found["Yard", "format"].description
    assert f"now {REQUEST.newest}." in found["Request", "format"].description


# What a description names in backticks and is no key: a word to choose, part of a command, a file.
OTHERWISE_KNOWN = {"hull", "none", "yes", "no"}


def test_what_a_description_names_is_there() -> None:
    known = {*keys_index(), *OTHERWISE_KNOWN}
    known |= {word for _, key in every_key() for word in key.choices}
    for record, told in RECORDS.items():
        for words in (told.description, *(key.description for key in told.keys)):
            for named in re.findall(r"`([a-z_]+)`", words):
                assert named in known, (record.__name__, named)
            for file in re.findall(r"\b((?:[a-z_]+/)?[a-z_]+\.(?:csv|yaml))\b", words):
                assert file in FILES, (record.__name__, file)


@pytest.mark.parametrize("file", FILES)
def test_a_topic_names_every_key_of_its_file_with_what_it_is(file: str) -> None:
    topic = f"keys-{file.removesuffix('.yaml')}" if file.endswith(".yaml") else "keys-tables"
    text = keys_topics()[topic]
    for told in FILES[file].records:
        for key in told.keys:
            (row,) = {
                line
                for line in text.splitlines()
                if line.startswith(f"| `{key.name}` | {key.description} |") and key.example in line
            }
            assert row.endswith("` |" if key.example else "|  |")


def test_the_topics_are_those_of_the_files_and_end_in_one_line() -> None:
    topics = keys_topics()
    assert sorted(topics) == [
        *("keys-laminates", "keys-materials", "keys-models", "keys-moulds", "keys-options"),
        *("keys-parts", "keys-request", "keys-stations", "keys-suppliers", "keys-tables"),
        "keys-yard",
    ]
    assert topics == keys_topics()
    assert topics["keys-materials"].startswith("# The keys of materials.yaml\n\nThe file of mat")
    for text in topics.values():
        assert text.endswith("otherwise.\n")
        assert "\n\n\n" not in text


def test_a_table_has_five_cells_a_line_and_each_is_short_enough_to_read() -> None:
    for text in keys_topics().values():
        for line in text.splitlines():
            if line.startswith("|"):
                cells = re.split(r"(?<!\\)\|", line)[1:-1]
                assert len(cells) == 5, line
                assert max(map(len, cells)) <= LONGEST_CELL, line


def test_a_record_is_headed_by_its_name_in_the_file_and_says_where_it_stands() -> None:
    text = keys_topics()["keys-options"]
    assert "## shape, per_model\n\nDimensions of a part" in text
    assert "\n\nStands in `parts`, `credits`.\n\n" in text
    assert "## glass\n\nA reinforcement by areal mass.\n" in keys_topics()["keys-materials"]


def test_keys_that_several_records_have_in_common_are_told_once() -> None:
    text = keys_topics()["keys-parts"]
    assert text.count("| `batch` |") == 1
    assert "## open_mould, infused, closed_mould, core\n\nWhat every part has.\n" in text
    alike = "[open_mould, infused, closed_mould, core](#open_mould-infused-closed_mould-core)"
    assert text.count(f"\n\nIt also has the keys under {alike}.") == 4
    assert "a list of blocks, see [`closed_mould`](#closed_mould)" in text


def test_a_key_is_found_in_the_topics_that_have_it() -> None:
    index = keys_index()
    assert index["areal_mass"] == ["keys-materials"]
    assert index["take_rate"] == ["keys-tables"]
    assert index["shape"] == ["keys-parts", "keys-options", "keys-models"]
    assert list(index) == sorted(index)
    assert {topic for topics in index.values() for topic in topics} == {*keys_topics()}


def test_a_key_by_itself_is_told_with_every_place_it_stands_in() -> None:
    assert key_told("areal_mass") == (
        "# areal_mass\n\n## materials.yaml: glass\n\n"
        "Dry mass of one layer by area, or of one pass of the gun; glass, resin and thickness of "
        "every zone it is laid in follow. Ounces alone are per `ft2` for mat, per `yd2` for woven "
        "and stitched glass, as the trade names them.\n\n"
        "- written as: a quantity in `g/m2`, `oz/ft2`, `kg/m2`, `oz/yd2`; more than 0\n"
        "- given: always\n- example: `areal_mass: 450 g/m2`\n"
    )
    assert "\n\n## materials.yaml: glass, resins, gelcoats, cat" in key_told("pack")
    assert "## parts.yaml: rework; options.yaml: rework; models.yaml: rework\n" in key_told("share")
    assert "\n\n## volumes.csv\n\n" in key_told("boats")
    assert "- given: may be empty\n- example: `50`\n" in key_told("boats")
    assert "\n\n## actuals/jobs.csv\n\nHow many alike." in key_told("boats")
    assert key_told("favourite_radio") == ""
    assert all(key_told(name).startswith(f"# {name}\n") for name in keys_index())


def properties(file: str) -> Iterator[tuple[Key, Any]]:
    schema = SCHEMAS[file.replace(".yaml", ".schema.json")]
    for number, told in enumerate(FILES[file].records):
        one = schema["$defs"][told.record.__name__] if number else schema
        yield from ((key, one["properties"][key.name]) for key in told.keys)


@pytest.mark.parametrize("file", [name for name in FILES if name.endswith(".yaml")])
def test_the_schema_for_editors_says_of_a_key_what_the_reference_does(file: str) -> None:
    schema = SCHEMAS[file.replace(".yaml", ".schema.json")]
    for key, told in properties(file):
        assert told["description"].startswith(key.description)
        assert told.get("default", "") == key.default
        if key.example:
            (example,) = told["examples"]
            found = Draft202012Validator({**told, "$defs": schema["$defs"]}).iter_errors(example)
            assert [fault.message for fault in found] == []
        else:
            assert key.block is not None


def test_a_bar_in_a_cell_is_escaped(monkeypatch: pytest.MonkeyPatch) -> None:
    class Barred(CatalogueRecord):
        """A record."""

        either: Annotated[Text, f.ref("option")]
        """One | the other.
        Example: `a`"""

    file = FileTold("yard.yaml", records_within(Barred))
    monkeypatch.setattr("quoter.guide.keys.files_told", lambda: {"yard.yaml": file})
    assert "| `either` | One \\| the other. |" in keys_topics()["keys-yard"]
