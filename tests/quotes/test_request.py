"""Requests: what is asked for is found in the catalogue, and every fault is told at its place."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from quoter.catalogue.source import Text
from quoter.pricing.price import Pricing
from quoter.problems import CatalogueError, Place
from quoter.quotes.request import read_request, recorded_request, sound_wish
from tests.demo import DEMO

SOUND = """\
date: 2026-11-25
prepared_by: Ilse Maravant
market: home
buyer: direct
customer: {name: Torbenia Quell}
model: weekender_86
options:
  - {option: side_single}
  - {option: seat_base, quantity: 1}
colour: hull_blue
"""


def told(tmp_path: Path, text: str, pricing: Pricing) -> str:
    """What is said of a request, without its excerpts."""
    path = tmp_path / "request.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(CatalogueError) as fault:
        sound_wish(read_request(path), pricing)
    problems = fault.value.problems
    return "\n".join(f"{p.place.clickable}: {p.what}; {p.hint}" for p in problems)


def test_a_sound_request_is_found_in_the_catalogue(tmp_path: Path, demo_pricing: Pricing) -> None:
    path = tmp_path / "request.yaml"
    path.write_text(SOUND, encoding="utf-8")
    wish = sound_wish(read_request(path), demo_pricing)
    assert wish.request.date == date(2026, 11, 25)
    assert wish.chosen == {"side_single": 1, "seat_base": 1, "hull_blue": 1}
    assert (wish.market.id, wish.buyer.id, wish.scheme.id) == ("home", "direct", "domestic")
    assert wish.delivery is wish.policy.delivery


def test_a_recorded_request_is_the_request_as_it_was(tmp_path: Path, demo_pricing: Pricing) -> None:
    path = DEMO / "requests" / "family_weekender.yaml"
    asked = read_request(path)
    again = recorded_request(asked.written, "record.json")
    assert again.written == asked.written
    old, new = (sound_wish(each, demo_pricing) for each in (asked, again))
    assert (new.chosen, new.delivery.term, new.request.note) == (
        old.chosen,
        old.delivery.term,
        old.request.note,
    )
    assert new.delivery.price is not None
    assert old.delivery.price is not None
    assert new.delivery.price.value == old.delivery.price.value == 1450


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (
            "market: home",
            "market: hom",
            "request.yaml:3:9: unknown market 'hom'; did you mean 'home'?",
        ),
        (
            "buyer: direct",
            "buyer: dealer",
            "request.yaml:4:8: unknown dealer class 'dealer'; "
            "expected one of 'area', 'contract', 'direct'",
        ),
        (
            "model: weekender_86",
            "model: weekender",
            "request.yaml:6:8: unknown model 'weekender'; did you mean 'weekender_86'?",
        ),
        (
            "option: side_single",
            "option: side_singel",
            "request.yaml:8:14: the Orvesund 8.6 Weekender can't be had with 'side_singel'; "
            "did you mean 'side_single'?",
        ),
        (
            "option: side_single",
            "option: anchor_lid",
            "request.yaml:8:14: Anchor locker lid is standard on the Orvesund 8.6 Weekender; "
            "leave it out: the boat's price includes it",
        ),
        (
            "option: side_single",
            "option: seat_base",
            "request.yaml:9:14: 'seat_base' is chosen twice; write its quantity once",
        ),
        (
            "colour: hull_blue",
            "colour: deck_hatch",
            "request.yaml:10:9: Deck hatch is no colour; expected one of 'hull_blue', 'hull_grey'",
        ),
        (
            "quantity: 1}",
            "quantity: 9}",
            "request.yaml:9:14: at most 4 of Seat base can be fitted; "
            "change the selection: add what is needed, or drop one",
        ),
        (
            "date: 2026-11-25",
            "date: 2026-11-25\nvalid_until: 2026-10-25",
            "request.yaml:1:1: the quote ends on 2026-10-25, before it is issued on 2026-11-25; "
            "expected a day after the issue",
        ),
        (
            "customer: {name: Torbenia Quell}",
            "customer: {nam: Torbenia Quell}",
            "request.yaml:5:12: unknown key 'nam'; did you mean 'name'?",
        ),
        (
            "prepared_by: Ilse Maravant\n",
            "",
            "request.yaml:1:1: nobody is named who prepares the quote; "
            "write 'prepared_by', or add --by NAME",
        ),
        (
            "prepared_by: Ilse Maravant",
            "preparedby: Ilse Maravant",
            "request.yaml:2:1: unknown key 'preparedby'; did you mean 'prepared_by'?",
        ),
        (
            "colour: hull_blue",
            "shown_total: 57123.40 USD",
            "request.yaml:10:14: USD in the market 'home', which sells in EUR; "
            "write the shown total in EUR, or name the market it was shown in",
        ),
        (
            "colour: hull_blue",
            "shown_total: 57123.40 QQQ",
            "request.yaml:10:14: QQQ in the market 'home', which sells in EUR; "
            "write the shown total in EUR, or name the market it was shown in",
        ),
        (
            "colour: hull_blue",
            "shown_total: 57123.40 Euro",
            "request.yaml:10:14: shown total '57123.40 Euro' has an unknown unit 'Euro'; "
            "write for example '1500 EUR'",
        ),
        (
            "colour: hull_blue",
            "shown_total: 57123.40",
            "request.yaml:10:14: shown total '57123.40' needs a unit; write for example '1500 EUR'",
        ),
        (
            "colour: hull_blue",
            'price_sheet: ""',
            "request.yaml:10:14: price sheet has no value; write a text",
        ),
    ],
)
def test_a_fault_is_told_at_its_place(
    tmp_path: Path, demo_pricing: Pricing, old: str, new: str, says: str
) -> None:
    assert SOUND.count(old) == 1
    assert told(tmp_path, SOUND.replace(old, new), demo_pricing) == says


def test_rules_are_told_in_words_a_salesperson_understands(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    both = SOUND.replace("- {option: seat_base, quantity: 1}", "- {option: side_pair}")
    said = told(tmp_path, both, demo_pricing)
    assert (
        "request.yaml:8:14: a boat can have one arrangement of side entries; "
        "this one has Side entry, single and Side entry, pair"
    ) in said
    hoist = SOUND.replace("weekender_86", "coastal_98").replace("side_single", "ramp_hoist")
    assert "Ramp hoist needs Side entry, fold-down ramp" in told(tmp_path, hoist, demo_pricing)


def test_what_a_package_holds_already_is_told_with_its_name(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    twice = SOUND.replace("seat_base, quantity: 1", "easy_boarding")
    assert told(tmp_path, twice, demo_pricing) == (
        "request.yaml:8:14: Side entry, single is in the package 'easy_boarding' already; "
        "leave one of the two out"
    )
    many = SOUND.replace("quantity: 1}", "quantity: 4}\n  - {option: day_fishing}")
    assert (
        "at most 4 of Seat base can be fitted, and the package 'day_fishing' holds it as well"
    ) in told(tmp_path, many, demo_pricing)


def given(**said: str) -> dict[str, Text]:
    """What options of the command line say instead of a request."""
    return {key: Text.at(value, Place(f"--{key}")) for key, value in said.items()}


def test_what_the_command_line_says_outranks_the_file(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    path = tmp_path / "request.yaml"
    for text in (SOUND, SOUND.replace("prepared_by: Ilse Maravant\n", "")):
        path.write_text(text.replace("buyer: direct", "buyer: area"), encoding="utf-8")
        asked = read_request(path, given(buyer="contract", prepared_by="Odd Harrow"))
        wish = sound_wish(asked, demo_pricing)
        assert (wish.buyer.id, wish.prepared_by) == ("contract", "Odd Harrow")
        assert (wish.written["buyer"], wish.written["prepared_by"]) == ("contract", "Odd Harrow")
    path.write_text(SOUND, encoding="utf-8")
    with pytest.raises(CatalogueError) as fault:
        sound_wish(read_request(path, given(buyer="dealer")), demo_pricing)
    assert str(fault.value).startswith("--buyer: unknown dealer class 'dealer' [unknown-id]\n")
    for name in ("", "Odd\x07"):
        with pytest.raises(
            CatalogueError, match=r"^--prepared_by: prepared by h(as no value|olds a mark)"
        ):
            read_request(path, given(prepared_by=name))


def test_a_class_that_nobody_named_is_recorded_so_that_a_requote_has_the_same(
    tmp_path: Path, demo_pricing: Pricing
) -> None:
    path = tmp_path / "request.yaml"
    path.write_text(SOUND.replace("buyer: direct\n", ""), encoding="utf-8")
    wish = sound_wish(read_request(path), demo_pricing)
    assert (wish.request.buyer, wish.buyer.id) == (None, "direct")
    again = sound_wish(recorded_request(wish.written, "record.json"), demo_pricing)
    assert again.request.buyer == "direct"
    assert again.written == wish.written


def test_many_faults_are_told_at_once(tmp_path: Path, demo_pricing: Pricing) -> None:
    text = SOUND.replace("market: home", "market: x").replace("option: side_single", "option: y")
    assert len(told(tmp_path, text, demo_pricing).splitlines()) == 2


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(CatalogueError, match=r"none\.yaml: the file is missing"):
        read_request(tmp_path / "none.yaml")
