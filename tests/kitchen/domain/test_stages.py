"""What comes hot to the table."""

from decimal import Decimal

import pytest

from kitchen.domain.facts import StepFacts
from kitchen.domain.stages import served_hot


@pytest.mark.parametrize(
    ("steps", "hot"),
    [
        ([StepFacts("Stir.", "brown"), StepFacts("Leave it for ten minutes.", "rest")], True),
        ([StepFacts("Boil.", "come_up"), StepFacts("Chill it for two hours.", "rest")], False),
        ([StepFacts("Boil, then leave to cool in the fridge.", "hold")], False),
        ([StepFacts("Chop the chilled butter."), StepFacts("Bake.", "bake")], True),
        ([StepFacts("Slice the cucumber.")], False),
        ([StepFacts("Heat it.", temp_c=Decimal(75))], True),
        ([StepFacts("Melt gently.", temp_c=Decimal(35))], False),
        ([], False),
    ],
)
def test_hot_is_what_was_cooked_and_not_chilled_afterwards(steps, hot):
    assert served_hot(steps) is hot
