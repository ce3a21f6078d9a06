"""A reader scales a published recipe: for a group, by what there is, for an own pot; and prints what came out."""

import pytest
from django.contrib.auth.models import User
from playwright.sync_api import Page, expect

from kitchen.operations import load_reference_foods
from tests.journeys import road
from tests.journeys.small_kitchen import write_pot
from tests.journeys.waiting import fits


@pytest.fixture
def pot(transactional_db):
    """A published pot for four: 250 g red lentils and 2 onions."""
    load_reference_foods()
    return write_pot(User.objects.create_superuser("cook", password="lid-and-ladle"), published=True)


def open_way(page: Page, way: str) -> None:
    page.wait_for_load_state()
    if not page.get_by_text(way, exact=True).is_visible():
        page.get_by_text("Another way to scale").click()
    if not page.locator("details.way[open]").filter(has_text=way).count():
        page.get_by_text(way, exact=True).click()


def for_a_group(page: Page) -> None:
    open_way(page, "For a group")
    page.get_by_label("Adults").fill("4")
    page.get_by_label("Children, 6 to 12").fill("2")
    page.get_by_role("button", name="Scale for the group").click()
    expect(page.locator(".scaled")).to_contain_text("For 6 people: 4 adults, 2 children at 0.6 = 5.2 portions.")
    road.begin(page, "325 g")
    expect(page.locator("#servings")).to_have_value("6")


def by_what_there_is(page: Page) -> None:
    open_way(page, "By what I have")
    page.get_by_label("I have").fill("700 g")
    page.locator("#way-of").select_option(label="red lentils")
    page.get_by_role("button", name="Use all of it").click()
    expect(page.locator(".scaled")).to_contain_text("makes 11 servings, 2 % larger")
    road.begin(page, "700 g")


def for_my_pot(page: Page) -> None:
    open_way(page, "For my own pot")
    page.get_by_label("My pot holds").fill("1.5")
    page.get_by_role("button", name="Fit it to my pot").click()
    expect(page.locator(".scaled")).to_contain_text("2 batches")
    road.begin(page, "700 g")
    expect(page.locator("#ingredients .lines li").first).to_contain_text("in 2 batches of 350 g")


def mistype(page: Page) -> None:
    open_way(page, "By what I have")
    page.get_by_label("I have").fill("lots")
    page.get_by_role("button", name="Use all of it").click()
    expect(page.locator("#way-have")).to_have_value("lots")
    expect(page.locator(".way .error")).to_be_visible()


def test_scaling_for_a_group_by_what_there_is_and_for_a_pot(pot, window):
    window.goto(f"/r/{pot.slug}/")
    for_a_group(window)
    by_what_there_is(window)
    for_my_pot(window)
    card = road.take_card(window)
    words = " ".join(" ".join(leaf.extract_text() for leaf in card.pages).split())
    assert "in 2 batches" in words
    assert "700 g" in words
    assert "350 g" in words
    window.emulate_media(media="print")
    expect(window.locator("#ingredients .lines li").first).to_be_visible()
    expect(window.locator("#your-kit")).to_be_hidden()
    window.emulate_media(media="screen")
    window.get_by_role("link", name="As written").click()
    window.wait_for_url(f"**/r/{pot.slug}/")
    road.begin(window, "250 g")
    fits(window)


def test_what_cannot_be_read_stays_in_its_field(pot, page_without_script):
    page_without_script.goto(f"/r/{pot.slug}/")
    mistype(page_without_script)
    road.begin(page_without_script, "250 g")
