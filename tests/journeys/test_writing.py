"""Writing with the keyboard: a whole recipe pasted, rows moved and undone, tabs closed at the worst moment, two cooks at once."""

from __future__ import annotations

import re
import time

import pytest
from playwright.sync_api import Page, Route, expect

from kitchen.models import Recipe
from kitchen.queries import draft_of, newest_revision
from tests.journeys.conftest import WIDE, watched_page
from tests.journeys.small_kitchen import sign_in, write_pot
from tests.journeys.waiting import comes_to, follow

EDIT = "/bench/recipes/lentil-pot/edit/"
LINES = "\n".join([*(f"{number * 25} g lentils number {number}" for number in range(1, 25)), "For the sauce:", *("1 lemon",) * 5])
STEPS = "\n".join(f"{number}. Do what has to be done, number {number},\nand do it well." for number in range(1, 11))


# With the time, or what a second saving right behind says; not the words before anything was typed.
SAVED = re.compile(r"Saved \d|Everything is saved")


class Keys:
    """A keyboard that counts what is pressed."""

    def __init__(self, page: Page) -> None:
        self.page, self.pressed = page, 0

    def press(self, key: str, times: int = 1) -> None:
        for _ in range(times):
            self.page.keyboard.press(key)
            self.pressed += 1

    def type(self, text: str) -> None:
        self.page.keyboard.type(text)
        self.pressed += len(text)

    def paste(self, text: str) -> None:
        """Paste as Ctrl+V does: one press, the whole text at once."""
        self.page.keyboard.insert_text(text)
        self.pressed += 1

    def tab_to(self, selector: str) -> None:
        for _ in range(60):
            self.press("Tab")
            if self.page.evaluate("selector => document.activeElement.matches(selector)", selector):
                return
        pytest.fail(f"{selector} is not reached by the Tab key")


def lines_of(recipe: Recipe) -> list[tuple[str, ...]]:
    return [part.lines for part in draft_of(newest_revision(recipe)).parts]


def steps_of(recipe: Recipe) -> list[str]:
    return [step.text for step in draft_of(newest_revision(recipe)).steps]


@pytest.fixture
def pot(page, owner, live_server):
    recipe = write_pot(owner)
    sign_in(page, owner, live_server.url)
    page.goto(EDIT)
    return recipe


def test_thirty_lines_and_ten_steps_are_pasted_with_the_keyboard(page, owner, live_server, capsys):
    sign_in(page, owner, live_server.url)
    began = time.monotonic()
    page.goto("/bench/recipes/new/")
    keys = Keys(page)
    expect(page.get_by_label("Title")).to_be_focused()
    keys.type("Thirty lines")
    keys.tab_to("#id_part-0-lines")
    keys.paste(LINES)
    keys.tab_to("#id_pasted_steps")
    keys.paste(STEPS)
    keys.press("Control+s")
    expect(page.locator(".editor__step")).to_have_count(10)
    expect(page.get_by_role("heading", level=1)).to_have_text("Thirty lines")
    page.wait_for_url("**/bench/recipes/thirty-lines/edit/")
    expect(page.locator("#draft-state")).to_contain_text(SAVED)
    seconds = time.monotonic() - began
    recipe = Recipe.objects.get()
    comes_to(lambda: [len(lines) for lines in lines_of(recipe)], [24, 5])
    comes_to(lambda: steps_of(recipe)[9], "Do what has to be done, number 10, and do it well.")
    with capsys.disabled():
        print(f"\nthirty lines and ten steps: {keys.pressed} key presses, {seconds:.1f} s with this machine's own speed")
    assert keys.pressed < 100


def test_a_line_is_moved_with_the_keyboard_and_undone_by_the_browser(page, pot):
    area = page.locator("#id_part-0-lines")
    area.fill("2 eggs\n1 onion\nsalt")
    area.press("Control+Home")
    area.press("Alt+PageDown")
    expect(area).to_have_value("1 onion\n2 eggs\nsalt")
    area.press("Alt+PageDown")
    expect(area).to_have_value("1 onion\nsalt\n2 eggs")
    area.press("Alt+PageDown")
    expect(area).to_have_value("1 onion\nsalt\n2 eggs")
    area.press("Alt+PageUp")
    expect(area).to_have_value("1 onion\n2 eggs\nsalt")
    area.press("Control+z")
    expect(area).to_have_value("1 onion\nsalt\n2 eggs")
    page.keyboard.press("Control+s")
    expect(page.locator("#draft-state")).to_contain_text(SAVED)
    comes_to(lambda: lines_of(pot)[0], ("1 onion", "salt", "2 eggs"))


def test_a_step_is_moved_with_the_keyboard_removed_and_brought_back(page, pot):
    first = page.locator("#id_step-0-text").input_value()
    page.locator("#id_step-0-text").focus()
    page.keyboard.press("Alt+PageDown")
    expect(page.locator("#id_step-1-text")).to_have_value(first)
    expect(page.locator("#id_step-1-text")).to_be_focused()
    expect(page.locator("#undo")).to_contain_text("Step 1 is number 2 now.")
    page.get_by_role("button", name="Remove: step 2").click()
    expect(page.locator(".editor__step")).to_have_count(1)
    expect(page.locator("#undo")).to_contain_text("Step 2 was removed.")
    page.locator("#id_step-0-text").fill("Typed after it was removed.")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(".editor__step")).to_have_count(2)
    expect(page.locator("#undo")).to_be_empty()
    expect(page.locator("#draft-state")).to_contain_text(SAVED)
    comes_to(lambda: steps_of(pot), ["Typed after it was removed.", first])


def test_a_step_is_drawn_to_another_place_by_its_number_and_put_back(page, pot):
    first = page.locator("#id_step-0-text").input_value()
    grips = page.locator(".editor__steps .grip")
    below = grips.nth(1).bounding_box()
    grips.nth(0).hover(position={"x": 30, "y": 10})
    page.mouse.down()
    page.mouse.move(below["x"] + 30, below["y"] + 60, steps=6)
    page.mouse.up()
    expect(page.locator("#id_step-1-text")).to_have_value(first)
    expect(page.locator("#undo")).to_contain_text("Step 1 is number 2 now.")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#id_step-0-text")).to_have_value(first)
    comes_to(lambda: steps_of(pot)[0], first)


def test_parts_are_moved_joined_and_parted_again(window, owner, live_server):
    pot = write_pot(owner)
    sign_in(window, owner, live_server.url)
    window.goto(EDIT)
    window.get_by_role("button", name="Add a part").click()
    window.locator("#id_part-1-title").fill("Sauce")
    window.locator("#id_part-1-lines").fill("1 lemon")
    window.get_by_role("button", name="Up: part 2").click()
    expect(window.locator("#id_part-0-title")).to_have_value("Sauce")
    window.get_by_role("button", name="Join to the part above: part 2").click()
    expect(window.locator(".editor__part")).to_have_count(1)
    window.get_by_role("button", name="Undo").click()
    expect(window.locator(".editor__part")).to_have_count(2)
    expect(window.locator("#id_part-0-lines")).to_have_value("1 lemon")
    window.get_by_role("button", name="Save", exact=True).last.click()
    expect(window.get_by_role("status").first).to_contain_text("aved")
    comes_to(lambda: lines_of(pot)[0], ("1 lemon",))


def test_a_tab_closed_right_after_typing_loses_nothing(page, pot):
    page.locator("#id_summary").fill("The last words")
    page.close(run_before_unload=True)
    comes_to(lambda: Recipe.objects.get().summary, "The last words")


def test_an_answer_that_was_lost_is_no_clash_with_oneself(browser, owner, live_server):
    """The window is not watched: a lost answer is an error in its console, and here it is meant."""
    pot = write_pot(owner)
    context = browser.new_context(base_url=live_server.url, viewport=WIDE)
    page = context.new_page()
    sign_in(page, owner, live_server.url)
    page.goto(EDIT)
    lost: list[str] = []

    def lose_the_first_answer(route: Route) -> None:
        if route.request.headers.get("hx-request") and not lost:
            lost.append(route.fetch().text())
            route.abort()
        else:
            route.continue_()

    page.route("**/edit/", lose_the_first_answer)
    page.get_by_label("In one line").fill("First words")
    page.get_by_label("In one line").blur()
    expect(page.locator("#draft-state")).to_contain_text("does not answer")
    assert Recipe.objects.get().summary == "First words"
    page.get_by_label("In one line").fill("Second words")
    page.keyboard.press("Control+s")
    expect(page.locator("#draft-state")).to_contain_text(SAVED)
    comes_to(lambda: Recipe.objects.get().summary, "Second words")
    context.close()
    assert "clash" not in newest_revision(pot).typed


@pytest.fixture
def two_cooks(page, pot, browser, live_server, owner):
    """Two browsers with the same draft open; the second one saves first."""
    windows = watched_page(browser, live_server.url, viewport=WIDE)
    other = next(windows)
    sign_in(other, owner, live_server.url)
    other.goto(EDIT)
    other.locator("#id_part-0-lines").fill("600 g red lentils\n2 onions")
    other.get_by_role("button", name="Save", exact=True).last.click()
    expect(other.locator(".notices")).to_contain_text("Saved")
    page.locator("#id_part-0-lines").fill("300 g red lentils\n1 lemon")
    page.keyboard.press("Control+s")
    expect(page.locator("#draft-state")).to_contain_text("Nothing was overwritten")
    yield page, other
    next(windows, None)


@pytest.mark.both_engines
def test_two_cooks_see_both_and_mine_goes_on_top(two_cooks, pot):
    page, other = two_cooks
    page.get_by_role("button", name="See both side by side").click()
    expect(page.get_by_role("heading", name="Mine and theirs")).to_be_visible()
    expect(page.locator(".pair__words").first).to_contain_text("600 g → 300 g")
    page.get_by_role("button", name="Put mine on top").click()
    expect(page.locator(".notices")).to_contain_text("Saved")
    assert lines_of(pot)[0] == ("300 g red lentils", "1 lemon")
    before = pot.revisions.get(number=1)
    assert [line.text for part in before.parts.all() for line in part.lines.all()] == ["600 g red lentils", "2 onions"]
    other.locator("#id_summary").fill("Of the other cook")
    other.keyboard.press("Control+s")
    expect(other.locator("#draft-state")).to_contain_text("Nothing was overwritten")


@pytest.mark.both_engines
def test_two_cooks_and_theirs_is_taken_while_mine_is_set_aside(two_cooks, pot):
    page, other = two_cooks
    page.get_by_role("button", name="See both side by side").click()
    page.get_by_role("button", name="Take theirs, set mine aside").click()
    expect(page.locator("#id_part-0-lines")).to_have_value("600 g red lentils\n2 onions")
    page.get_by_role("link", name="Put it back on this page").click()
    expect(page.locator("#id_part-0-lines")).to_have_value("300 g red lentils\n1 lemon")
    assert lines_of(pot)[0] == ("600 g red lentils", "2 onions")
    page.get_by_role("link", name="Show what was saved").click()
    follow(page.get_by_role("button", name="Delete it"))
    expect(page.get_by_text("is set aside")).to_have_count(0)
    other.locator("#id_summary").fill("Of the other cook")
    other.keyboard.press("Control+s")
    expect(other.locator("#draft-state")).to_contain_text("also has this recipe open and was held back")


def test_back_to_my_page_goes_on_with_mine(two_cooks):
    page, _ = two_cooks
    page.get_by_role("button", name="See both side by side").click()
    page.get_by_role("button", name="Back to my page").click()
    expect(page.locator("#id_part-0-lines")).to_have_value("300 g red lentils\n1 lemon")
    expect(page.locator("#draft-state")).to_contain_text("Nothing was overwritten")
