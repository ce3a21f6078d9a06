"""From the first start to a printed card, as the owner and then as a stranger: on a wide screen, on a phone, without script."""

import re

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from kitchen.models import Edition
from kitchen.operations import first_link_token, load_reference_foods
from tests.journeys import road
from tests.journeys.waiting import comes_to

A6_POINTS = (298, 420)


@pytest.fixture(autouse=True)
def reference_foods(transactional_db):
    """The foods that every kitchen starts with."""
    load_reference_foods()


def walk_to_the_public_page(page: Page) -> None:
    road.open_first_link(page, first_link_token(at=timezone.now()))
    road.write_recipe(page)
    road.correct_spinach(page)
    road.write_steps(page)
    road.bring_gear(page)
    road.record_cook(page)
    road.read_run(page)
    road.type_prices(page)
    road.publish(page)
    road.sign_out(page)
    road.read_as_stranger(page)


def check_card(page: Page) -> None:
    card = road.take_card(page)
    assert len(card.pages) >= 2
    assert tuple(round(float(side)) for side in card.pages[0].mediabox[2:]) == A6_POINTS
    words = " ".join(leaf.extract_text() for leaf in card.pages)
    assert road.TITLE in words
    assert "red lentils" in words
    assert "53" in words


def scale_in_place(page: Page) -> None:
    """With script the stepper changes the page without loading it again, and the back button brings the amounts back."""
    written = road.amounts(page)
    page.evaluate("window.sameDocument = true")
    road.step_up(page)
    expect(page).to_have_title(re.compile(f"^{road.TITLE}, for 5"))
    assert page.evaluate("window.sameDocument")
    page.go_back()
    page.wait_for_url("**/r/squash-and-lentil-pot/")
    expect(page.locator("#servings")).to_have_value("4")
    comes_to(lambda: road.amounts(page), written)
    page.go_forward()
    expect(page.locator("#servings")).to_have_value("5")
    page.get_by_role("link", name="One serving less").click()
    page.wait_for_url("**/r/squash-and-lentil-pot/")
    expect(page.locator("#servings")).to_have_value("4")
    page.get_by_label("Servings").fill("8")
    page.get_by_label("Servings").press("Enter")
    page.wait_for_url("**/for-8/")
    road.begin(page, "500 g", "1.2 kg")
    batches = ["in 2 batches of 250 g", "in 2 batches of 600 g"]  # eight do not fit its pot at once
    comes_to(lambda: road.texts(page.locator("#ingredients .each"))[:2], batches)


@pytest.mark.both_engines
def test_on_a_wide_screen(page):
    walk_to_the_public_page(page)
    scale_in_place(page)
    road.type_nonsense(page)
    check_card(page)
    assert Edition.objects.count() == 1


def test_on_a_phone(narrow_page):
    walk_to_the_public_page(narrow_page)
    scale_in_place(narrow_page)
    road.type_nonsense(narrow_page)
    check_card(narrow_page)


def test_without_script(page_without_script):
    page = page_without_script
    walk_to_the_public_page(page)
    written = road.amounts(page)
    road.step_up(page)
    page.go_back()
    comes_to(lambda: road.amounts(page), written)
    road.type_nonsense(page)
    check_card(page)
