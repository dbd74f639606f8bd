"""How sure the demonstration's options are, drawn anew by other code: distributions of scipy, the
generator of numpy, each draw by itself and not stratified."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

import numpy as np
import numpy.typing as npt
from scipy import stats

from quoter.analysis.findings import Findings
from quoter.analysis.ranges import Varying
from quoter.analysis.risk import SAMPLES
from quoter.analysis.spreads import Spread
from quoter.figures import Figure
from quoter.figures.graph import evaluate
from tests.demo import demo
from tests.trials.trial import Trial, Tried

Floats = npt.NDArray[np.float64]
ASKED = (("weekender_86", "side_single"), ("coastal_98", "side_ramp"), ("open_68", "hull_blue"))
CHUNK = 20_000  # draws at once
GRID = 2_001  # points of a distribution's inverse
CHANCES = (0.1, 0.5, 0.8, 0.9)
ERRORS = 4.0  # standard errors that the two may lie apart


@cache
def table(spread: Spread) -> tuple[Floats, Floats]:
    """Chances and values of a spread by scipy: a triangle, or the beta with mean (a + 4 m + b) / 6
    and deviation (b - a) / 6."""
    width = spread.high - spread.low
    if spread.shape == "triangular":
        found = stats.triang((spread.likely - spread.low) / width, spread.low, width)
    else:
        mean = (spread.low + 4 * spread.likely + spread.high) / 6 - spread.low
        both = mean * (width - mean) / (width / 6) ** 2 - 1
        found = stats.beta(mean / width * both, (1 - mean / width) * both, spread.low, width)
    # Even in angle, so that the ends are as well told as the middle.
    chances = np.sin(np.linspace(0, np.pi / 2, GRID)) ** 2
    return chances, np.asarray(found.ppf(chances))


def drawn(
    every: Iterable[Varying], size: int, generator: np.random.Generator
) -> dict[Figure, Floats]:
    """Draws of each input, those of a group by one normal deviate in common."""
    common: dict[str, Floats] = {}
    found = {}
    for one in every:
        if one.group is None:
            chances = generator.uniform(size=size)
        else:
            group, r = one.group.name, one.group.correlation
            if group not in common:
                common[group] = generator.standard_normal(size)
            own = generator.standard_normal(size)
            z = one.sign * np.sqrt(r) * common[group] + np.sqrt(1 - r) * own
            chances = stats.norm.cdf(z)
        found[one.figure] = np.interp(chances, *table(one.spread))
    return found


def drawn_costs(cost: Figure, every: list[Varying], count: int) -> Floats:
    generator = np.random.default_rng(20261101)
    costs = []
    for start in range(0, count, CHUNK):
        values = drawn(every, min(CHUNK, count - start), generator)
        costs.append(evaluate([cost], values, free=True)[0])
    return np.concatenate(costs)


def run(count: int) -> Tried:
    """Percentiles, contingency and shares of the spread of some options, from `count` draws."""
    tried, findings = Tried(), Findings(demo())
    for model, option in ASKED:
        asked = findings.of(findings.pricing.models[model])
        cost = asked.model.options[option].assembly.cost
        risk = asked.risks[cost]
        every = [share.varying for share in risk.shares]
        costs = drawn_costs(cost, every, count)
        name = f"{option} on {model}"
        tried.expect(len(every) > 25, f"{name}: only {len(every)} inputs vary")
        for chance, told in zip(CHANCES, (risk.p10, risk.p50, risk.p80, risk.p90), strict=True):
            # Standard error of a percentile: root(p (1 - p) / n) over the density there.
            density = stats.norm.pdf(stats.norm.ppf(chance)) / costs.std()
            error = np.sqrt(chance * (1 - chance) * (1 / SAMPLES + 1 / count)) / density
            found = float(np.quantile(costs, chance))
            tried.expect(
                abs(found - told) < ERRORS * error,
                f"{name}: P{chance * 100:.0f} {told:.2f}, drawn anew {found:.2f} +- {error:.2f}",
            )
        error = costs.std() * np.sqrt(1 / SAMPLES + 1 / count)
        tried.expect(
            abs(costs.mean() - risk.mean) < ERRORS * error,
            f"{name}: mean {risk.mean:.2f}, drawn anew {costs.mean():.2f}",
        )
        relative = np.sqrt((1 / SAMPLES + 1 / count) / 2)
        tried.expect(
            abs(costs.std() / risk.deviation - 1) < ERRORS * relative,
            f"{name}: deviation {risk.deviation:.2f}, drawn anew {costs.std():.2f}",
        )
    return tried


TRIALS = (
    Trial(
        "certainty",
        "percentiles of three options' costs against draws by other code, not stratified",
        run,
        short=20_000,
        long=400_000,
    ),
)
