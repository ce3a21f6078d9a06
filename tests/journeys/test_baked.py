"""A reader on a copy in plain files, below a sub-path of a host that does nothing but serve files."""

import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer

import pytest
from django.contrib.auth.models import User
from django.core.management import call_command
from playwright.sync_api import expect

from kitchen.models import Site
from tests.journeys.conftest import WINDOWS, watched_page
from tests.journeys.small_kitchen import write_pot
from tests.journeys.waiting import fits, follow


class Quiet(SimpleHTTPRequestHandler):
    """Serves files without a word."""

    def log_message(self, *_):
        return


@pytest.fixture
def host(transactional_db, tmp_path, settings):
    """Where a copy of a kitchen with one pot is served."""
    settings.ANSWERS_DIR = tmp_path / "answers"
    Site.objects.update_or_create(pk=1, defaults={"base_url": "https://files.example/food"})
    write_pot(User.objects.create_superuser("cook", password="lid-and-ladle"), published=True)
    call_command("bake", str(tmp_path / "site" / "food"), verbosity=0)
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=tmp_path / "site"))
    serving = threading.Thread(target=server.serve_forever)
    serving.start()
    yield f"http://127.0.0.1:{server.server_port}/food/"
    server.shutdown()
    serving.join()
    server.server_close()


@pytest.mark.parametrize("kind", list(WINDOWS))
def test_a_reader_finds_reads_and_prints(host, browser, kind):
    for page in watched_page(browser, host, **WINDOWS[kind]):
        page.goto(host)
        if kind != "without script":
            page.get_by_label("Search").fill("red lent")
            expect(page.locator("#found")).to_contain_text("Lentil pot")
            page.get_by_label("Search").fill("quince")
            expect(page.locator("#found")).to_contain_text("Nothing here has these words.")
        fits(page)
        follow(page.locator("#shelf").get_by_role("link", name="Lentil pot"))
        assert page.url == f"{host}r/lentil-pot/"
        expect(page.locator("#ingredients")).to_contain_text("250 g")
        expect(page.get_by_text("This is a copy in plain files")).to_be_visible()
        expect(page.locator("form")).to_have_count(0)
        fits(page)
        card = page.get_by_role("link", name="Print card, A6").get_attribute("href")
        answer = page.request.get(f"{page.url}{card}")
        assert answer.body().startswith(b"%PDF")
        follow(page.get_by_role("link", name="All editions"))
        follow(page.get_by_role("link", name="Read edition 1"))
        follow(page.get_by_role("link", name="Library"))
        assert page.url == host
