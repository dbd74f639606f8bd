"""How sure a cost is: percentiles and shares against scipy, on cases with a closed form."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from scipy import signal, stats

from quoter.analysis.ranges import as_written
from quoter.analysis.risk import Risk, risks_of
from quoter.costing.assembly import Assembly
from quoter.figures import Figure
from quoter.figures.graph import inputs_of
from tests.catalogues.written import MODEL, OPTION, priced, write_catalogue

PRICE = "5.25 USD/lb"
PERCENTILES = [0.1, 0.5, 0.9]
REST = 144.25  # the cost card's labour and overhead
ROOT = Path(__file__).resolve().parents[2]


def card(folder: Path, price: str) -> Assembly:
    """The cost card, whose 4 lb of material cost 5.25 a pound, with a range to that price."""
    changes = {"prices/2026-01-01.csv": (PRICE, price)}
    return priced(write_catalogue(folder, {}, changes)).models[MODEL].options[OPTION].assembly


def basket(folder: Path, ranges: list[str]) -> Figure:
    """An option of one kilogram each of several materials, each at a price with a range."""
    ids = [f"m{number}" for number in range(len(ranges))]
    kinds = "".join(
        f'  - {{id: {id}, name: {id}, material_class: other, mass: "1"}}\n' for id in ids
    )
    goods = "".join(f"      - {{item: {id}, quantity: 1 kg}}\n" for id in ids)
    rows = "".join(f"{id},supplier,{price},\n" for id, price in zip(ids, ranges, strict=True))
    changes = {
        "materials.yaml": ("bought:\n", f"bought:\n{kinds}"),
        "options.yaml": ("      - {item: direct_material, quantity: 4 lb}\n", goods),
        "prices/2026-01-01.csv": ("direct_material,", f"{rows}direct_material,"),
    }
    made = priced(write_catalogue(folder, {}, changes)).models[MODEL].options[OPTION].assembly
    return made.elements["material.other"]


def percentiles(risk: Risk) -> list[float]:
    return [risk.p10, risk.p50, risk.p90]


def test_percentiles_of_a_cost_with_one_uncertain_price_are_those_of_its_beta(
    tmp_path: Path,
) -> None:
    """The cost is straight in the price, so its percentiles are those of the price."""
    low, likely, high = 4.60, 5.25, 7.10
    (risk,) = risks_of([card(tmp_path / "c", "5.25 USD/lb [4.60 to 7.10]").cost])
    width = high - low
    mean, deviation = (low + 4 * likely + high) / 6, width / 6
    common = (mean - low) * (high - mean) / deviation**2 - 1
    beta = stats.beta((mean - low) / width * common, (high - mean) / width * common, low, width)
    expected = REST + 4 * beta.ppf(PERCENTILES)
    assert percentiles(risk) == pytest.approx(list(expected), rel=1e-6)
    assert risk.mean == pytest.approx(REST + 4 * mean, rel=1e-6)
    assert risk.deviation == pytest.approx(4 * deviation, abs=1e-3)


def test_percentiles_of_a_triangular_price_are_those_of_its_triangle(tmp_path: Path) -> None:
    made = card(tmp_path / "c", "5.25 USD/lb [4.60 to 7.10 triangular]")
    (risk,) = risks_of([made.cost])
    triangle = stats.triang((5.25 - 4.60) / 2.50, 4.60, 2.50)
    expected = REST + 4 * triangle.ppf(PERCENTILES)
    assert percentiles(risk) == pytest.approx(list(expected), rel=1e-6)
    assert risk.mean == pytest.approx(REST + 4 * triangle.mean(), rel=1e-6)
    assert risk.deviation == pytest.approx(4 * triangle.std(), abs=1e-3)


def test_percentiles_go_through_a_cost_that_bends(tmp_path: Path) -> None:
    """What passes divides the cost, and a lower yield is a higher cost: P10 is at the 90th."""
    passes = '"80 % [60 to 95 triangular]"'
    changes = {"options.yaml": ("fixed: 4 h}", f"fixed: 4 h, passes: {passes}}}")}
    option = priced(write_catalogue(tmp_path / "c", {}, changes)).models[MODEL].options[OPTION]
    (risk,) = risks_of([option.assembly.cost])
    triangle = stats.triang((0.80 - 0.60) / 0.35, 0.60, 0.35)
    expected = 165.25 / triangle.ppf([0.9, 0.5, 0.1])
    assert percentiles(risk) == pytest.approx(list(expected), rel=1e-6)
    # E[1/y] by scipy's quadrature: more than 1 / E[y], as a bent cost has it.
    assert risk.mean == pytest.approx(165.25 * triangle.expect(lambda y: 1 / y), rel=1e-5)
    assert risk.mean > 165.25 / triangle.mean()


def chances_of_sum(
    triangles: list[tuple[float, float, float]], step: float
) -> npt.NDArray[np.float64]:
    """Chances of a sum of independent triangles, step by step from the sum of their lows on."""
    whole = np.array([1.0])
    for low, likely, high in triangles:
        chances = stats.triang((likely - low) / (high - low), low, high - low).cdf(
            np.arange(low - step / 2, high + step, step)
        )
        whole = signal.fftconvolve(whole, np.diff(chances))
    return whole


def test_a_sum_of_independent_prices_has_the_percentiles_of_the_convolution(tmp_path: Path) -> None:
    triangles = [(2.0, 3.0, 7.0), (1.0, 1.5, 2.5), (4.0, 4.5, 9.0), (0.5, 3.5, 4.0)]
    ranges = [f"{m} USD/kg [{a} to {b} triangular]" for a, m, b in triangles]
    (risk,) = risks_of([basket(tmp_path / "c", ranges)], size=20000)
    step = 0.001
    below = np.cumsum(chances_of_sum(triangles, step))
    at = sum(low for low, _, _ in triangles) + step * np.arange(len(below))
    expected = np.interp(PERCENTILES, below, at)
    # Of 20,000 independent samples, P10 and P90 have a standard error of 0.012 deviations.
    assert percentiles(risk) == pytest.approx(list(expected), abs=3 * 0.012 * risk.deviation)
    variance = sum(stats.triang((m - a) / (b - a), a, b - a).var() for a, m, b in triangles)
    assert risk.mean == pytest.approx(sum(a + m + b for a, m, b in triangles) / 3, rel=1e-5)
    assert risk.deviation == pytest.approx(variance**0.5, rel=0.02)


def test_a_sum_of_many_prices_is_near_normal(tmp_path: Path) -> None:
    """Twenty-four alike and even: mean 24 x 3, deviation 2 / 6 x root of 24."""
    (risk,) = risks_of([basket(tmp_path / "c", ["3 USD/kg [2 to 4]"] * 24)])
    normal = stats.norm(72.0, 24**0.5 / 3)
    assert percentiles(risk) == pytest.approx(list(normal.ppf(PERCENTILES)), abs=0.1)
    assert risk.mean == pytest.approx(72.0, abs=1e-3)
    assert risk.deviation == pytest.approx(normal.std(), rel=0.03)


def test_shares_of_variance_are_exact_where_a_cost_is_a_sum_and_add_to_one(tmp_path: Path) -> None:
    """Deviations of 0.5, 1 and 1.5: variances of 1, 4 and 9 parts in 14."""
    ranges = ["5 USD/kg [4 to 7]", "9 USD/kg [6 to 12]", "12 USD/kg [9 to 18]", "1 USD/kg"]
    (risk,) = risks_of([basket(tmp_path / "c", ranges)])
    shares = [(share.figure.value, share.share) for share in risk.shares]
    assert [value for value, _ in shares] == [12.0, 9.0, 5.0]
    assert [share for _, share in shares] == pytest.approx([9 / 14, 4 / 14, 1 / 14], rel=1e-9)
    assert sum(share for _, share in shares) == pytest.approx(1.0, rel=1e-12)


def test_an_input_is_uncertain_only_where_it_says_so_and_in_its_own_unit(tmp_path: Path) -> None:
    """Minutes stay minutes, and per cent become a fraction, as in the value itself."""
    changes = {
        "options.yaml": (
            "station: finishing, fixed: 4 h",
            'station: finishing, fixed: "240 min [200 to 300]"',
        ),
        "stations.yaml": (
            "    wage_group: finishing\n    on_costs: 0 %",
            "    wage_group: finishing\n    on_costs: 20 % [15 to 30 triangular] (guessed)",
        ),
    }
    made = (
        priced(write_catalogue(tmp_path / "c", {}, changes)).models[MODEL].options[OPTION].assembly
    )
    found = as_written(inputs_of([made.cost]))
    spreads = {figure.value: varying.spread for figure, varying in found.items()}
    told = {value: (s.low, s.likely, s.high, s.shape) for value, s in spreads.items()}
    assert told == {
        240.0: (200.0, 240.0, 300.0, "three-point"),
        0.20: (0.15, 0.20, 0.30, "triangular"),
    }
    assert made.cost.value == pytest.approx(165.25 + 12.0, rel=1e-12)
    assert as_written(inputs_of([made.elements["labour.assembly"]])) == {}


def test_what_rests_on_nothing_uncertain_is_sure(tmp_path: Path) -> None:
    made = card(tmp_path / "c", "5.25 USD/lb [4.60 to 7.10]")
    sure, unsure = risks_of([made.elements["labour.assembly"], made.cost])
    assert (sure.mean, sure.deviation, *percentiles(sure)) == (30.25, 0.0, 30.25, 30.25, 30.25)
    assert sure.shares == ()
    assert unsure.deviation > 0


def test_results_are_drawn_together(tmp_path: Path) -> None:
    """Cost and variable cost move with the same price in the same samples."""
    made = card(tmp_path / "c", "5.25 USD/lb [4.60 to 7.10]")
    cost, variable = risks_of([made.cost, made.variable])
    apart = [
        one - other for one, other in zip(percentiles(cost), percentiles(variable), strict=True)
    ]
    assert apart == pytest.approx([20.25] * 3, rel=1e-9)
    assert cost.deviation == pytest.approx(variable.deviation, rel=1e-9)


PROGRAM = """
from pathlib import Path
from quoter.analysis.risk import risks_of
from tests.catalogues.written import priced
options = priced(Path(r"{folder}")).models["card"].options.values()
for risk in risks_of([option.assembly.cost for option in options]):
    numbers = (risk.mean, risk.deviation, risk.p10, risk.p50, risk.p90)
    print(*(number.hex() for number in numbers), *(s.share.hex() for s in risk.shares))
"""


def test_another_process_draws_the_same_samples(tmp_path: Path) -> None:
    """Whatever the seed of its hashes."""
    ranges = ["3 USD/kg [2 to 4]", "5 USD/kg [4 to 7 triangular]", "1 USD/kg [0.5 to 3]"]
    basket(tmp_path / "c", ranges)
    printed = {
        subprocess.run(
            [sys.executable, "-c", PROGRAM.format(folder=tmp_path / "c")],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "123456")
    }
    assert len(printed) == 1
    assert printed.pop().count("0x") == 5 + 3
