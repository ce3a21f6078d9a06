"""Figures of food energy as a label rounds them."""

import pytest

from kitchen.domain.label_rounding import LabelFigure, label_figure


@pytest.mark.parametrize(
    ("name", "value", "printed"),
    [
        ("protein_g", 10.49, 10),
        ("protein_g", 9.94, 9.9),
        ("protein_g", 9.95, 10),
        ("protein_g", 0.51, 0.5),
        ("saturated_fat_g", 0.44, 0.4),
        ("salt_g", 0.0126, 0.01),
        ("salt_g", 0.994, 0.99),
        ("salt_g", 2.25, 2.3),
        ("salt_g", 0.0, 0),
    ],
)
def test_rounding(name, value, printed):
    assert label_figure(name, value) == LabelFigure(printed)


@pytest.mark.parametrize(("name", "value"), [("protein_g", 0.5), ("saturated_fat_g", 0.1), ("salt_g", 0.01)])
def test_what_is_little_is_under_a_figure(name, value):
    assert label_figure(name, value) == LabelFigure(value, under=True)


def test_at_least_is_never_under():
    assert label_figure("fat_g", 0.3, low=True) == LabelFigure(0.3)
