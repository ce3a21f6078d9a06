"""How much cooks of one recipe differ in a kitchen: asked of its other recipes."""

from __future__ import annotations

import pytest

from energy.estimates.domain.repeats import FIRST_SPREAD
from energy.estimates.queries import usual_in_kitchen
from energy.models import Run
from kitchen.models import Recipe, Revision


@pytest.fixture
def cooked(record, owner, noon):
    """Record a recipe's cooks, each of so many watt-hours."""

    def make(name: str, *energies_wh: float) -> Recipe:
        recipe = Recipe.objects.create(slug=name, title=name, owner=owner, created_at=noon, updated_at=noon)
        revision = Revision.objects.create(recipe=recipe, number=1, servings=4, created_at=noon)
        for energy_wh in energies_wh:
            run = record(later=1 + Run.objects.count())
            Run.objects.filter(pk=run.pk).update(revision=revision, summary={**run.summary, "energy_wh": energy_wh})
        return recipe

    return make


def test_two_other_repeated_recipes_say_what_is_usual(cooked, django_assert_num_queries):
    cooked("lentils", 200, 240, 160)
    cooked("porridge", 80)
    mine = cooked("barley", 300, 301)
    assert usual_in_kitchen(mine) == FIRST_SPREAD
    cooked("squash", 150, 185, 128)
    with django_assert_num_queries(1):
        usual = usual_in_kitchen(mine)
    assert usual.relative > 0.15
    assert usual.degrees == 6
    assert usual.relative * 200 == pytest.approx(round(usual.relative * 200))
