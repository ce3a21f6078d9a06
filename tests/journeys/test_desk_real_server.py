"""A phone in the field: no signal, a server killed in the middle of sending, a reload: every reading arrives exactly once."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import BrowserContext, Page, Route, expect

from tests.journeys.real_server import RealServer
from tests.journeys.waiting import PATIENCE_S, follow, wait_for

COOK = "/bench/recipes/lentil-pot/cook/"
PHONE = {"viewport": {"width": 360, "height": 740}, "has_touch": True}
LONG_S = 90
LONG_MS = LONG_S * 1000


@pytest.fixture(scope="module")
def server(tmp_path_factory) -> Iterator[RealServer]:
    server = RealServer(tmp_path_factory.mktemp("real"))
    server.furnish(tmp_path_factory)
    yield server
    server.kill()


@pytest.fixture
def phone(browser, server) -> Iterator[BrowserContext]:
    server.kill()
    server.start()
    context = browser.new_context(base_url=server.url, **PHONE)
    context.set_default_timeout(PATIENCE_S * 1000)
    context.add_cookies([{"name": "wattfare_session", "value": server.sign_in(), "url": server.url}])
    yield context
    context.close()


def keep_shell(page: Page) -> None:
    """Let this device keep the run desk."""
    page.goto("/bench/device/")
    page.get_by_role("button", name="Save the cooking desk here").click()
    expect(page.get_by_text("Opens without a signal", exact=True)).to_be_visible(timeout=LONG_MS)


def start_cook(page: Page) -> None:
    page.goto(COOK)
    for name in ("appliance", "source", "meter"):
        page.locator(f"[name={name}]").select_option(index=1)
    page.get_by_role("button", name="Switch on and start").click()
    page.wait_for_url("**/desk/", timeout=LONG_MS)
    expect(page.locator("[data-state]")).to_have_text("all saved")


def log(page: Page, energy_wh: int) -> None:
    """Log one figure, and see it drawn."""
    page.locator("[name=energy_wh]").fill(str(energy_wh))
    page.locator(".dock [data-press=reading]").click()
    expect(page.get_by_role("button", name=f"Correct {energy_wh}\u00a0Wh", exact=True)).to_have_count(1)


def kept_readings(server: RealServer, run: int) -> list[float]:
    rows = server.rows("select energy_wh from energy_reading where run_id = ? order by at, energy_wh", run)
    return [energy_wh for (energy_wh,) in rows]


def test_thirty_readings_without_a_signal_arrive_exactly_once(phone, server):
    page = phone.new_page()
    keep_shell(page)
    start_cook(page)
    run = int(page.url.split("/")[-3])
    server.kill()
    for energy_wh in range(1, 31):
        log(page, energy_wh)
    expect(page.locator(".desk-row__mark--waiting")).to_have_count(30)
    page.reload()  # from what the device keeps: there is no server
    expect(page.locator("[data-state]")).to_have_text("30 waiting, no signal", timeout=LONG_MS)
    killed = kill_in_the_middle(page, server)
    server.start()
    page.evaluate("dispatchEvent(new Event('online'))")
    wait_for(page, lambda: killed, LONG_S)
    kept = kept_readings(server, run)
    assert 0 < len(kept) < 30
    page.reload()
    expect(page.locator("[data-state]")).to_contain_text("waiting, no signal", timeout=LONG_MS)
    waiting = page.locator(".desk-row__mark--waiting").count()
    assert len(kept) + waiting == 31, "the reading whose answer was lost is kept, and waits all the same"
    killed = kill_at_random(page, server)
    server.start()
    page.reload()
    wait_for(page, lambda: killed, LONG_S)
    server.start()
    page.reload()
    expect(page.locator("[data-state]")).to_have_text("all saved", timeout=LONG_MS)
    assert kept_readings(server, run) == list(range(1, 31))
    events = server.rows("select count(*), count(distinct id) from energy_deskevent where run_id = ? and kind = 'reading'", run)
    assert events == [(30, 30)]
    expect(page.locator(".desk-row--reading .desk-row__mark--kept")).to_have_count(30)


def kill_in_the_middle(page: Page, server: RealServer) -> list[int]:
    """Kill the server after it has kept the seventh press and before the phone hears of it."""
    seen: list[str] = []
    killed: list[int] = []

    def lose_the_answer(route: Route) -> None:
        seen.append(route.request.url)
        if len(seen) == 7 and not killed:
            route.fetch()
            server.kill()
            killed.append(len(seen))
            route.abort()
        else:
            route.continue_()

    page.route("**/api/v1/runs/*/events/*", lose_the_answer)
    return killed


def kill_at_random(page: Page, server: RealServer) -> list[int]:
    """Kill the server while it answers a press, wherever it stands then."""
    page.unroute("**/api/v1/runs/*/events/*")
    seen: list[str] = []
    killed: list[int] = []

    def kill_meanwhile(route: Route) -> None:
        seen.append(route.request.url)
        route.continue_()
        if len(seen) == 5:
            server.kill()
            killed.append(5)

    page.route("**/api/v1/runs/*/events/*", kill_meanwhile)
    return killed


def test_a_cook_is_started_and_finished_without_a_signal_from_what_was_taken_along(phone, server):
    page = phone.new_page()
    page.goto("/r/lentil-pot/")
    page.get_by_role("button", name="Save for offline").click()
    expect(page.locator("[data-along-said]")).to_contain_text("a cook can be started", timeout=LONG_MS)
    before = server.rows("select count(*) from energy_run")[0][0]
    server.kill()
    page.goto("/r/lentil-pot/")
    expect(page.get_by_role("heading", level=1, name="Lentil pot")).to_be_visible()
    page.goto("/method/")
    expect(page.get_by_role("heading", name="No signal")).to_be_visible()
    expect(page.get_by_role("link", name="Lentil pot", exact=True)).to_have_attribute("href", "/r/lentil-pot/")
    page.goto(COOK)
    expect(page.get_by_label("Servings")).to_have_value("4")
    page.get_by_text("New", exact=True).nth(2).click()
    page.get_by_label("Smallest step of its counter").fill("0.005 kWh")
    page.get_by_label("A practice cook").check()
    page.get_by_role("button", name="Switch on and start").click()
    expect(page.locator("[data-stage]")).to_have_text("Brown")
    log(page, 0)
    page.locator(".dock [data-press=following]").click()
    expect(page.locator("[data-stage]")).to_have_text("Hold")
    log(page, 213)
    page.keyboard.press("f")
    expect(page.locator("[data-finished]")).to_contain_text("213\u00a0Wh")
    expect(page.locator("[data-finished]")).to_contain_text("Waiting: worked out on this phone.")
    page.reload()
    expect(page.locator("[data-finished]")).to_contain_text("213\u00a0Wh")
    server.start()
    page.evaluate("dispatchEvent(new Event('online'))")
    page.wait_for_url("**/bench/runs/*/desk/", timeout=LONG_MS)
    expect(page.locator("[data-state]")).to_have_text("all saved", timeout=LONG_MS)
    assert server.rows("select count(*) from energy_run")[0][0] == before + 1
    run = int(page.url.split("/")[-3])
    assert kept_readings(server, run) == [0, 213]
    kinds = server.rows("select kind from energy_stage where run_id = ? order by position", run)
    assert kinds == [("brown",), ("hold",)]
    told = (
        "select ended_at is not null, verdict, resolution_wh from energy_run r, energy_meter m where r.id = ? and m.id = meter_id"
    )
    assert server.rows(told, run) == [(1, "left_out", 5)], "a practice cook, read from a meter that was typed in on the phone"


def test_a_reader_cooks_without_a_signal_and_the_timer_outlives_a_locked_phone(browser, server):
    server.kill()
    server.start()
    context = browser.new_context(base_url=server.url, **PHONE)
    page = context.new_page()
    page.clock.install()
    page.goto("/r/lentil-pot/for-6/")
    page.get_by_role("button", name="Save for offline").click()
    expect(page.locator("[data-along-said]")).to_contain_text("opens without a signal", timeout=LONG_MS)
    server.kill()
    page.goto("/r/lentil-pot/")
    expect(page.locator("#servings")).to_have_value("4")
    page.goto("/r/lentil-pot/for-6/")
    expect(page.locator("#servings")).to_have_value("6")
    page.get_by_role("link", name="Cook", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("for 6")
    page.locator("[data-tick]").first.check()
    page.get_by_role("button", name="Next").click()
    timer = page.locator(".cook__step:visible").get_by_role("button", name="Start the timer")
    timer.click()
    expect(page.get_by_text("left, step 1")).to_be_visible()
    place, length_s = page.url, int(timer.get_attribute("data-timer"))
    page.goto("about:blank")
    page.clock.fast_forward((length_s - 60) * 1000)
    page.goto(place)
    expect(page.locator("[data-timers] b")).to_have_text(re.compile(r"^(0:[0-5]\d|1:00)$"))
    page.clock.fast_forward(61_000)
    expect(page.locator("[data-timers] b")).to_have_text("Time is up")
    page.get_by_role("button", name="Back").click()
    expect(page.locator("[data-tick]").first).to_be_checked()
    context.close()


def test_signing_out_leaves_nobodys_recipes_and_cooks_on_the_device(phone, server):
    page = phone.new_page()
    keep_shell(page)
    start_cook(page)
    log(page, 5)
    expect(page.locator("[data-state]")).to_have_text("all saved")
    page.goto("/bench/kitchen/")
    follow(page.get_by_role("button", name="Sign out"))
    expect(page.get_by_role("link", name="Bench")).to_be_visible()
    server.kill()
    page.goto("/desk-shell/")
    expect(page.get_by_text("None yet.")).to_be_visible()
    expect(page.get_by_text("No recipe is saved for offline.")).to_be_visible()


def test_a_collection_is_kept_with_its_size_and_taken_away(phone, server):
    page = phone.new_page()
    page.goto("/c/two-pots/")
    page.get_by_role("button", name="Save for offline").click()
    expect(page.locator("[data-along-said]")).to_contain_text("opens without a signal", timeout=LONG_MS)
    page.route("**/c/two-pots.json", lambda route: route.fulfill(json={"recipes": [{"path": "/r/lentil-pot/", "edition": 9}]}))
    page.goto("/saved/")
    expect(page.locator("[data-saved]")).to_contain_text("1 recipe")
    expect(page.locator("[data-saved]")).to_contain_text("there is something newer")
    expect(page.get_by_role("button", name="Update Two pots")).to_be_visible()
    page.unroute_all()
    server.kill()
    for place, heading in (
        ("/c/two-pots/", "Two pots"),
        ("/r/lentil-pot/cook/", "Lentil pot for 4"),
        ("/saved/", "Saved on this"),
    ):
        page.goto(place)
        expect(page.get_by_role("heading", level=1)).to_contain_text(heading)
    expect(page.locator("[data-saved]")).to_contain_text("kB, saved")
    expect(page.get_by_role("button", name="Update Two pots")).to_be_hidden()
    page.get_by_role("button", name="Remove Two pots from this device").click()
    expect(page.locator("[data-saved-said]")).to_contain_text("no longer kept")
    expect(page.get_by_text("Nothing is saved yet.")).to_be_visible()
