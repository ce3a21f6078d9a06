"""What another food, pack, shop, tariff or group would make, and how the cost moves with each price."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.domain.electricity import UNCOOKED
from costing.domain.moving import pulls
from costing.domain.sheet import make_sheet
from costing.models import Quote
from costing.queries.what_if import Asked, what_if
from kitchen.models import Food, Line
from tests.costing.domain.making import facts, line
from tests.costing.kitchen_of_prices import add_food, add_price

URL = "/bench/recipes/stew/what-if/"


def page_of(client, query=""):
    answer = client.get(f"{URL}{query}")
    return answer.status_code, " ".join(answer.content.decode().split())


def test_nothing_asked_shows_how_each_price_pulls(stew, owner_client, noon):
    status, page = page_of(owner_client)
    assert (status, "would cost" in page) == (200, False)
    assert 'red lentils</th><td class="n">€0.04</td><td class="n">80 %' in page
    answered = what_if(stew, Asked(), at=noon)
    assert (answered.pulls[0].food, answered.pulls[0].each) == ("red lentils", Fraction("1.41") / 40)


@pytest.mark.parametrize(
    ("query", "cause"),
    [
        ("food=green+lentils", "which is another food now"),
        ("pack=1+kg&price=2.00", "another pack, €2.35 for 500 g"),
        ("price=2.00/kg", "red lentils"),
        ("servings=11", ""),
        ("shop=harrow", "another pack"),
    ],
)
def test_a_change_is_told_with_its_causes(stew, owner_client, noon, query, cause):
    lentils = Line.objects.get(text="300 g red lentils")
    add_price(add_food("green lentils"), "500 g", "3.10")
    other = add_price(Food.objects.get(name="red lentils"), "1 kg", "9.00", shop="Harrow Lane")
    Quote.objects.filter(pk=other.pk).update(day="2026-09-01")
    asked = query.replace("shop=harrow", f"shop={other.shop_id}")
    status, page = page_of(owner_client, f"?line={lentils.pk}&{asked}")
    assert (status, "would cost" in page) == (200, True)
    assert cause in page


def test_causes_add_up_for_another_food_and_group_at_once(stew, noon):
    lentils, green = Line.objects.get(text="300 g red lentils"), add_food("green lentils")
    add_price(green, "500 g", "3.10")
    found = what_if(stew, Asked(lentils.pk, green, servings=11), at=noon).found
    assert found.after.amount - found.before.amount == sum(cause.each for cause in found.why)
    assert "link" in {cause.kind for cause in found.why}


@pytest.mark.parametrize(
    ("query", "says"),
    [
        ("pack=1+kg&price=2", "Choose the line"),
        ("line=0&food=onion", "Select a valid choice"),
        ("pack=1+kg", "Choose the line"),
        ("servings=0", "1 is the least"),
        ("per_kwh=much", "Type it like 0.31"),
        ("food=stardust", "stardust"),
    ],
)
def test_what_makes_no_sense_is_said_beside_its_field(stew, owner_client, query, says):
    status, page = page_of(owner_client, f"?{query}")
    assert (status, says in page) == (422, True)
    assert "If a price moves" in page


costs = st.lists(st.fractions("0.01", 30, max_denominator=400), min_size=1, max_size=6)


@given(costs, st.integers(1, 40))
def test_all_pulls_make_a_tenth_of_a_serving(each, servings):
    held = facts(*(line(f"food {place}", cost) for place, cost in enumerate(each)), servings=4)
    sheet = make_sheet(held, servings, UNCOOKED)
    assert sum(pull.each for pull in pulls(sheet)) == sheet.per_serving / 10
