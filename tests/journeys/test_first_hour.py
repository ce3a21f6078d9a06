"""What a cook does, counted in taps, fields and pages: the first hour, a second cook, a new price.

The bounds may only fall; what was reached stands in ``deploy/measures.md``.
"""

from dataclasses import dataclass, field

import pytest
from django.utils import timezone
from playwright.sync_api import Locator, Page, expect

from energy.models import Run
from kitchen.models import Edition
from kitchen.operations import first_link_token, load_reference_foods
from tests.journeys.road import PASSWORD
from tests.journeys.small_kitchen import bring_gear, sign_in, write_pot
from tests.journeys.waiting import follow

MOST_TAPS, MOST_FIELDS, MOST_PAGES = 11, 30, 10
SECOND_COOK, NEW_PRICE = (3, 7, 4), (2, 4, 3)  # taps, fields, pages

LINES = """30 mL rapeseed oil
2 onions, chopped
3 garlic cloves, sliced
600 g butternut squash, in 2 cm dice
300 g red lentils, rinsed
1 L vegetable stock
1 1/2 tsp ground cumin
3/4 tsp salt"""
STEPS = """Warm the oil, add the onions and cook until the edges colour, 8 minutes.
Add squash, lentils, stock and salt. Close the lid and bring to high pressure, about 16 minutes.
Hold at high pressure for 10 minutes.
Let the pressure fall by itself, 10 minutes."""
READINGS = (
    *(("0", "0"), ("8", "92"), ("24", "268"), ("34", "300")),  # as each stage begins
    *(("4", "46"), ("16", "180"), ("29", "284"), ("44", "300")),  # and once more in each
)


@dataclass
class Counted:
    """A page on which taps, typed fields and pages are counted."""

    page: Page
    taps: int = 0
    fields: int = 0
    pages: list[str] = field(default_factory=list)

    def go(self, target: Locator) -> None:
        """Tap what leads to another page."""
        self.taps += 1
        follow(target)
        self.pages.append(self.page.url)

    def tap(self, target: Locator) -> None:
        """Tap what changes the page itself, or opens what is no page."""
        self.taps += 1
        target.click()

    def press(self, button: str) -> None:
        self.go(self.page.get_by_role("button", name=button, exact=True))

    def link(self, name: str) -> None:
        self.go(self.page.get_by_role("link", name=name, exact=True))

    def type(self, target: Locator | str, text: str) -> None:
        self.fields += 1
        (self.page.get_by_label(target, exact=True) if isinstance(target, str) else target).fill(text)


@pytest.fixture
def counted(page) -> Counted:
    load_reference_foods()
    return Counted(page)


def make_account(story: Counted) -> None:
    story.page.goto(f"/start/{first_link_token(at=timezone.now())}/")
    story.pages.append(story.page.url)
    story.type("Name", "mira")
    story.type("Password", PASSWORD)
    story.type("Password once more", PASSWORD)
    expect(story.page.get_by_label("What this kitchen is called")).to_have_value("Our kitchen")
    story.press("Start")


def enter_gear(story: Counted) -> None:
    story.type("Rated power", "700")
    story.type("Smallest step of its counter", "1")
    story.type("Battery holds", "1024")
    story.type("Inverter gives all the time", "1000")
    story.type("Price of a kilowatt-hour", "0.31")
    story.press("Save gear")


def write_recipe(story: Counted) -> None:
    story.type("Title", "Red lentil and squash pot")
    story.type(story.page.get_by_label("Servings"), "6")
    story.type(story.page.get_by_label("Lines"), LINES)
    story.type(story.page.get_by_label("Paste steps"), STEPS)
    story.press("Save and leave")


def record_cook(story: Counted) -> None:
    story.link("Type in a cook")
    story.type("Switched on at", "00:00")
    rows = story.page.locator("fieldset.reading")
    for place, (minute, energy_wh) in enumerate(READINGS):
        story.type(rows.nth(place).get_by_label("Time"), minute)
        story.type(rows.nth(place).get_by_label("Wh"), energy_wh)
    for button in ("Save this cook", "Put the rows in order"):
        story.taps += 1
        follow(story.page.get_by_role("button", name=button))
    expect(rows.nth(7).get_by_label("Time")).to_have_value("44")
    story.press("Save this cook")
    expect(story.page.locator(".figures").first).to_contain_text("300")


def type_prices(story: Counted) -> None:
    story.link("Type the prices")
    before = story.fields
    story.type(story.page.get_by_label("Shop"), "Village shop")
    packs = story.page.get_by_label("Pack of ", exact=False)
    count = packs.count()
    assert count == len(LINES.splitlines())
    for place in range(count):
        story.type(packs.nth(place), "500 g")
        story.type(story.page.get_by_label("Price of ", exact=False).nth(place), "2.00")
    story.fields = before + 1  # two fields a price are counted apart
    story.press("Save these prices")


def test_the_first_hour_takes_few_taps_fields_and_pages(counted):
    make_account(counted)
    enter_gear(counted)
    write_recipe(counted)
    record_cook(counted)
    type_prices(counted)
    counted.link("Check and publish")
    counted.press("Publish")
    expect(counted.page.get_by_text("Readers see")).to_be_visible()
    edition = Edition.objects.get()
    stages = [step["stage"] for step in edition.facts["recipe"]["steps"]]
    assert stages == ["brown", "come_up", "hold", "release"], "as the words of the steps say"
    assert counted.taps <= MOST_TAPS
    assert counted.fields <= MOST_FIELDS
    assert len(counted.pages) <= MOST_PAGES


@pytest.fixture
def at_the_bench(counted, owner, live_server) -> Counted:
    """A cook with a recipe and gear, on the first page of the bench."""
    write_pot(owner)
    bring_gear()
    sign_in(counted.page, owner, live_server.url)
    counted.page.goto("/bench/")
    counted.pages.append(counted.page.url)
    return counted


def test_a_second_cook_takes_few(at_the_bench):
    story = at_the_bench
    story.link("Lentil pot")
    story.link("Type in a cook")
    story.type("Switched on at", "18:00")
    rows = story.page.locator("fieldset.reading")
    for place, (minute, energy_wh) in enumerate((("0", "0"), ("10", "105"), ("25", "180"))):
        story.type(rows.nth(place).get_by_label("Time"), minute)
        story.type(rows.nth(place).get_by_label("Wh"), energy_wh)
    story.press("Save this cook")
    expect(story.page.locator(".figures").first).to_contain_text("180")
    run = Run.objects.get()
    assert [stage.kind for stage in run.stages.all()] == ["brown", "hold"], "as the method says"
    assert all(here <= most for here, most in zip((story.taps, story.fields, len(story.pages)), SECOND_COOK, strict=True))


def test_a_new_price_takes_few(at_the_bench):
    story = at_the_bench
    story.link("Prices")
    said = {"food": "red lentils", "pack": "500 g", "price": "2.35", "shop": "Village shop"}
    for name, text in said.items():
        story.type(story.page.locator(f"form.plate [name={name}]"), text)
    story.press("Save this price")
    expect(story.page.get_by_role("status").first).to_contain_text("€4.70 per kg")
    assert all(here <= most for here, most in zip((story.taps, story.fields, len(story.pages)), NEW_PRICE, strict=True))
