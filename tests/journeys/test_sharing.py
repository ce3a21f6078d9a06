"""A recipe in a frame of another site, and what a reader copies. Source: HTML Standard, sandboxed frames and their origin."""

import threading
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from django.contrib.auth.models import User
from playwright.sync_api import Page, Route, expect

from kitchen.operations import load_reference_foods
from kitchen.publish.oembed import frame_code
from tests.journeys.small_kitchen import write_pot

FAULTS = Path(__file__).with_name("faults.js").read_text("utf-8")
HEIGHT = (Path(__file__).parents[2] / "static/js/frame-height.js").read_text("utf-8")


@pytest.fixture
def pot(transactional_db):
    """A published pot for four."""
    load_reference_foods()
    return write_pot(User.objects.create_superuser("cook", password="lid-and-ladle"), published=True)


@pytest.fixture
def blog():
    """Another site on this computer: its one page is ``page``. A browser refuses a made-up one."""

    class Answer(BaseHTTPRequestHandler):
        def do_GET(self):
            self.send_response(200)
            self.send_header("Content-Type", "text/html; charset=utf-8")
            self.end_headers()
            self.wfile.write(self.server.page.encode())

        def log_message(self, *_):
            return

    server = ThreadingHTTPServer(("127.0.0.1", 0), Answer)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield server
    server.shutdown()
    thread.join()
    server.server_close()


def as_whitenoise(route: Route) -> None:
    """Answer for a static file what WhiteNoise adds where the site is served: that other origins may read it."""
    found = route.fetch()
    route.fulfill(response=found, headers={**found.headers, "access-control-allow-origin": "*"})


def in_a_blog(page: Page, blog: ThreadingHTTPServer, address: str, script: str = "") -> None:
    """Open a page of another site that holds the frame, as its code stands on the page to copy it from."""
    page.route("**/static/**", as_whitenoise)
    head = '<!doctype html><link rel="icon" href="data:,"><title>A blog</title>'
    blog.page = f"{head}{frame_code(address, 'A pot', height=300)}<script type=module>{script}</script>"
    page.goto(f"http://127.0.0.1:{blog.server_port}/")


def test_the_frame_stands_in_another_site(pot, live_server, blog, window):
    in_a_blog(window, blog, f"{live_server.url}/embed/{pot.slug}/")
    inside = window.frame_locator("iframe")
    expect(inside.get_by_role("heading", level=1)).to_have_text(pot.title)
    expect(inside.get_by_text("red lentils").first).to_be_visible()
    inside.get_by_text("Method", exact=True).click()
    expect(inside.locator(".e-instructions li").first).to_be_visible()


def test_its_height_follows_what_is_open(pot, live_server, blog, page):
    in_a_blog(page, blog, f"{live_server.url}/embed/{pot.slug}/", HEIGHT)
    frame, inside = page.locator("iframe"), page.frame_locator("iframe")
    expect(frame).not_to_have_attribute("height", "300")
    before = int(frame.get_attribute("height"))
    inside.get_by_text("Method", exact=True).click()
    page.wait_for_function(f"Number(document.querySelector('iframe').height) > {before}")
    assert page.frames[1].evaluate("document.documentElement.scrollHeight") <= int(frame.get_attribute("height")) + 1


def test_the_frame_and_the_page_to_copy_from_have_no_faults(pot, window):
    for place in (f"/embed/{pot.slug}/", f"/r/{pot.slug}/share/"):
        window.goto(place)
        assert window.evaluate(FAULTS) == []


def test_a_button_copies(pot, page):
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.goto(f"/r/{pot.slug}/share/")
    page.locator("[data-copies=copy-markdown]").click()
    expect(page.get_by_role("button", name="Copied")).to_be_visible()
    assert page.evaluate("navigator.clipboard.readText()").startswith(f"# {pot.title}")
