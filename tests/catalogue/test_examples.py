"""Messages in the units of their catalogue: examples that read alike, sizes that are the same."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from quoter.catalogue.examples import IN_US, example, speak, thickness, told
from quoter.catalogue.measures import Measure, dimension
from quoter.catalogue.reference import files_told
from quoter.catalogue.values import Maybe
from quoter.units import NONE, quantity

ALIKE = 2.5  # an example is a round number, not a conversion


@pytest.fixture(autouse=True)
def _metric_afterwards() -> Iterator[None]:
    yield
    speak("metric")


@pytest.mark.parametrize(("metric", "us"), IN_US.items())
def test_an_example_of_the_us_is_of_the_same_kind_and_size(metric: str, us: str) -> None:
    one, other = quantity(metric), quantity(us)
    assert dimension(one.base) == dimension(other.base)
    sizes = [each.number * float(each.factor) for each in (one, other)]
    assert max(sizes) <= min(sizes) * ALIKE


def test_every_example_in_metric_units_has_one_of_the_us() -> None:
    lacking = set()
    for file in files_told().values():
        for record in file.records:
            for key in record.keys:
                reading = key.reading.inner if isinstance(key.reading, Maybe) else key.reading
                if not isinstance(reading, Measure) or reading.rate:
                    continue
                found = quantity(reading.example)
                timed = dimension(found.base) in map(dimension, (quantity("1 h").base,))
                if found.base != NONE and not timed and reading.example not in IN_US:
                    lacking.add(reading.example)
    assert lacking == set()


def test_a_catalogue_s_units_choose_examples_and_sizes() -> None:
    said = {}
    for choice in ("metric", "US", "metric and US"):
        speak(choice)
        said[choice] = (example("450 g/m2"), thickness(0.0254), told(0.09290304, "m2", ".4g"))
    assert said == {
        "metric": ("450 g/m2", "25.4 mm", "0.0929 m2"),
        "US": ("1.5 oz/ft2", "1 in", "1 ft2"),
        "metric and US": ("450 g/m2", "25.4 mm (1 in)", "0.0929 m2 (1 ft2)"),
    }


def test_units_that_mean_nothing_are_metric() -> None:
    speak("furlongs")
    assert example("450 g/m2") == "450 g/m2"
