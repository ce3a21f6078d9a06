"""A shopping list in a shop without a signal: it opens, its ticks stay, and signing out takes it away."""

from playwright.sync_api import expect

from tests.costing.kitchen_of_prices import set_site, write_stew
from tests.journeys.small_kitchen import NOON, sign_in

LIST = "/bench/shopping/?stew=4"


def test_a_list_that_was_kept_opens_without_a_signal_with_its_ticks(narrow_page, owner, live_server):
    set_site()
    write_stew(owner, NOON)
    sign_in(narrow_page, owner, live_server.url)
    narrow_page.goto(LIST)
    narrow_page.get_by_role("button", name="Save for offline").click()
    expect(narrow_page.locator("[data-keep-said]")).to_contain_text("Saved: it opens without a signal")
    narrow_page.get_by_label("onion").check()
    narrow_page.context.set_offline(True)
    narrow_page.reload()
    expect(narrow_page.get_by_label("onion")).to_be_checked()
    expect(narrow_page.get_by_label("red lentils")).not_to_be_checked()
    narrow_page.context.set_offline(False)
    kept = "async () => (await caches.keys()).includes('wattfare-lists')"
    assert narrow_page.evaluate(kept)
    narrow_page.evaluate("() => fetch('/bench/sign-out/', { method: 'POST' })")
    narrow_page.wait_for_function(f"async () => !(await ({kept})())")
