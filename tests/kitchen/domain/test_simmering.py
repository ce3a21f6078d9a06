"""What an open pan drives off, as it is proposed to the cook."""

from decimal import Decimal

import pytest

from kitchen.domain.facts import StepFacts
from kitchen.domain.simmering import proposed_loss_ml


@pytest.mark.parametrize(
    ("text", "stage", "minutes", "loss_ml"),
    [
        ("Let it thicken.", "reduce", 10, 250),
        ("Simmer uncovered until thick.", "hold", 20, 500),
        ("Boil in an open pan.", "", 5, 120),
        ("Take the lid off and boil it down.", "hold", 4, 100),
        ("Simmer, covered.", "hold", 40, 0),
        ("Hold under pressure, then reduce to low heat.", "hold", 8, 0),
        ("Reduce the heat and simmer.", "hold", 20, 0),
        ("Reduce to a low heat.", "hold", 20, 0),
        ("Bake uncovered.", "bake", 30, 0),
        ("Brown without a lid.", "brown", 6, 0),
        ("Simmer uncovered.", "hold", None, 0),
    ],
)
def test_only_a_pan_that_is_said_to_be_open_loses_water(text, stage, minutes, loss_ml):
    step = StepFacts(text, stage, None if minutes is None else Decimal(minutes))
    assert proposed_loss_ml([step]) == pytest.approx(loss_ml, abs=5)


def test_all_open_steps_count():
    steps = [
        StepFacts("Reduce.", "reduce", Decimal(4)),
        StepFacts("Stir.", "rest", Decimal(3)),
        StepFacts("", "reduce", Decimal(6)),
    ]
    assert proposed_loss_ml(steps) == 250
