from __future__ import annotations

import pytest

from tests.trials.trial import Trial, every_trial


@pytest.mark.parametrize("trial", [*every_trial()], ids=lambda trial: trial.name)
def test_nothing_fails_in_the_short_form(trial: Trial) -> None:
    tried = trial.run(trial.short)
    assert tried.count
    assert tried.failed == []
