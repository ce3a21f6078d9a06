"""The printed sheet, the grid with its rows, and the grid that adds rows to a run: three people, both bad and good input."""

from __future__ import annotations

import io
import re
from uuid import uuid4

import pytest
from django.urls import reverse
from pypdf import PdfReader

from energy.models import Run
from kitchen.models import Step
from kitchen.publish.paper import FORM_SIZES
from tests.kitchen.printed import tags_of

CELLS = ("minute", "energy_wh", "power_w", "charge_pct", "stage", "note")
MM_PER_POINT = 25.4 / 72
MM_PER_PX = 25.4 / 96
LEFT_PX = 50


def rows(*typed, **more):
    data = {"rows": str(len(typed)), "colon": "clock", "once": str(uuid4())} | more
    for n, row in enumerate(typed):
        data |= {f"row{n}-{name}": value for name, value in zip(CELLS, row, strict=False)}
    return data


@pytest.fixture
def paper(revision):
    return reverse("energy:log-sheet", args=[revision.recipe.slug])


def read(answer):
    return PdfReader(io.BytesIO(answer.content))


def test_three_people_ask_for_the_sheet(paper, owner_client, other_client, stranger_client):
    assert owner_client.get(paper)["Content-Type"] == "application/pdf"
    assert other_client.get(paper).status_code == 404
    assert stranger_client.get(paper).status_code == 302
    assert owner_client.get(paper, {"size": "a0"}).status_code == 404


@pytest.mark.parametrize("size", list(FORM_SIZES))
@pytest.mark.any_engine
def test_the_sheet_is_cut_right_and_says_what_to_fill_in(paper, owner_client, size):
    page = read(owner_client.get(paper, {"size": size})).pages[0]
    assert float(page.mediabox.width) * MM_PER_POINT == pytest.approx(FORM_SIZES[size].width_mm, abs=0.2)
    assert float(page.mediabox.height) * MM_PER_POINT == pytest.approx(FORM_SIZES[size].height_mm, abs=0.2)
    text = page.extract_text().replace("\u00a0", " ")
    for words in (
        "Lentil pot",
        "Revision 1, written for 4",
        "Counter at the start, Wh",
        "Counter at the end, Wh",
        "Brown planned 10 min",
    ):
        assert words in text
    for words in (
        "Come up from about minute 10, planned 11 min",
        "Switched on at",
        "testserver/bench/recipes/lentil-pot/runs/new/?sheet=1",
    ):
        assert words in text
    assert "open when the pin has dropped" not in text, "nobody knows yet what it is cooked on"


def test_the_sheet_carries_the_cautions_of_what_it_is_cooked_on(paper, owner_client, run):
    assert "open when the pin has dropped." in read(owner_client.get(paper)).pages[0].extract_text()


def numbered(page):
    """Return the numbers of a page's rows with how far each stands from the top. [mm]"""
    found = []
    page.extract_text(visitor_text=lambda text, _, matrix, *__: found.append((text.strip(), matrix[4], matrix[5])))
    return {int(text): y * MM_PER_PX for text, x, y in found if text.isdigit() and x < LEFT_PX}


@pytest.mark.parametrize("size", list(FORM_SIZES))
@pytest.mark.parametrize("steps", [0, 3, 14])
@pytest.mark.any_engine
def test_rows_are_numbered_through_and_fill_the_last_page(paper, owner_client, revision, size, steps):
    revision.steps.all().delete()
    for place in range(steps):
        kind = ("brown", "come_up", "hold")[place % 3]
        Step.objects.create(revision=revision, position=place, text="Go on.", stage=kind, minutes=12)
    document = read(owner_client.get(paper, {"size": size}))
    found = [number for page in document.pages for number in numbered(page)]
    assert found == list(range(1, len(found) + 1))
    assert len(found) > 2 * steps
    last = document.pages[-1]
    room_mm = FORM_SIZES[size].height_mm - max(numbered(last).values())
    assert room_mm < (70 if len(document.pages) == 1 else 28), "the last page is left half empty"
    assert len(document.pages) == 1 or "Lentil pot, log sheet" in last.extract_text()


@pytest.mark.any_engine
def test_a_sheet_is_heard_as_it_is_seen(paper, owner_client):
    """ISO 14289-1: one first heading, header cells with their scope, figures with their words (7.4.2, 7.5, 7.3)."""
    tags = tags_of(owner_client.get(paper, {"size": "a4"}).content)
    assert [tag.kind for tag in tags if tag.kind in ("H1", "H2", "H3")][:1] == ["H1"]
    heads = [tag.scope for tag in tags if tag.kind == "TH"]
    assert set(heads) == {"/Column", "/Row"}
    assert all(tag.alt for tag in tags if tag.kind == "Figure")
    assert {tag.kind for tag in tags if tag.parent == "L"} <= {"LI"}


@pytest.mark.any_engine
def test_lines_are_thick_enough_for_a_greasy_sheet_and_rows_high_enough_for_a_pen(paper, owner_client):
    """Ruled forms are written on at 7.5 mm or more (common practice: wide ruled paper has 8.7 mm, narrow 6.4 mm)."""
    document = read(owner_client.get(paper))
    tops_mm = numbered(document.pages[0])
    assert tops_mm[2] - tops_mm[1] >= 7.5
    drawn = document.pages[0].get_contents().get_data().decode("latin-1")
    widths = [float(one) for one in re.findall(r"([\d.]+) w\b", drawn)]
    greys = [tuple(map(float, one)) for one in re.findall(r"([\d.]+) ([\d.]+) ([\d.]+) (?:RG|rg)\b", drawn)]
    assert all(width * 0.75 >= 0.5 for width in widths), widths
    assert all(max(colour) < 0.3 for colour in greys if colour != (1, 1, 1)), greys


def test_the_grid_has_the_rows_of_the_sheet(paper, owner_client, revision, appliance, source, meter):
    page = owner_client.get(reverse("energy:run-new", args=[revision.recipe.slug]), {"sheet": "1"}).content.decode()
    leads = re.findall(r'reading__lead">([^<]+)<', page)
    assert [lead.split(",")[0] for lead in leads] == ["Brown", "Come up", "Release", "Anything more"]
    printed = read(owner_client.get(paper)).pages[0].extract_text()
    shown = dict(re.findall(r'reading__lead">([A-Z][a-z ]+)[^<]*</p>\s*<fieldset[^>]*>\s*<legend[^>]*>Row (\d+)<', page))
    assert shown == {"Brown": "1", "Come up": "3", "Release": "5", "Anything more": "7"}
    for name in ("Brown", "Come up", "Release"):
        assert re.search(rf"{name}[^\n]*\n\s*{shown[name]}\b", printed), (name, shown[name], printed)


def test_a_sheet_is_typed_in_by_the_clock_over_midnight(owner_client, revision, appliance, source, meter):
    gear = {"appliance": appliance.pk, "source": source.pk, "meter": meter.pk, "revision": revision.pk}
    cook = {"day": "2026-10-14", "time": "23:50", "servings": "4", "keep": "1"}
    typed = rows(
        ("0", "0", "", "", "brown"),
        ("11:58 pm", "90"),
        ("00:05", "", "", "", "", "stars out"),
        ("0:11", "", "", "", "rest"),
        ("20:30", "213"),
    )
    address = reverse("energy:run-new", args=[revision.recipe.slug]) + "?sheet=1"
    answer = owner_client.post(address, gear | cook | typed)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "20:30 would be 20\u00a0h 40\u00a0min after the start at 23:50" in page
    assert 'value="stars out"' in page
    assert 'value="20:30"' in page
    assert Run.objects.count() == 0
    answer = owner_client.post(address, gear | cook | typed | {"row4-minute": "30"})
    run = Run.objects.get()
    assert answer["Location"] == reverse("energy:run", args=[run.pk])
    assert [(one.at - run.started_at).total_seconds() for one in run.readings.all()] == [0, 480, 1800]
    assert [(one.kind, (one.starts_at - run.started_at).total_seconds()) for one in run.stages.all()] == [
        ("brown", 0),
        ("rest", 1260),
    ]
    assert run.moments.get().text == "stars out"


@pytest.fixture
def grid(run):
    return reverse("energy:run-rows", args=[run.pk])


def test_three_people_try_the_grid_of_a_run(grid, run, owner_client, other_client, stranger_client):
    for address in (grid, reverse("energy:run-rows-undo", args=[run.pk])):
        assert owner_client.post(address, {}).status_code in (302, 422)
        assert other_client.post(address, {}).status_code == 404
        assert stranger_client.post(address, {}).status_code == 302
    assert run.readings.count() == 7


def test_many_rows_are_added_and_taken_back(grid, run, owner_client):
    typed = rows(("3", "30", "650"), ("7", "", "", "", "", "first star"), ("33", "214", "", "", "keep_warm", "lid off"))
    answer = owner_client.post(grid, typed, follow=True)
    page = answer.content.decode()
    assert "Added: 2 readings, 1 stage, 1 note." in page
    assert f'data-kept="{typed["once"]}"' in page
    assert run.readings.count() == 9
    token = re.search(r'name="added" value="([^"]+)"', page)[1]
    undo = reverse("energy:run-rows-undo", args=[run.pk])
    for _ in range(2):
        assert "The rows are taken back." in owner_client.post(undo, {"added": token}, follow=True).content.decode()
        assert run.readings.count() == 7
        assert run.stages.count() == 3
    answer = owner_client.post(undo, {"added": token[:-2] + "xx"}, follow=True)
    assert "cannot be taken back any more" in answer.content.decode()


def test_the_same_rows_twice_are_told(grid, run, owner_client):
    typed = rows(("3", "30"))
    owner_client.post(grid, typed)
    assert "These rows were here already." in owner_client.post(grid, typed, follow=True).content.decode()
    assert run.readings.count() == 8


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (("10", "106"), "The cook holds a reading at minute 10 already: 105\u00a0Wh."),
        (("11", "90"), "The counter falls here, from 105 to 90 Wh."),
        (("11", "119"), "The cook holds 118\u00a0Wh at minute 12, less than 119\u00a0Wh here."),
        (("x", "119"), "“x” is not a time"),
        (("", "119"), "At which minute?"),
        (("11:59", "1"), "23\u00a0h 59\u00a0min after the start"),
        ((), "Nothing is typed yet."),
    ],
)
def test_rows_that_do_not_fit_are_told_and_kept(grid, run, owner_client, row, words):
    before = run.readings.count()
    answer = owner_client.post(grid, rows(row) | {"row0-note": "kept all the same" if row else ""})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert words in page.replace("&quot;", '"')
    assert not row or "kept all the same" in page
    assert run.readings.count() == before


def test_more_rows_and_order_check_nothing(grid, owner_client):
    page = owner_client.post(grid, rows(("12:20", "1"), ("5", "x")) | {"order": "1"}).content.decode()
    assert page.index('value="5"') < page.index('value="12:20"')
    page = owner_client.post(grid, rows(("9", "1")) | {"more": "1"}).content.decode()
    assert 'name="rows" value="9"' in page


def test_a_sheet_costs_no_more_queries_for_a_long_method(paper, owner_client, revision, django_assert_max_num_queries):
    with django_assert_max_num_queries(14):
        owner_client.get(paper)
