"""What of the price book wants looking at, a food's prices as a drawing, and a price typed again."""

from datetime import timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from django.utils import timezone

from costing.charts import price_chart
from costing.domain.quotes import Offer
from costing.models import Quote
from costing.words import ENGLISH
from kitchen.models import Food
from tests.costing.kitchen_of_prices import DAY, add_price

URL = "/bench/prices/"


def page(client, url=URL):
    return " ".join(client.get(url).content.decode().split())


def test_odd_missing_and_old_prices_stand_at_the_top(stew, owner_client, other_client):
    onion = Food.objects.get(name="onion")
    shown = page(owner_client)
    assert 'Without a price in your recipes: <a href="/bench/prices/?food=ground%20cumin">ground cumin</a></li>' in shown
    assert "before. <a" not in shown
    assert "Without a price" not in page(other_client)
    add_price(onion, "1 kg", "14.50", day=DAY + timedelta(1))
    add_price(Food.objects.get(name="ground cumin"), "100 g", "2.00", day=DAY - timedelta(900))
    shown = page(owner_client)
    assert "Onion: €14.50 per kg at Mill Lane, 3 Oct 2026; €1.45 per kg before." in shown
    assert "1 food with old prices alone." in shown
    Quote.objects.filter(price="14.50").update(taken_back_at=timezone.now())
    assert "14.50" not in page(owner_client)


def test_a_price_far_from_the_one_before_is_said_when_it_is_kept(stew, owner_client):
    typed = {"food": "onion", "pack": "1 g", "price": "1.45", "shop": "Mill Lane", "day": "2026-10-03"}
    answer = owner_client.post(URL, typed, follow=True).content.decode()
    assert "This is far from the price before, €1.45 per kg." in answer


def test_a_price_is_typed_again_with_one_change(stew, owner_client):
    quote = Quote.objects.get(item__food__name="red lentils")
    assert f'href="/bench/prices/?again={quote.pk}"' in page(owner_client)
    shown = page(owner_client, f"{URL}?again={quote.pk}")
    for value in ("red lentils", "500 g", "2.35", "Mill Lane", timezone.localdate().isoformat()):
        assert f'value="{value}"' in shown
    assert owner_client.get(f"{URL}?again=999999").status_code == 404
    assert owner_client.get(f"{URL}?again=x").status_code == 200


def offers(*prices, currency="EUR"):
    return [Offer("A", DAY + timedelta(place), Decimal(price), Fraction(500), "g", 1, currency) for place, price in prices]


def test_prices_are_drawn_where_three_compare(stew, owner_client):
    assert price_chart(offers((0, 1), (9, 2)), "EUR", "rice", ENGLISH) is None
    assert price_chart(offers((0, 1), (0, 2), (0, 3)), "EUR", "rice", ENGLISH) is None
    drawn = price_chart(offers((9, 3), (4, 1), (0, 2)), "EUR", "rice", ENGLISH)
    assert drawn.title == "3 prices of rice from 2 October 2026 to 11 October 2026: €2.00 per kg to €6.00 per kg."
    assert [dot.x for dot in drawn.dots] == sorted(dot.x for dot in drawn.dots)
    assert (drawn.dots[2].y, drawn.dots[1].y) == (drawn.top, max(dot.y for dot in drawn.dots))
    assert len(price_chart([*offers((9, 3), (4, 1), (0, 2)), *offers((5, 9), currency="USD")], "EUR", "r", ENGLISH).dots) == 3
    lentils = Food.objects.get(name="red lentils")
    for days in (10, 20):
        add_price(lentils, "1 kg", "4.10", day=DAY - timedelta(days))
    assert "3 prices of red lentils from" in page(owner_client, f"/bench/prices/food/{lentils.pk}/")


@pytest.mark.parametrize("sale", [0, 2])
def test_sales_are_rings_and_no_step(sale):
    seen = offers((9, 3), (4, 1), (2, 1), (0, 2))
    seen[sale] = Offer(**{**vars(seen[sale]), "last_day": seen[sale].day})
    drawn = price_chart(seen, "EUR", "rice", ENGLISH)
    assert (len(drawn.sales), len(drawn.dots), len(drawn.line.split())) == (1, 3, 5)
