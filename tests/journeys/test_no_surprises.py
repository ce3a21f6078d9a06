"""Every page at 320 px, in light and in dark: nothing sticks out, everything has a name, all text can be read."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from django.contrib.auth.models import User
from playwright.sync_api import Page

from costing.models import Quote, Shop, Yield
from deploy.demo.load import load_demo
from energy.models import Appliance, Meter, PowerSource, Run, Tariff
from kitchen.models import Food, Line, Recipe
from kitchen.operations import withdraw_recipe
from tests.journeys.conftest import watched_page
from tests.journeys.small_kitchen import NOON, sign_in

HERE = Path(__file__).parent
NARROW = {"viewport": {"width": 320, "height": 640}}
POT = "red-lentil-and-squash-pot"
FAULTS = (HERE / "faults.js").read_text(encoding="utf-8")
FAINT = (HERE / "faint.js").read_text(encoding="utf-8")


@pytest.fixture
def narrow_window(browser, live_server, transactional_db):
    yield from watched_page(browser, live_server.url, **NARROW)


def look_at(page: Page, address: str, status: int = 200) -> list[str]:
    """Open a page and return what is wrong with it, in both colour schemes."""
    page.emulate_media(color_scheme="light")
    answer = page.goto(address)
    found = page.evaluate(FAULTS)
    if answer.status != status:
        found.append(f"status {answer.status}")
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        found += [f"{scheme}: {faint}" for faint in page.evaluate(FAINT)]
    return [f"{address} {fault}" for fault in found]


PUBLIC = {
    "/": 200,
    "/?q=lentil&sort=energy_per_serving_wh&wh=300": 200,
    "/?q=nothing+like+this": 200,
    "/?wh=many": 400,
    f"/r/{POT}/": 200,
    f"/r/{POT}/for-3/": 200,
    f"/r/{POT}/?for=six": 400,
    f"/r/{POT}/?measures=us&battery_wh=500&inverter_w=300": 200,
    f"/r/{POT}/runs/": 200,
    f"/r/{POT}/editions/": 200,
    f"/r/{POT}/editions/1/": 200,
    "/r/cocoa-for-the-cold-hours/": 200,
    "/r/corn-cakes/": 200,
    "/method/": 200,
    "/nowhere/": 404,
    "/bench/sign-in/": 200,
    "/start/not-a-token/": 410,
}
BAD_PAGE = """<body style="background: #fff"><main><svg></svg><input><button></button><p id="twice" style="width: 900px">One</p>
<p id="twice" aria-describedby="nowhere" style="color: #aaa">Two</p><a href="#">x</a></main></body>"""


def test_the_faults_are_found(browser):
    """The two looks above see what they look for."""
    page = browser.new_page(**NARROW)
    page.set_content(BAD_PAGE)
    found = page.evaluate(FAULTS)
    faint = page.evaluate(FAINT)
    page.close()
    kinds = ["scrolls", "sticks out", "0 h1", "no lang", "no title", "id twice", "no label", "no name", "no words"]
    kinds += ["points at", "too low"]
    assert [kind for kind in kinds if not any(fault.startswith(kind) for fault in found)] == []
    assert faint == ["2.32 to 1: Two"]


def test_no_page_holds_a_surprise(narrow_window, live_server):
    load_demo()
    found = [fault for address, status in PUBLIC.items() for fault in look_at(narrow_window, address, status)]
    sign_in(narrow_window, User.objects.create_superuser("owner", password="pot-lid-spoon"), live_server.url)
    found += [fault for address in bench_pages() for fault in look_at(narrow_window, address)]
    withdraw_recipe(recipe=Recipe.objects.get(slug=POT), at=NOON)
    found += look_at(narrow_window, f"/r/{POT}/", 410)
    assert found == []


def bench_pages() -> Iterator[str]:
    """Return the addresses of the signed-in side, each with the example's first things."""
    run = Run.objects.filter(revision__recipe__slug=POT).first()
    line = Line.objects.filter(part__revision__recipe__slug=POT).last()
    yield from (f"/bench/{place}" for place in ("", "recipes/new/", "foods/", "foods/new/", "runs/", "runs/?flagged=1"))
    yield from (f"/bench/{place}/" for place in ("prices", "prices/rules", "shops", "yields", "cooks", "settings", "password"))
    for place in ("", "edit/", "draft/", "publish/", "photos/", "address/", "sides/", "delete/", "runs/", "runs/new/", "prices/"):
        yield f"/bench/recipes/{POT}/{place}"
    yield f"/bench/recipes/{POT}/edit/lines/{line.pk}/"
    for place in ("", "edit/", "stages/", "log/", "remove/", f"readings/{run.readings.first().pk}/"):
        yield f"/bench/runs/{run.pk}/{place}"
    yield f"/bench/runs/{Run.objects.exclude(flags=[]).first().pk}/"
    for sort, model in (("appliances", Appliance), ("sources", PowerSource), ("meters", Meter), ("tariffs", Tariff)):
        yield from (f"/bench/{sort}/{place}" for place in ("", "new/", f"{model.objects.first().pk}/remove/"))
    rows = (("foods", Food), ("prices", Quote), ("shops", Shop), ("yields", Yield))
    yield from (f"/bench/{sort}/{model.objects.first().pk}/" for sort, model in rows)
    yield f"/bench/prices/food/{Quote.objects.first().item.food_id}/"
