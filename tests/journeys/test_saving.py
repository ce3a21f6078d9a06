"""The editor saves as it is typed, and a button pressed at a bad moment loses nothing and frightens nobody."""

import pytest
from playwright.sync_api import Route, expect

from kitchen.models import Recipe
from tests.journeys.small_kitchen import sign_in, write_pot
from tests.journeys.waiting import follow, wait_for

EDIT = "/bench/recipes/lentil-pot/edit/"


@pytest.mark.both_engines
def test_save_pressed_while_it_is_being_saved(page, owner, live_server):
    """On a slow line the answer to the saving in the background is still out when the button is pressed."""
    write_pot(owner)
    sign_in(page, owner, live_server.url)
    held = []

    def hold_the_first_answer(route: Route) -> None:
        if route.request.headers.get("hx-request") and not held:
            held.append((route, route.fetch()))
        else:
            route.continue_()

    page.route("**/edit/", hold_the_first_answer)
    page.goto(EDIT)
    page.get_by_label("In one line").fill("First words")
    page.get_by_label("In one line").blur()
    wait_for(page, lambda: held)
    page.get_by_label("In one line").fill("Second words")
    page.get_by_role("button", name="Save", exact=True).last.click()
    route, answer = held[0]
    route.fulfill(response=answer)
    expect(page.locator(".notices")).to_contain_text("Saved")
    expect(page.get_by_label("In one line")).to_have_value("Second words")
    expect(page.locator("main")).not_to_contain_text("Not saved")
    assert Recipe.objects.get().summary == "Second words"
    assert Recipe.objects.get().revisions.count() == 1


@pytest.mark.both_engines
def test_two_windows_do_not_write_over_each_other(page, owner, live_server):
    write_pot(owner)
    sign_in(page, owner, live_server.url)
    other = page.context.new_page()
    page.goto(EDIT)
    other.goto(EDIT)
    other.get_by_label("In one line").fill("From the other window")
    other.get_by_role("button", name="Save", exact=True).last.click()
    expect(other.locator(".notices")).to_contain_text("Saved")
    page.get_by_label("In one line").fill("From this one")
    follow(page.get_by_role("button", name="Save", exact=True).last)
    expect(page.locator("#draft-state")).to_contain_text("Not saved.")
    expect(page.get_by_label("In one line")).to_have_value("From this one")
    assert Recipe.objects.get().summary == "From the other window"
    follow(page.get_by_role("button", name="See both side by side"))
    page.get_by_role("button", name="Put mine on top").click()
    expect(page.locator(".notices")).to_contain_text("Saved")
    assert Recipe.objects.get().summary == "From this one"
