"""Whatever is wrong with what the command line sets is told, all at once, as of any file."""

from __future__ import annotations

from pathlib import Path

import pytest

from quoter.pricing.priced import price_catalogue
from quoter.problems import CatalogueError
from tests.catalogues.edited import SMALL
from tests.catalogues.written import write_catalogue


def what_if(folder: Path, *settings: str) -> None:
    price_catalogue(folder, settings=settings)


BROKEN = (
    "class.resn=+10%",
    "class.resin=10%",
    "foo",
    "price.hand_resin=3,90 EUR/kg",
    "price.injection_resin=3 GBP/kg",
    "price.hinge=2 EUR/kg",
    "price.white=+0.50 EUR/kg",
    "price.mat=",
    "wages=-100%",
    "wages=+4%",
    "wage.hands=25 USD/h",
    "rate.GBP=+5%",
    "currency.USD=+5%",
    "yard.policy.target_margin=lots",
    "yard.policy=3",
    "yard.policy.floor_margin=+5%",
    "moulds.moulds.return_mold.life=400",
    "moulds.moulds.lid_mould.life=-4",
    "moonlight=1",
    "price.cleat=2 EUR\x07/each",
)
TOLD = """\
--set:1:1: unknown key 'class.resn' [unknown-key]
    class.resn=+10%
    ^
    did you mean 'class.resin'?
--set:2:13: '10%' is no rise or fall in per cent [bad-setting]
    class.resin=10%
                ^
    write for example '+10%' or '-5%'
--set:3:1: 'foo' is not KEY=VALUE [bad-setting]
    foo
    ^
    write for example 'class.resin=+10%'
--set:4:18: price '3,90 EUR/kg' has a comma for its decimals [not-a-number]
    price.hand_resin=3,90 EUR/kg
                     ^
    write a point: '3.90 EUR/kg'
--set:5:23: the price is in GBP [wrong-currency]
    price.injection_resin=3 GBP/kg
                          ^
    'brisk' sells in EUR: write it so, or correct the supplier
--set:6:13: 'hinge' can't be priced per kg [wrong-unit]
    price.hinge=2 EUR/kg
                ^
    it is counted in each: price it per each, or per pack
--set:7:13: '+0.50 EUR/kg' is no rise or fall in per cent [bad-setting]
    price.white=+0.50 EUR/kg
                ^
    write for example '+10%' or '-5%', or the new amount without a sign
--set:8:11: price has no value [no-value]
    price.mat=
              ^
    write one, for example '4.10 EUR/kg'
--set:9:7: '-100%' takes all of it away [bad-setting]
    wages=-100%
          ^
    expected more than -100 %
--set:11:12: USD where the home currency EUR belongs [wrong-currency]
    wage.hands=25 USD/h
               ^
    write it in EUR; only price lists may be in others
--set:12:10: '+5%' is a change where a value belongs [bad-setting]
    rate.GBP=+5%
             ^
    write the rate itself, or how much dearer it is: 'currency.GBP=+5%'
--set:13:1: unknown key 'currency.USD' [unknown-key]
    currency.USD=+5%
    ^
    did you mean 'currency.GBP'?
--set:14:27: target margin 'lots' does not begin with a number [not-a-number]
    yard.policy.target_margin=lots
                              ^
    write for example '12 %'
--set:15:1: 'yard.policy' is no single value [bad-setting]
    yard.policy=3
    ^
    set one that it holds, such as 'yard.policy.target_margin'
--set:16:26: '+5%' is a change where a value belongs [bad-setting]
    yard.policy.floor_margin=+5%
                             ^
    only prices, wages and currencies change by a percentage: write the value itself
--set:17:1: unknown key 'moulds.moulds.return_mold.life' [unknown-key]
    moulds.moulds.return_mold.life=400
    ^
    did you mean 'moulds.moulds.return_mould.life'?
--set:18:30: life '-4' is out of range [out-of-range]
    moulds.moulds.lid_mould.life=-4
                                 ^
    expected more than 0
--set:19:1: unknown key 'moonlight' [unknown-key]
    moonlight=1
    ^
    set a value of a YAML file, or class.CLASS, price.MATERIAL, wages, wage.GROUP, \
rate.CURRENCY, currency.CURRENCY
--set:20:18: an unprintable character, #x07 [unprintable]
    price.cleat=2 EUR�/each
                     ^
    remove it
"""


def test_everything_wrong_with_settings_is_told_at_once() -> None:
    with pytest.raises(CatalogueError) as stopped:
        what_if(SMALL, *BROKEN)
    assert f"{stopped.value}\n".splitlines() == TOLD.splitlines()


@pytest.mark.parametrize(
    ("setting", "told"),
    [
        ("rate.GBP=-1", "rate '-1 GBP/EUR' is out of range [out-of-range]"),
        ("rate.GBP=- 1", "rate '- 1' does not begin with a number [not-a-number]"),
        ("rate.GBP=-0.0000001 NOK/EUR", "rate '-0.0000001 NOK/EUR' is out of range [out-of-range]"),
        ("rate.GBP=+ 1", "'+ 1' is a change where a value belongs [bad-setting]"),
        ("rate.GBP=0 (closed)", "rate '0 GBP/EUR' is out of range [out-of-range]"),
        ("rate.GBP=86 %", "a rate of GBP in no unit [wrong-unit]"),
        ("price.mat=0 EUR/kg", "a price of nothing [zero-amount]"),
        ("price.mat=0.00 EUR/kg (a gift)", "a price of nothing [zero-amount]"),
    ],
)
def test_an_amount_that_none_can_be_is_told(setting: str, told: str) -> None:
    with pytest.raises(CatalogueError) as stopped:
        what_if(SMALL, setting)
    assert [f"{each.what} [{each.code}]" for each in stopped.value.problems] == [told]


def test_a_key_set_twice_is_told() -> None:
    with pytest.raises(CatalogueError) as stopped:
        what_if(SMALL, "wages=+4%", "wages = +5%")
    assert str(stopped.value).startswith("--set:2:1: 'wages' is set twice [written-twice]\n")


def test_rules_between_records_hold_of_what_is_set() -> None:
    with pytest.raises(CatalogueError) as stopped:
        what_if(SMALL, "yard.policy.target_margin=99 %")
    assert str(stopped.value) == (
        "--set:1:27: provisions and target margin take 101 % of the price [shares]\n"
        "    yard.policy.target_margin=99 %\n"
        "                              ^\n"
        "    expected less than 100 % together, so that something is left to carry the cost"
    )


def test_what_has_nothing_in_force_on_the_day_can_not_be_set(tmp_path: Path) -> None:
    rows = "date,currency,rate,note\n2026-01-01,GBP,0.86 GBP/EUR,\n2026-09-01,USD,1.1 USD/EUR,\n"
    folder = write_catalogue(tmp_path / "c", {"exchange.csv": rows}, base=SMALL)
    with pytest.raises(CatalogueError) as stopped:
        what_if(folder, "currency.USD=+5%")
    assert [problem.what for problem in stopped.value.problems] == [
        "nothing of 'currency.USD' is in force on 2026-02-01"
    ]


@pytest.mark.parametrize(
    ("file", "old", "new", "set_"),
    [
        ("materials.yaml", "name: Hand resin", "naem: Hand resin", "price.hand_resin=+5%"),
        ("materials.yaml", "name: Hand resin", "naem: Hand resin", "class.resin=+5%"),
        ("moulds.yaml", "moulds:", "moulds: [", "moulds.moulds.lid_mould.life=80"),
        ("wages.csv", "24 EUR/h", "24 EUR", "wage.hands=+5%"),
        ("exchange.csv", "0.86 GBP/EUR", "0,86 GBP/EUR", "currency.GBP=+5%"),
    ],
)
def test_a_setting_of_what_could_not_be_read_is_not_blamed(
    file: str, old: str, new: str, set_: str, tmp_path: Path
) -> None:
    folder = write_catalogue(tmp_path / "c", {}, {file: (old, new)}, base=SMALL)
    with pytest.raises(CatalogueError) as alone:
        what_if(folder)
    with pytest.raises(CatalogueError) as stopped:
        what_if(folder, set_)
    assert str(stopped.value) == str(alone.value)
