"""Pictures of an energy card: their pixels, their words, who may see which."""

import io
from xml.etree import ElementTree

import pytest
from django.template.loader import render_to_string
from PIL import Image
from pypdf import PdfReader

from energy.cards.picture import picture_of_run
from energy.runs.queries.drawings import stage_energies
from energy.runs.queries.runs import run_summary
from kitchen.operations import publish_recipe, withdraw_recipe
from kitchen.operations.photos import add_photo
from kitchen.publish.paper import print_frame
from kitchen.publish.picture import PICTURE_SIZES, picture_png
from tests.kitchen.printed import hues_of, lost_by_red_light, pictures_of, sheets_of

pytestmark = pytest.mark.usefixtures("no_paper_warnings")
PUBLIC = "/r/lentil-pot/card.png"


@pytest.fixture
def published(run, revision, owner, noon):
    publish_recipe(recipe=revision.recipe, revision=revision, by=owner, at=noon)
    return revision.recipe


def image_of(answer):
    return Image.open(io.BytesIO(answer.content)).convert("RGB")


def private(run):
    return f"/bench/runs/{run.pk}/card.png"


@pytest.mark.parametrize(("size", "pixels"), [("1920x1080", (1920, 1080)), ("1200x630", (1200, 630))])
@pytest.mark.any_engine
def test_all_three_people_get_the_same_picture(published, owner_client, other_client, stranger_client, size, pixels):
    answers = [client.get(PUBLIC, {"size": size}) for client in (owner_client, other_client, stranger_client)]
    assert {answer.status_code for answer in answers} == {200}
    assert len({answer.content for answer in answers}) == 1
    assert answers[0]["Content-Type"] == "image/png"
    image = image_of(answers[0])
    assert image.size == pixels
    assert len(image.getcolors(100_000)) > 20, "not blank"
    ember = sum(count for count, colour in image.getcolors(100_000) if colour[0] > 150 and colour[1] < 80 and colour[2] < 40)
    assert ember > 0.02 * pixels[0] * pixels[1], "the strip is drawn"


@pytest.mark.any_engine
def test_a_readers_kit_changes_nothing(published, stranger_client):
    before = stranger_client.get(PUBLIC).content
    stranger_client.cookies["kit"] = '{"battery_wh": "250"}'
    assert stranger_client.get("/kit/?battery_wh=250&kit=keep").status_code == 302
    assert stranger_client.get(PUBLIC).content == before


def test_who_holds_it_already_is_told_so(published, stranger_client):
    first = stranger_client.get(PUBLIC)
    assert "s-maxage=60" in first["Cache-Control"]
    again = stranger_client.get(PUBLIC, headers={"If-None-Match": first["ETag"]})
    assert (again.status_code, again.content, again["ETag"]) == (304, b"", first["ETag"])
    assert stranger_client.get(PUBLIC, {"size": "1920x1080"})["ETag"] != first["ETag"]


def test_another_size_is_not_found(published, run, owner_client):
    for address in (PUBLIC, private(run)):
        for size in ("", "640x480", "1200x630 ", "9" * 400, "\0"):
            assert owner_client.get(address, {"size": size}).status_code == 404


def test_nothing_published_or_measured_is_not_found(revision, owner, noon, stranger_client):
    assert stranger_client.get(PUBLIC).status_code == 404
    publish_recipe(recipe=revision.recipe, revision=revision, by=owner, at=noon)
    assert stranger_client.get(PUBLIC).status_code == 404


def test_a_withdrawn_recipe_is_gone(published, noon, stranger_client):
    withdraw_recipe(recipe=published, at=noon)
    assert stranger_client.get(PUBLIC).status_code == 410


def test_a_runs_picture_is_for_its_cook(run, owner_client, other_client, stranger_client):
    assert stranger_client.get(private(run)).status_code == 302
    assert other_client.get(private(run)).status_code == 404
    answer = owner_client.get(private(run))
    assert (answer.status_code, answer["Cache-Control"]) == (200, "private, no-cache")
    assert image_of(answer).size == (1200, 630)


def test_a_run_of_which_too_little_was_read_has_no_picture(record, owner_client):
    assert owner_client.get(private(record(((0, 0),)))).status_code == 404


def words_of(picture, key="1920x1080"):
    size = PICTURE_SIZES[key]
    markup = render_to_string("energy/pictures/card.html", {"picture": picture, "size": size})
    reader = PdfReader(io.BytesIO(print_frame(markup, size.width_px, size.height_px, "css/picture.css")))
    assert len(reader.pages) == 1
    return " ".join(reader.pages[0].extract_text().split())


@pytest.mark.parametrize("key", PICTURE_SIZES)
@pytest.mark.any_engine
def test_title_figures_stages_and_address_stand_in_it(run, key):
    summary = run_summary(run)
    picture = picture_of_run(
        summary,
        stage_energies(summary),
        4,
        title="Lentil pot",
        size=PICTURE_SIZES[key].shape or PICTURE_SIZES[key].name,
        address="https://fernhollow.example/r/lentil-pot/",
        foot="cooked on 14 October 2026 for 4",
    )
    words = words_of(picture, key).replace("\u00a0", " ")
    for said in (
        "Lentil pot",
        "measured, one run",
        "53.2 Wh",
        "each serving, 213",
        "at its peak",
        "31 min",
        "brown",
        "105 Wh",
        "fernhollow.example/r/lentil-pot",
        "cooked on 14 October 2026 for 4",
        "213",
    ):
        assert said in words, (said, words)
    assert "https://" not in words
    assert words.count("brown") == 2, "below the strip and below the climb"


def bands(image, left, right):
    """Return, from the bottom up, how many rows follow each other that are white, then drawn on, then white, and so on."""
    found, was = [], False
    for y in reversed(range(60, image.height - 36)):
        drawn = any(sum(image.getpixel((x, y))) < 600 for x in range(left, right))
        if drawn == was and found:
            found[-1] += 1
        else:
            found.append(1)
            was = drawn
    return found


@pytest.mark.parametrize("title", ["P", "A stew of seven roots and barley", "Slow " * 20])
@pytest.mark.parametrize("key", PICTURE_SIZES)
@pytest.mark.any_engine
def test_the_longest_title_pushes_nothing_into_the_address(run, title, key):
    size, summary = PICTURE_SIZES[key], run_summary(run)
    stages = stage_energies(summary)
    picture = picture_of_run(
        summary, stages, 4, title=title, size=size.shape or size.name, address="https://x.example/", foot="foot"
    )
    markup = render_to_string("energy/pictures/card.html", {"picture": picture, "size": size})
    image = Image.open(io.BytesIO(picture_png(markup, size, "css/picture.css"))).convert("RGB")
    _below, foot, between, *_ = bands(image, 60, size.width_px - 60)
    assert foot < 0.05 * size.height_px, "a line of type, and nothing that ran into it"
    assert between >= 0.008 * size.height_px


def test_the_page_names_its_picture_by_a_whole_address(published, stranger_client):
    page = stranger_client.get("/r/lentil-pot/").content.decode()
    assert '<meta property="og:image" content="http://testserver/r/lentil-pot/card.png?size=1200x630">' in page
    assert '<meta property="og:title" content="Lentil pot">' in page
    assert 'property="og:image:alt" content="213\u00a0±\u00a029\u00a0Wh at the socket. ' in page


def test_a_page_without_measured_energy_shows_the_mark(revision, owner, noon, stranger_client):
    publish_recipe(recipe=revision.recipe, revision=revision, by=owner, at=noon)
    page = stranger_client.get("/r/lentil-pot/").content.decode()
    assert "og:title" in page
    assert '<meta property="og:image" content="http://testserver/static/img/icon-512.png">' in page


def test_a_draft_names_none(run, owner_client):
    page = owner_client.get("/bench/recipes/lentil-pot/draft/")
    assert page.status_code == 200
    assert b"og:image" not in page.content


@pytest.mark.parametrize("name", ["strip", "ladder"])
def test_a_drawing_alone_is_titled_and_has_its_units(published, stranger_client, name):
    drawn = stranger_client.get(f"/r/lentil-pot/{name}.svg")
    assert drawn["Content-Type"] == "image/svg+xml"
    words = "".join(ElementTree.fromstring(drawn.content).itertext()).replace("\u00a0", " ")
    assert "Lentil pot" in words
    assert "213 ± 29 Wh for 4, measured once." in words
    assert ("tall is watts" if name == "strip" else "Watt-hours over minutes") in words
    assert "testserver/r/lentil-pot" in words
    picture = image_of(stranger_client.get(f"/r/lentil-pot/{name}.png"))
    assert picture.width == 1416
    assert len(picture.getcolors(100_000)) > 20


def test_a_drawing_of_nothing_is_not_found(revision, owner, noon, stranger_client):
    publish_recipe(recipe=revision.recipe, revision=revision, by=owner, at=noon)
    assert stranger_client.get("/r/lentil-pot/strip.svg").status_code == 404


@pytest.mark.parametrize("asked", [{"size": "a6"}, {"size": "a4", "for": "11"}])
@pytest.mark.any_engine
def test_a_cards_strip_is_read_by_a_red_lamp_and_by_its_shapes(published, stranger_client, asked):
    coloured, black = (
        stranger_client.get("/r/lentil-pot/card.pdf", {**asked, "ink": ink}).content for ink in ("colour", "black")
    )
    assert [lost_by_red_light(sheet) for sheet in sheets_of(coloured)] == [[] for _ in sheets_of(coloured)]
    assert [sheet.words for sheet in sheets_of(coloured)] == [sheet.words for sheet in sheets_of(black)]
    assert {colour for side in pictures_of(black) for colour in hues_of(side)} == set()


@pytest.mark.parametrize(("size", "box"), [("1200x630", (700, 320, 1100, 520)), ("1000x1500", (100, 60, 900, 280))])
def test_a_picture_to_pass_on_shows_the_dish_where_there_is_a_photo(
    run, revision, owner, noon, stranger_client, settings, tmp_path, size, box
):
    settings.MEDIA_ROOT = tmp_path
    sent = io.BytesIO()
    Image.new("RGB", (1600, 1200), (30, 90, 220)).save(sent, "JPEG")
    add_photo(recipe=revision.recipe, picture=io.BytesIO(sent.getvalue()), alt="A blue pot", at=noon)
    publish_recipe(recipe=revision.recipe, revision=revision, by=owner, at=noon)
    image = image_of(stranger_client.get(PUBLIC, {"size": size}))
    red, _, blue = image.crop(box).resize((1, 1), Image.Resampling.BOX).getpixel((0, 0))
    assert blue > 200
    assert red < 50
    whole = image_of(stranger_client.get(PUBLIC, {"size": "1920x1080"}))
    assert not any(colour[2] > 200 and colour[0] < 60 for _, colour in whole.getcolors(100_000)), "a frame has figures alone"
