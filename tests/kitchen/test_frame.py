"""The frame that every page stands in: name, way to the content, navigation, htmx on a short lead; and the drawn pictures."""

import json
import re

import pytest
from django.template.loader import render_to_string
from django.urls import reverse

from kitchen.domain.pictures import DRAWINGS
from kitchen.models import Site


@pytest.fixture
def kitchen_name(db) -> str:
    Site.objects.update_or_create(pk=1, defaults={"name": "Kitchen <&> tent"})
    return "Kitchen &lt;&amp;&gt; tent"


@pytest.mark.parametrize("address", ["kitchen:library", "energy:method", "kitchen:sign-in"])
def test_a_page_says_whose_kitchen_it_is(stranger_client, kitchen_name, address):
    html = stranger_client.get(reverse(address)).content.decode()
    assert f'<a class="mark" href="{reverse("kitchen:library")}">{kitchen_name}</a>' in html
    assert re.search(rf"<title>.+ · {re.escape(kitchen_name)}</title>", html)


def test_the_frame_leads_to_the_content_and_marks_where_one_is(stranger_client, db):
    html = stranger_client.get(reverse("kitchen:library")).content.decode()
    assert html.index('href="#main"') < html.index('id="main"')
    assert f'<a href="{reverse("kitchen:library")}" aria-current="page">' in html
    assert html.count('aria-current="page"') == 1
    assert '<html lang="en">' in html
    assert 'name="viewport"' in html


def test_htmx_evaluates_nothing_and_keeps_no_history(stranger_client, db):
    html = stranger_client.get(reverse("kitchen:library")).content.decode()
    config = json.loads(re.search(r"name=\"htmx-config\" content='([^']+)'", html)[1])
    assert config["allowEval"] is False
    assert config["includeIndicatorStyles"] is False
    assert config["selfRequestsOnly"] is True
    assert config["historyCacheSize"] == 0
    assert re.search(r'<script src="[^"]*django_htmx/htmx-2\.min[^"]*\.js" defer></script>', html)


SECTIONS = ["Recipes", "Cooks", "Gear", "Prices", "Kitchen"]


def menu_of(html: str, label: str) -> list[tuple[str, str]]:
    """Return what a menu says, and what is marked in it."""
    menu = re.search(rf'<nav[^>]* aria-label="{label}">(.*?)</nav>', html, re.S)[1]
    return re.findall(r'<a href="[^"]*"\s*(?: aria-current="(\w+)")?>([^<]*)</a>', menu)


@pytest.mark.parametrize(
    ("address", "section"),
    [
        ("/bench/", "Recipes"),
        ("/bench/foods/", "Recipes"),
        ("/bench/recipes/import/", "Recipes"),
        ("/bench/runs/", "Cooks"),
        ("/bench/device/", "Cooks"),
        ("/bench/gear/", "Gear"),
        ("/bench/meters/new/", "Gear"),
        ("/bench/shops/", "Prices"),
        ("/bench/prices/rules/", "Prices"),
        ("/bench/cooks/", "Kitchen"),
        ("/bench/keeping/", "Kitchen"),
        ("/bench/kitchen/", "Kitchen"),
    ],
)
def test_the_bench_has_five_sections_and_says_in_which_one_is(owner_client, db, address, section):
    html = owner_client.get(address).content.decode()
    menu = menu_of(html, "Bench")
    assert [label for _, label in menu] == SECTIONS
    assert [label for marked, label in menu if marked] == [section]


def test_a_section_lists_its_pages_and_marks_this_one(owner_client, db):
    html = owner_client.get(reverse("kitchen:foods")).content.decode()
    assert menu_of(html, "Recipes") == [("", "All recipes"), ("", "Collections"), ("page", "Foods")]


def test_the_kitchens_own_page_leads_everywhere_and_out(owner_client, other_client, db):
    html = owner_client.get(reverse("kitchen:kitchen")).content.decode()
    assert "Sign out owner" in html
    for words in ("People", "Settings", "Archive", "Backups and health", "Changes", "Password"):
        assert words in [label for _, label in menu_of(html, "Kitchen")]
    assert "People" not in other_client.get(reverse("kitchen:kitchen")).content.decode()


@pytest.mark.parametrize("name", [key for key, _ in DRAWINGS])
def test_every_drawing_is_one_of_its_own(name):
    drawn = {key: render_to_string("pieces/drawing.html", {"name": key}) for key, _ in DRAWINGS}
    assert [key for key, svg in drawn.items() if svg == drawn[name]] == [name]
    assert 'aria-hidden="true"' in drawn[name]


def test_an_unknown_drawing_is_a_pot():
    assert render_to_string("pieces/drawing.html", {"name": "zeppelin"}) == render_to_string(
        "pieces/drawing.html", {"name": "pot"}
    )
