"""Waiting for what a deed leads to: nothing is read off a page or a table while the answer to a click may still be on its way.

``expect`` waits by itself and comes first. What it cannot say is waited for by one of these.
"""

import time
from collections.abc import Callable
from contextlib import suppress

from django.core.exceptions import ObjectDoesNotExist
from playwright.sync_api import Error, Locator, Page, expect

PATIENCE_S = 60  # a busy computer makes a journey slow, not wrong
LOOKS_APART_MS = 50


def comes_to(read: Callable[[], object], wanted: object) -> None:
    """Wait until what is read, on the page or in the tables, is what was wanted."""
    deadline = time.monotonic() + PATIENCE_S
    while time.monotonic() < deadline:
        with suppress(Error, LookupError, ObjectDoesNotExist):
            if read() == wanted:
                return
        time.sleep(LOOKS_APART_MS / 1000)
    assert read() == wanted


def wait_for(page: Page, happened: Callable[[], object], patience_s: float = PATIENCE_S) -> None:
    """Let the page go on until something has happened that a handler of its requests notes down."""
    deadline = time.monotonic() + patience_s
    while not happened():
        assert time.monotonic() < deadline, "it did not happen"
        page.wait_for_timeout(LOOKS_APART_MS)  # lets the handlers run, which a sleep would not


def follow(link: Locator) -> None:
    """Press what leads to another page, and wait until all of that page is there and its scripts have run."""
    with link.page.expect_navigation():
        link.click()


def fits(page: Page) -> None:
    """See that nothing on the page is wider than its window."""
    expect(page.locator("html")).to_have_js_property("scrollWidth", page.viewport_size["width"])


def strike(button: Locator, times: int = 1) -> None:
    """Press a button and let go at once, however busy the computer is: a finger that rests on it would mean something else."""
    button.evaluate(
        """(button, times) => {
            for (let n = 0; n < times; n += 1) {
                for (const name of ["pointerdown", "pointerup"]) button.dispatchEvent(new PointerEvent(name, { bubbles: true }));
                button.click();
            }
        }""",
        times,
    )
