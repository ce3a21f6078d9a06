"""The library opens in a real browser, keeps its own content policy, and looks like itself."""

import re

from playwright.sync_api import Page, expect

from tests.journeys.waiting import fits


def assert_library_opens(page: Page) -> None:
    answer = page.goto("/")
    assert answer.status == 200
    expect(page).to_have_title(re.compile(r"\S"))
    expect(page.locator("h1").first).to_be_visible()


def test_the_library_opens(page):
    assert_library_opens(page)


def test_the_library_opens_on_a_phone(narrow_page):
    assert_library_opens(narrow_page)


def test_the_library_opens_without_script(page_without_script):
    assert_library_opens(page_without_script)


def test_the_sites_own_type_is_used(page):
    page.goto("/")
    page.wait_for_function("[...document.fonts].some(face => face.status === 'loaded' && face.family.includes('Enamel'))")


def test_nothing_sticks_out_on_a_narrow_phone(narrow_page):
    narrow_page.goto("/")
    fits(narrow_page)
