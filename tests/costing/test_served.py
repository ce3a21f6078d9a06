"""Portions that were really served: kept with the cook, and what each of them cost."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.domain.portions import served_cost
from energy.models import Run
from tests.house.bench_of_everything import furnish

portions = st.integers(0, 20)


@given(st.fractions(0, 90, max_denominator=400), portions, portions, portions, portions)
def test_served_and_left_over_pay_for_everything(total, served, left, thrown, lost):
    made = served + left + thrown + lost
    if not made or not served:
        return
    told = served_cost(total, made, Fraction(served), Fraction(left), Fraction(thrown))
    assert told.each * served + total / made * left == total
    assert told.each >= total / made
    assert told.open == lost


def test_none_served_has_no_cost():
    assert served_cost(Fraction(12), 6, Fraction(0), Fraction(6), Fraction(0)) is None


@pytest.fixture
def kitchen(owner, other_cook, noon, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return furnish(owner, other_cook, noon)


def test_a_cook_keeps_how_the_portions_went_and_reads_what_one_cost(kitchen, owner_client):
    run = Run.objects.filter(revision__recipe=kitchen.recipe).get()
    sheet, page = f"/bench/recipes/{kitchen.recipe.slug}/prices/", f"/bench/runs/{run.pk}/portions/"
    assert page in owner_client.get(sheet).content.decode()
    typed = {"served": str(run.servings - 1), "left": "0.5", "thrown": ""}
    assert owner_client.post(page, typed).status_code == 302
    run.refresh_from_db()
    assert (run.portions_served, run.portions_left, run.portions_thrown) == (run.servings - 1, Decimal("0.5"), None)
    told = " ".join(owner_client.get(sheet).content.decode().split())
    assert f"{run.servings} made, {run.servings - 1} served" in told
    assert "½ nobody accounts for" in told
    cooked = " ".join(owner_client.get(f"/bench/runs/{run.pk}/").content.decode().split())
    assert f"{run.servings - 1} of {run.servings} portions" in cooked
    Run.objects.filter(pk=run.pk).update(servings=1)
    assert "so what one cost is not known" in owner_client.get(sheet).content.decode()


@pytest.mark.parametrize(
    ("typed", "says"),
    [({"served": "400"}, "were made"), ({"served": "-1"}, "0 is the least"), ({"thrown": "some"}, "Type a number")],
)
def test_portions_that_make_no_sense_are_refused_beside_their_field(kitchen, owner_client, typed, says):
    run = Run.objects.filter(revision__recipe=kitchen.recipe).get()
    answer = owner_client.post(f"/bench/runs/{run.pk}/portions/", typed)
    assert (answer.status_code, says in answer.content.decode()) == (422, True)
    assert Run.objects.get(pk=run.pk).portions_served is None
