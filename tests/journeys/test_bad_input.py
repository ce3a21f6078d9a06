"""What nobody should type is typed, with script on: a sentence stands beside the field, the text stays, nothing is half kept.

Each form proves all its sentences where it is tested: the editor's amounts, servings and lengths in
``tests/kitchen/test_editor_views.py``, photos in ``tests/kitchen/test_photos.py``, servings in addresses in
``tests/kitchen/test_public_views.py``, cooks and logs in ``tests/energy/runs/test_views_recording.py``, gear in
``tests/energy/gear/test_views_gear.py``, prices in ``tests/costing/test_views.py``.
"""

import io
from collections import Counter

import pytest
from django.apps import apps
from PIL import Image
from playwright.sync_api import Locator, Page, expect

from kitchen.models import Recipe
from kitchen.operations import load_reference_foods
from tests.journeys.small_kitchen import bring_gear, sign_in, write_pot
from tests.journeys.waiting import comes_to, follow

NEAR_PX = 160
EDIT, RUNS, PRICES, PHOTOS = (f"/bench/recipes/lentil-pot/{place}/" for place in ("edit", "runs/new", "prices", "photos"))
SVG = {"name": "pot.svg", "mimeType": "image/svg+xml", "buffer": b'<svg xmlns="http://www.w3.org/2000/svg"/>'}


def rows() -> Counter:
    """Count the rows of every table of ours."""
    tables = [model for model in apps.get_models() if model._meta.app_label in {"kitchen", "energy", "costing"}]
    return Counter({model._meta.label: model._default_manager.count() for model in tables})


def said_beside(field: Locator) -> str:
    """Return the sentence that belongs to a field of a page that is all there, having seen that it stands right by it."""
    expect(field).to_have_attribute("aria-invalid", "true")
    page, ids = field.page, str(field.get_attribute("aria-describedby")).split()
    sentence = page.locator(f"#{ids[-1]}")
    expect(sentence).to_be_visible()
    comes_to(lambda: abs(bottom(field) - sentence.bounding_box()["y"]) < NEAR_PX, True)
    return sentence.inner_text()


def bottom(field: Locator) -> float:
    box = field.bounding_box()
    return box["y"] + box["height"]


@pytest.fixture
def bench(page, owner, live_server) -> Page:
    """The owner's browser, in a kitchen with one recipe and gear."""
    load_reference_foods()
    write_pot(owner)
    bring_gear()
    sign_in(page, owner, live_server.url)
    return page


def test_figures_that_make_no_sense(bench):
    before = rows()
    bench.goto("/bench/appliances/new/")
    bench.get_by_label("Name").fill("Minus pot")
    bench.get_by_label("Rated power").fill("-700")
    follow(bench.get_by_role("button", name="Save cooker"))
    assert "A number from 1 to 20,000 W is needed here." in said_beside(bench.get_by_label("Rated power"))
    expect(bench.get_by_label("Rated power")).to_have_value("-700")
    expect(bench.get_by_label("Name")).to_have_value("Minus pot")

    bench.goto(PRICES)
    bench.get_by_label("Shop").fill("Village shop")
    bench.get_by_label("Pack of onion").fill("a few")
    bench.get_by_label("Price of onion").fill("cheap")
    follow(bench.get_by_role("button", name="Save these prices"))
    assert said_beside(bench.get_by_label("Pack of onion"))
    assert said_beside(bench.get_by_label("Price of onion"))
    expect(bench.get_by_label("Pack of onion")).to_have_value("a few")
    expect(bench.get_by_label("Price of onion")).to_have_value("cheap")
    expect(bench.get_by_label("Shop")).to_have_value("Village shop")
    assert rows() == before


def test_readings_that_make_no_sense(bench):
    before = rows()
    bench.goto(RUNS)
    readings = bench.locator("fieldset.reading")
    for place, (minute, energy_wh, power_w) in enumerate([("0", "0", "-690"), ("10", "105", ""), ("9", "many", "")]):
        for label, typed in (("Time", minute), ("Wh", energy_wh), ("W", power_w)):
            readings.nth(place).get_by_label(label, exact=True).fill(typed)
    follow(bench.get_by_role("button", name="Save this cook"))
    watts, counter = readings.nth(0).get_by_label("W", exact=True), readings.nth(2).get_by_label("Wh", exact=True)
    assert "A number from 0 to 100,000 W is needed here." in said_beside(watts)
    assert "“many” is not a number." in said_beside(counter)
    expect(watts).to_have_value("-690")
    expect(counter).to_have_value("many")

    watts.fill("690")
    counter.fill("90")
    follow(bench.get_by_role("button", name="Save this cook"))
    expect(bench.get_by_text("Row 3 (minute 9) stands after row 2 (minute 10).")).to_be_visible()
    readings.nth(2).get_by_label("Time").fill("12")
    follow(bench.get_by_role("button", name="Save this cook"))
    assert "The counter falls here, from 105 to 90 Wh." in said_beside(counter)
    expect(counter).to_have_value("90")

    bench.locator("summary").filter(has_text="Or read a log").click()
    bench.get_by_label("or paste it here").fill("colour,size\nred,4\n")
    follow(bench.get_by_role("button", name="Save this cook"))
    log = bench.get_by_label("or paste it here")
    assert said_beside(log)
    expect(log).to_have_value("colour,size\nred,4\n")
    expect(readings.nth(0).get_by_label("W", exact=True)).to_have_value("690")
    assert rows() == before


def test_photos_that_are_none(bench):
    before = rows()
    large = io.BytesIO()
    Image.new("1", (8000, 5000)).save(large, "PNG")
    forty_megapixels = {"name": "roof.png", "mimeType": "image/png", "buffer": large.getvalue()}
    bench.goto(PHOTOS)
    for sent, sentence in ((SVG, "This is a drawing"), (forty_megapixels, "This photo has 40 megapixels")):
        bench.get_by_label("Photo").set_input_files(sent)
        bench.get_by_label("What it shows").fill("Red stew in a mug")
        follow(bench.get_by_role("button", name="Add it"))
        expect(bench.get_by_role("alert")).to_contain_text(sentence)
        assert sentence in said_beside(bench.get_by_label("Photo"))
        expect(bench.get_by_label("What it shows")).to_have_value("Red stew in a mug")
    assert rows() == before


def test_servings_in_words_are_kept_while_they_make_no_sense(bench):
    """The editor saves as it is typed: nonsense is kept as typed, through a closed tab, and the recipe stays as it was."""
    before = rows()
    bench.goto(EDIT)
    for typed in ("six", "-1"):
        bench.get_by_label("Servings").fill(typed)
        with bench.expect_response(lambda answer: answer.request.method == "POST"):
            bench.get_by_label("Servings").blur()
        expect(bench.locator("#draft-state")).to_contain_text("Not saved yet")
        expect(bench.locator("#draft-state")).to_contain_text("Servings: ")
        bench.goto(EDIT)
        assert said_beside(bench.get_by_label("Servings"))
        expect(bench.get_by_label("Servings")).to_have_value(typed)
    assert rows() == before
    assert Recipe.objects.get().revisions.get().servings == 4


def test_ten_megabytes_pasted(bench):
    """They get their sentence. The field is out of view meanwhile: a browser takes ten seconds to set so many lines."""
    before = rows()
    bench.goto(EDIT)
    lines = bench.get_by_label("Lines")
    lines.evaluate("field => { field.hidden = true; field.value = '250 g red lentils\\n'.repeat(580_000); }")
    bench.get_by_label("In one line").fill("Much too much.")
    bench.get_by_label("In one line").blur()
    said = "There are 580,000 ingredient lines; 200 fit."
    expect(bench.locator("#draft-state")).to_contain_text(said, timeout=90_000)
    assert lines.evaluate("field => field.value.length") == 580_000 * len("250 g red lentils\n")
    assert rows() == before


def test_pictures_and_words_from_right_to_left(bench):
    """Letters of any script are no mistake: they are kept, and each text runs in its own direction."""
    bench.goto("/bench/recipes/new/")
    bench.get_by_label("Title").fill("מרק עדשים 🍲")
    bench.get_by_label("Lines").fill("250 ג עדשים אדומות\n2 🧅\n1 tsp كمون")
    bench.get_by_label("What to do").fill("מטגנים את הבצל 🧅.")
    bench.get_by_role("button", name="Save and leave").click()
    expect(bench.get_by_role("heading", level=1)).to_have_text("מרק עדשים 🍲")
    follow(bench.get_by_role("link", name="Publish"))
    follow(bench.get_by_role("button", name="Publish"))
    follow(bench.get_by_role("link", name="edition 1", exact=True))
    heading = bench.get_by_role("heading", level=1)
    expect(heading).to_have_text("מרק עדשים 🍲")
    expect(heading).to_have_css("direction", "rtl")
    expect(bench.locator("#ingredients")).to_contain_text("🧅")
    expect(bench.locator("#method")).to_contain_text("מטגנים את הבצל 🧅.")
    assert Recipe.objects.count() == 2
