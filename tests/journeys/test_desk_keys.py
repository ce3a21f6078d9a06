"""The single letters of the run desk: off while a field is open, and off for good where nobody wants them (WCAG 2.1.4)."""

import pytest
from playwright.sync_api import Page, expect

from tests.journeys.small_kitchen import sign_in
from tests.journeys.test_desk import kept, open_desk, run
from tests.journeys.waiting import comes_to

__all__ = ["run"]


@pytest.fixture
def desk(page, owner, run, live_server) -> Page:
    sign_in(page, owner, live_server.url)
    open_desk(page, run)
    return page


def test_a_letter_in_a_field_presses_nothing(desk, run):
    counter = desk.locator("[name=energy_wh]")
    desk.keyboard.press("1")
    expect(counter).to_be_focused()
    desk.keyboard.type("54l")
    expect(counter).to_have_value("54l")
    desk.keyboard.press("Backspace")
    desk.keyboard.press("Escape")
    expect(counter).not_to_be_focused()
    desk.keyboard.press("l")
    comes_to(lambda: kept(run), [0, 54])


def test_letters_can_be_switched_off_on_a_device(desk):
    desk.get_by_text("Keys", exact=True).click()
    desk.get_by_label("One letter is enough").uncheck()
    desk.reload()
    expect(desk.locator("[data-stage]")).to_have_text("Brown")
    desk.keyboard.press("n")
    desk.keyboard.press("f")
    desk.get_by_text("Keys", exact=True).click()
    expect(desk.get_by_label("One letter is enough")).not_to_be_checked()
    expect(desk.locator("[data-stage]")).to_have_text("Brown")
