"""Measures set in one piece."""

import pytest

from kitchen.templatetags.plates import in_pairs


@pytest.mark.parametrize(
    ("measures", "pieces"),
    [
        ("2 tbsp 2¼ tsp", ["2\u00a0tbsp", "2¼\u00a0tsp"]),
        ("1 h 35 min", ["1\u00a0h", "35\u00a0min"]),
        ("1\u00a0h\u00a035\u00a0min", ["1\u00a0h", "35\u00a0min"]),
        ("1 qt 1½ cups to 2 qt ¼ cup", ["1\u00a0qt", "1½\u00a0cups", "to", "2\u00a0qt", "¼\u00a0cup"]),
        ("30 mL", ["30", "mL"]),
        ("", [""]),
    ],
)
def test_a_line_ends_between_two_measures_and_never_inside_one(measures, pieces):
    assert in_pairs(measures).split(" ") == pieces
