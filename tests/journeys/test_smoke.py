"""The library opens in a real browser, keeps its own content policy, and looks like itself."""

from playwright.sync_api import Page


def assert_library_opens(page: Page) -> None:
    answer = page.goto("/")
    assert answer.status == 200
    assert page.title().strip()
    assert page.locator("h1").first.is_visible()


def test_the_library_opens(page):
    assert_library_opens(page)


def test_the_library_opens_on_a_phone(narrow_page):
    assert_library_opens(narrow_page)


def test_the_library_opens_without_script(page_without_script):
    assert_library_opens(page_without_script)


def test_the_sites_own_type_is_used(page):
    page.goto("/")
    page.evaluate("document.fonts.ready")
    loaded = page.evaluate("[...document.fonts].filter(face => face.status === 'loaded').map(face => face.family)")
    assert any("Enamel" in family for family in loaded)


def test_nothing_sticks_out_on_a_narrow_phone(narrow_page):
    narrow_page.goto("/")
    assert narrow_page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
