"""A reader's kit is remembered by the browser and worked into pages that are the same for everybody; without script by a link."""

import pytest
from django.contrib.auth.models import User
from playwright.sync_api import Page, expect

from tests.journeys.small_kitchen import write_pot
from tests.journeys.waiting import fits, follow


@pytest.fixture
def pot(transactional_db):
    """A published pot for four."""
    return write_pot(User.objects.create_superuser("cook", password="lid-and-ladle"), published=True)


def remember(page: Page, place: str) -> None:
    page.goto(place)
    page.locator("#your-kit > summary").click()
    page.get_by_label("Battery, Wh").fill("500")
    page.get_by_role("button", name="Work it out for my kit").click()
    page.wait_for_url("**battery_wh=500**")
    expect(page.get_by_label("Battery, Wh")).to_have_value("500")


def test_it_is_typed_once_and_then_known_on_every_page(pot, window, request):
    place, scripted = f"/r/{pot.slug}/", "without script" not in request.node.name
    remember(window, place)
    window.locator("#servings-more").click()
    window.wait_for_url(f"**{place}for-5/**battery_wh=500**")
    expect(window.get_by_label("Battery, Wh")).to_have_value("500")
    window.goto(f"{place}for-6/?measures=metric")
    if not scripted:
        window.locator("#your-kit > summary").click()
        follow(window.get_by_role("link", name="The kit that this browser remembers"))
    expect(window.get_by_label("Battery, Wh")).to_have_value("500")
    expect(window.locator("#servings")).to_have_value("6")
    fits(window)
    window.locator("#your-kit:not([open]) > summary").click()
    window.get_by_role("button", name="Forget my kit").click()
    expect(window.get_by_label("Battery, Wh")).to_have_value("")
    window.wait_for_url(f"**{place}for-6/?measures=metric")
    window.goto(place)
    expect(window.get_by_label("Battery, Wh")).to_have_value("")


def test_the_library_shows_what_fits_it(pot, window, request):
    remember(window, f"/r/{pot.slug}/")
    window.goto("/?sort=newest")
    if "without script" in request.node.name:
        follow(window.get_by_role("link", name="What fits my battery?"))
        follow(window.get_by_role("link", name="Show what fits"))
        expect(window.get_by_label("Fits my kit")).to_be_checked()
    else:
        window.get_by_label("Fits my kit").check()
        expect(window.locator("#shelf")).to_contain_text("Nothing here fits that")
    fits(window)
