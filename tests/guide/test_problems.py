"""Every code has a section of the guide, its example is right, and wrong catalogues lead to it."""

from __future__ import annotations

import ast
import csv
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import click
import pytest
import yaml

from quoter.catalogue.load import load_catalogue
from quoter.catalogue.po_files import entries_in
from quoter.cli import main
from quoter.costing.rollup import roll_up
from quoter.guide.topics import PROBLEMS, sections
from quoter.importing.prices import import_prices
from quoter.pricing.price import Pricing
from quoter.problems import CatalogueError, Problem, Problems
from quoter.quotes.request import read_request, sound_wish
from quoter.resources import PACKAGE, demo_catalogue_folder
from tests.catalogue.broken import BAD, SOUND, problems_of, read_broken, write_broken

# Where the code is among the arguments of what makes a problem.
MAKERS = {"fault": 0, "MalformedError": 0, "UnitError": 0, "CellFault": 0, "IntakeError": 0}
MAKERS |= {"Problem": 1, "problem": 1, "_tell": 1, "_doubt": 1, "_refused": 1}
COLLECTING = ("add", "warn")  # of `Problems`
# A code that is handed on from where it was given.
HANDED_ON = re.compile(r"code|\w+\.code|told\['code'\]")
FENCE = re.compile(r"^```(\w+)(?: (\S+))?\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def codes_made() -> Iterator[tuple[str, str]]:
    """Each code, or what stands for one, in a call that makes a problem, and where."""
    for file in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):  # of a refusal, which has the code of its kind
                for line in node.body:
                    if isinstance(line, ast.Assign) and ast.unparse(line.targets[0]) == "code":
                        where = f"{file.relative_to(PACKAGE)}:{line.lineno}"
                        yield str(ast.literal_eval(line.value)), where
            if isinstance(node, ast.Call) and (at := _position(node, file)) is not None:
                code = node.args[at]
                where = f"{file.relative_to(PACKAGE)}:{node.lineno}"
                told = code.value if isinstance(code, ast.Constant) else ast.unparse(code)
                yield str(told), where


def _position(call: ast.Call, file: Path) -> int | None:
    called = ast.unparse(call.func)
    owner, _, name = called.rpartition(".")
    if name in COLLECTING:
        return 1 if owner.endswith("problems") else None
    if name == "refuse":  # a command's own is of another kind
        return 1 if file.name == "outcomes.py" else None
    if owner != ("self" if name == "_tell" else "") and name in ("_tell", "_refused"):
        return None
    return MAKERS.get(name)


def test_every_code_has_a_section_and_every_section_is_of_a_code() -> None:
    made = {code: where for code, where in codes_made() if not HANDED_ON.fullmatch(code)}
    assert {code: at for code, at in made.items() if code not in sections()} == {}
    assert sorted(sections().keys() - made.keys()) == []
    assert len(made) >= 60


def test_the_sections_stand_in_the_order_of_their_codes_and_are_all_there_is() -> None:
    heads = re.findall(r"^## (.*)$", PROBLEMS.read_text(encoding="utf-8"), re.MULTILINE)
    assert heads == sorted(sections())


@pytest.mark.parametrize("code", sections())
def test_a_section_is_a_paragraph_in_few_words_and_an_example(code: str) -> None:
    head, paragraph, *_ = sections()[code].split("\n\n")
    assert head == f"## {code}"
    assert 15 <= len(paragraph.split()) <= 75
    assert FENCE.search(sections()[code])
    assert len(re.findall(r"^```", sections()[code], re.MULTILINE)) == 2 * len(examples(code))


@dataclass(frozen=True)
class Example:
    """A fenced block: the language, the file that it is of, and what it shows."""

    language: str
    file: str
    text: str


def examples(code: str) -> list[Example]:
    return [Example(*found) for found in FENCE.findall(sections()[code])]


def put_into(folder: Path, example: Example) -> None:
    """Write an example into a catalogue: its keys and lines beside, or instead of, those there."""
    path = folder / example.file
    path.parent.mkdir(exist_ok=True)
    if example.language == "csv":
        lines = example.text.splitlines()
        if path.exists():
            there = path.read_text(encoding="utf-8").splitlines()
            assert lines[0] == there[0]
            lines = [*there, *lines[1:]]
        path.write_text("\n".join(lines) + "\n", encoding="utf-8")
        return
    there = yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader) if path.exists() else {}
    found = joined(there, yaml.load(example.text, yaml.BaseLoader))
    path.write_text(yaml.dump(found, allow_unicode=True, sort_keys=False), encoding="utf-8")


def joined(there: object, more: object) -> object:
    """What a file holds with an example's keys; items of a list are told apart by their ids."""
    if isinstance(there, dict) and isinstance(more, dict):
        return there | {key: joined(there.get(key), value) for key, value in more.items()}
    if isinstance(there, list) and isinstance(more, list):
        if not all(isinstance(item, dict) and "id" in item for item in (*there, *more)):
            return more
        found = {item["id"]: item for item in there}
        return [*(found | {m["id"]: joined(found.get(m["id"], {}), m) for m in more}).values()]
    return more


def all_said(folder: Path) -> list[Problem]:
    """Every problem and warning of a catalogue, costing included."""
    try:
        catalogue, warnings = load_catalogue(folder, booked=True)
        found = Problems()
        roll_up(catalogue, found)
    except CatalogueError as stopped:
        return stopped.problems
    return [*warnings, *found.errors, *found.warnings]


SHOWN = [
    code
    for code in sections()
    if any(
        each.language in ("yaml", "csv") and each.file != "request.yaml" for each in examples(code)
    )
]


@pytest.mark.parametrize("code", SHOWN)
def test_an_example_is_right_in_a_sound_catalogue(code: str, tmp_path: Path) -> None:
    folder = shutil.copytree(SOUND, tmp_path / "yard")
    received = [each for each in examples(code) if each.file.startswith("received/")]
    for example in examples(code):
        if example not in received and example.language in ("yaml", "csv"):
            put_into(folder, example)
    said = all_said(folder)
    assert [str(problem) for problem in said if not problem.warning or problem.code == code] == []
    for example in received:
        for described in examples("unknown-code"):
            put_into(folder, described)
        put_into(folder, example)
        read = import_prices(folder, folder / example.file, "fjordglas", date(2026, 12, 1), 0.15)
        assert (read.faults, "resin_lam" in read.done or read.files != {}) == ([], True)


@pytest.mark.parametrize(
    "code", [code for code in sections() if any(e.file == "request.yaml" for e in examples(code))]
)
def test_an_example_of_a_request_is_right(code: str, tmp_path: Path, demo_pricing: Pricing) -> None:
    sound = demo_catalogue_folder() / "requests" / "family_weekender.yaml"
    (tmp_path / "request.yaml").write_bytes(sound.read_bytes())
    for example in examples(code):
        put_into(tmp_path, example)
    wish = sound_wish(read_request(tmp_path / "request.yaml"), demo_pricing)
    assert wish.model.model.id == "coastal_98"


@pytest.mark.parametrize(
    ("code", "example"),
    [(code, each) for code in sections() for each in examples(code) if each.language == "console"],
)
def test_an_example_of_a_command_names_commands_and_options_that_there_are(
    code: str, example: Example
) -> None:
    context = click.Context(main)
    for line in example.text.splitlines():
        sign, program, name, *words = line.split()
        assert (sign, program) == ("$", "quoter")
        command = main.get_command(context, name)
        assert command is not None
        known = {option for each in command.params for option in each.opts}
        assert {word for word in words if word.startswith("--")} <= known


def test_an_example_of_translations_is_read() -> None:
    (example,) = [each for each in examples("bad-po") if each.language == "po"]
    (entry,) = entries_in(example.text)
    assert (entry.context, entry.text) == ("options.hatch.name", "Deck hatch")


def test_an_example_is_of_a_kind_that_is_tried() -> None:
    kinds = {each.language for code in sections() for each in examples(code)}
    assert kinds == {"console", "csv", "po", "yaml"}
    tables = [each for code in sections() for each in examples(code) if each.language == "csv"]
    for table in tables:
        head, *rows = csv.reader(table.text.splitlines())
        assert {len(row) for row in rows} == {len(head)}


# A catalogue that is wrong in one way alone, by the code it leads to.
WRONG = {
    "bad-address": "the_address_of_the_price_sheet_is_a_web_address",
    "bad-bic": "the_code_of_a_bank_has_eight_or_eleven_letters",
    "bad-country": "a_country_is_two_letters_of_the_standard",
    "bad-csv": "a_csv_line_with_too_few_values_is_told",
    "bad-currency": "a_currency_is_three_letters_of_the_standard",
    "bad-iban": "a_bank_account_fails_its_own_check",
    "bad-id": "yaml_traps_are_no_ids",
    "bad-note": "notes_in_parentheses_stand_alone",
    "bad-options": "options_of_a_job_are_ids_with_quantities",
    "bad-po": "a_po_text_without_a_word_is_told",
    "bad-range": "a_range_holds_its_likely_value",
    "bad-shape": "a_shape_of_two_kinds_is_told",
    "bad-yaml": "a_tab_in_yaml_is_told",
    "booked-alike": "rows_alike_under_two_references_are_worth_a_look",
    "booked-twice": "what_is_booked_twice_is_told",
    "broken-rule": "a_boat_that_was_built_against_a_rule_is_worth_a_look",
    "choose-one": "a_loss_is_stated_one_way",
    "date-order": "an_edition_that_ends_before_it_begins_is_told",
    "does-not-fit": "a_core_as_thick_as_its_gap_is_told",
    "empty": "an_empty_csv_file_is_told",
    "encoding": "translations_in_another_encoding_are_told",
    "expired": "a_price_sheet_that_is_out_of_date_is_warned_of",
    "far-ahead": "a_rate_far_ahead_of_the_newest_price_list_is_warned_of",
    "fibre-fraction": "a_fibre_fraction_out_of_range_is_told",
    "file-name": "a_price_list_is_named_by_its_day",
    "headings": "a_file_of_rates_says_how_it_is_laid_out",
    "hours-of-a-day": "nobody_works_more_than_a_day_has",
    "id-twice": "ids_of_dealer_classes_differ",
    "missing-key": "zones_without_resin_are_told",
    "more-returned": "no_more_comes_back_than_was_drawn",
    "never-chosen": "a_package_that_no_model_can_have_is_told",
    "newer-format": "a_catalogue_of_a_newer_format_is_refused_in_words",
    "no-effect": "a_rate_of_the_home_currency_is_told",
    "no-file": "a_missing_file_that_is_needed_only_now_is_told_once",
    "no-unit": "yaml_octal_needs_its_unit_like_any_number",
    "no-value": "an_empty_value_is_no_value",
    "not-a-date": "a_date_in_another_order_is_refused",
    "not-a-month": "overhead_is_of_a_month",
    "not-a-number": "an_exponent_is_written_out",
    "not-in-force": "no_price_list_in_force_yet_is_told",
    "not-offered": "a_standard_option_that_is_not_offered_is_told",
    "out-of-range": "a_fraction_above_one_is_refused",
    "other-station": "hours_at_another_station_than_the_operations_are_worth_a_look",
    "outside-job": "what_is_booked_is_within_the_days_of_its_job",
    "overdue-rise": "a_rise_whose_day_has_come_is_confirmed_or_withdrawn",
    "plain-number": "an_index_value_with_a_unit_is_refused",
    "quote-twice": "a_quote_of_two_jobs_is_worth_a_look",
    "rule-conflict": "an_option_that_names_itself_is_told",
    "shares": "provisions_and_margin_that_take_the_whole_price_are_told",
    "stale": "an_index_value_that_is_old_is_told",
    "standard-options": "standard_options_that_conflict_are_told_once",
    "too-much": "a_text_too_long_is_told",
    "translation": "words_that_join_options_are_translated_alike",
    "two-suppliers": "two_suppliers_that_quote_one_material_are_told",
    "unknown-id": "an_unknown_mould_is_told",
    "unknown-key": "a_misspelt_list_is_told_once",
    "unknown-language": "a_market_has_a_known_language_that_pages_are_written_in",
    "unknown-unit": "an_unknown_unit_names_the_one_likely_meant",
    "unknown-word": "a_format_is_a_whole_number",
    "unprintable": "a_control_character_is_told",
    "values-disagree": "a_floor_above_the_target_is_told",
    "written-twice": "a_text_translated_twice_is_told",
    "wrong-currency": "a_price_in_another_currency_than_its_suppliers_is_told",
    "wrong-structure": "a_list_is_not_a_single_value",
    "wrong-unit": "a_unit_of_the_wrong_kind_is_refused",
}


@pytest.mark.parametrize("code", WRONG)
def test_a_wrong_catalogue_gives_exactly_its_code(code: str, tmp_path: Path) -> None:
    broken = read_broken(BAD / f"{WRONG[code]}.txt")
    found = problems_of(write_broken(broken, tmp_path), broken.as_of)
    told = [problem for problems in found.values() for problem in problems]
    assert {problem.code for problem in told} == {code}
    assert all(f" [{code}]" in str(problem).splitlines()[0] for problem in told)


def test_most_codes_of_a_catalogue_are_led_to() -> None:
    assert len(WRONG) >= 30
    assert WRONG.keys() <= sections().keys()
