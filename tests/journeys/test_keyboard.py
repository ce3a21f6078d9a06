"""Whoever has no mouse gets everywhere: the skip link, the stepper, the editor; and always sees where they are."""

import pytest
from playwright.sync_api import Page, expect

from tests.journeys.small_kitchen import sign_in, write_pot

MOST_STOPS = 90
# What is focused, whether a ring shows it, and whether something else lies over it.
FOCUSED = """() => {
  const at = document.activeElement;
  if (!at || at === document.body) return null;
  const look = getComputedStyle(at), box = at.getBoundingClientRect();
  const seen = document.elementFromPoint(box.x + Math.min(box.width, innerWidth) / 2, box.y + Math.min(box.height, 40) / 2);
  return {
    what: at.id || at.textContent.trim().slice(0, 40) || at.name,
    ring: look.outlineStyle !== "none" && parseFloat(look.outlineWidth) >= 2,
    clear: seen !== null && (at.contains(seen) || seen.contains(at)),
  };
}"""


def tab_to(page: Page, selector: str) -> None:
    """Press Tab until an element has the focus."""
    for _ in range(MOST_STOPS):
        page.keyboard.press("Tab")
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
    pytest.fail(f"{selector} is not reached by {MOST_STOPS} presses of Tab")


def stops(page: Page) -> list[dict]:
    """Return every stop of the Tab key from the top of the page to its end."""
    found = []
    for _ in range(MOST_STOPS):
        page.keyboard.press("Tab")
        stop = page.evaluate(FOCUSED)
        if stop is None:
            return found
        found.append(stop)
    pytest.fail("the Tab key does not come to the page's end")


def test_the_skip_link_and_the_stepper(page, owner):
    write_pot(owner, published=True)
    page.goto("/r/lentil-pot/")
    page.keyboard.press("Tab")
    expect(page.locator(".skip")).to_be_focused()
    expect(page.locator(".skip")).to_be_in_viewport(ratio=1)
    page.keyboard.press("Enter")
    page.wait_for_url("**/#*")
    page.keyboard.press("Tab")
    expect(page.locator("main :focus")).to_have_count(1)

    page.goto("/r/lentil-pot/")
    tab_to(page, "#servings-more")
    for servings in (5, 6):
        page.keyboard.press("Enter")
        page.wait_for_url(f"**/for-{servings}/")
        expect(page.locator("#servings")).to_have_value(str(servings))
        expect(page.locator("#servings-more")).to_be_focused()
    page.keyboard.press("Shift+Tab")
    expect(page.locator("#servings")).to_be_focused()
    page.keyboard.type("9")
    page.keyboard.press("Enter")
    page.wait_for_url("**/for-9/")
    expect(page.locator("#servings")).to_be_focused()


def test_steps_are_added_and_moved_in_the_editor(page, owner, live_server):
    write_pot(owner)
    sign_in(page, owner, live_server.url)
    page.goto("/bench/recipes/lentil-pot/edit/")
    tab_to(page, "#step-1-up")
    page.keyboard.press("Enter")
    expect(page.locator("#id_step-0-text")).to_have_value("Add the lentils and hold them at the boil.")
    tab_to(page, "#add-step")
    page.keyboard.press("Enter")
    expect(page.locator(".editor__step")).to_have_count(3)
    expect(page.locator("#add-step")).to_be_focused()
    for _ in range(8):
        page.keyboard.press("Shift+Tab")
        if page.evaluate("document.activeElement.id") == "id_step-2-text":
            break
    page.keyboard.type("Eat under the stars.")
    tab_to(page, ".editor__bar button")
    page.keyboard.press("Enter")
    expect(page.get_by_role("status").first).to_contain_text("Saved")
    expect(page.locator("#id_step-2-text")).to_have_value("Eat under the stars.")


@pytest.mark.parametrize("address", ["/r/lentil-pot/", "/bench/recipes/lentil-pot/edit/"])
def test_one_always_sees_where_one_is(narrow_page, owner, live_server, address):
    write_pot(owner, published=True)
    sign_in(narrow_page, owner, live_server.url)
    narrow_page.goto(address)
    found = stops(narrow_page)
    assert len(found) >= 20
    assert [stop["what"] for stop in found if not stop["ring"]] == []
    assert [stop["what"] for stop in found if not stop["clear"]] == []
