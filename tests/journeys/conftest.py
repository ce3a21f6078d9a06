"""A real browser for the journeys: Debian's Chromium, driven by Playwright against a server that runs in the test."""

import os
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, Response, expect, sync_playwright

from deploy.debian import find_browser
from tests.journeys.traffic import TRAFFIC
from tests.journeys.waiting import PATIENCE_S

pytest.register_assert_rewrite("tests.journeys.road")

WIDE = {"width": 1280, "height": 900}
WINDOWS = {
    "wide": {},
    "phone": {"viewport": {"width": 360, "height": 740}, "has_touch": True},
    "without script": {"java_script_enabled": False},
}
QUIET = [
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-default-apps",
    "--disable-dev-shm-usage",
    "--disable-domain-reliability",
    "--disable-gpu",
    "--disable-sync",
    "--no-first-run",
]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what drives a browser, so that it can be left out with ``-m "not browser"``.

    It shows what a browser does, and the second database passes over it, unless two write at once or it walks the whole road.
    """
    for item in items:
        if "browser" in getattr(item, "fixturenames", ()):
            item.add_marker("browser")
            if item.get_closest_marker("both_engines") is None:
                item.add_marker("any_engine")


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all journeys of this process."""
    path = find_browser()
    if path is None:
        pytest.skip("no Chromium is installed: apt-get install --no-install-recommends chromium")
    as_root = ["--no-sandbox"] if os.geteuid() == 0 else []
    # Playwright runs an event loop in this thread; the tests themselves are plain synchronous code and may ask the database.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"
    expect.set_options(timeout=PATIENCE_S * 1000)
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=path, args=[*QUIET, *as_root])
        yield chromium
        chromium.close()


@pytest.fixture(autouse=True)
def answered_to_the_end(request) -> Iterator[None]:
    """Let the server answer what a closed page sent last before the tables are emptied, and nothing after that."""
    if "live_server" in request.fixturenames:
        request.getfixturevalue("transactional_db")  # so that this ends before the tables go
    with TRAFFIC.until_quiet():
        yield


@pytest.fixture
def page(live_server, browser, transactional_db) -> Iterator[Page]:
    """A browser window at 1280 px; the test fails when the page breaks its own policy, throws, or misses a file."""
    yield from watched_page(browser, live_server.url)


@pytest.fixture
def narrow_page(live_server, browser, transactional_db) -> Iterator[Page]:
    """The same on a phone of 360 px."""
    yield from watched_page(browser, live_server.url, **WINDOWS["phone"])


@pytest.fixture
def page_without_script(live_server, browser, transactional_db) -> Iterator[Page]:
    """The same with JavaScript off."""
    yield from watched_page(browser, live_server.url, **WINDOWS["without script"])


@pytest.fixture(params=list(WINDOWS))
def window(request, browser, live_server, transactional_db) -> Iterator[Page]:
    """Each of the three in turn: wide, phone, without script."""
    yield from watched_page(browser, live_server.url, **WINDOWS[request.param])


def watched_page(browser: Browser, base_url: str, **options) -> Iterator[Page]:
    """Open a window, and look afterwards at what went wrong in it."""
    troubles: list[str] = []
    context = browser.new_context(base_url=base_url, **{"viewport": WIDE, **options})
    context.set_default_timeout(PATIENCE_S * 1000)
    page = context.new_page()
    page.on("console", lambda message: troubles.extend(trouble_in(message)))
    page.on("pageerror", lambda error: troubles.append(f"script: {error}"))
    page.on("response", lambda response: troubles.extend(missing_file(response)))
    yield page
    context.close()
    assert troubles == []


def trouble_in(message: ConsoleMessage) -> list[str]:
    """Return what the console calls an error; an address that answers with an error is the test's own business."""
    if message.type == "error" and not message.text.startswith("Failed to load resource"):
        return [f"console: {message.text}"]
    return []


def missing_file(response: Response) -> list[str]:
    """Return the styles, scripts, fonts and pictures that could not be had."""
    if response.status >= 400 and response.request.resource_type in {"stylesheet", "script", "font", "image", "manifest"}:
        return [f"{response.status}: {response.url}"]
    return []
