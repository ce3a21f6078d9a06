"""Decks of cards: contents that lead to the right page, cards that begin on fronts, sheets, and how far one is."""

import io
import re

import pytest
from django.test import Client
from pypdf import PdfReader

from kitchen.cards import CardRequest
from kitchen.operations.collections import change_collection, make_collection, publish_collection
from kitchen.operations.progress import how_far, making_name, note_making
from kitchen.operations.turns import DECKS_FOR_STRANGERS
from kitchen.page import PageFrame, present_page, read_facts
from kitchen.publish.leaves import CARD_SIZES, SHEETS, CardSet, Wish
from kitchen.publish.paper import print_cards
from kitchen.views.made_once import KEPT

HOME = "https://fernhollow.example/r/stew/"


@pytest.fixture
def deck(stew, noon):
    """Return a deck of the stew for as many different groups as are asked for."""
    facts = read_facts(stew.current_edition.facts)

    def of(many, **wish):
        frames = PageFrame("Fernhollow", "/r/stew/", HOME, edition_number=1, published_at=noon, asked_address=HOME)
        pages = tuple((present_page(facts, CardRequest(servings, 6)), frames) for servings in range(1, many + 1))
        return CardSet(pages, Wish(**{"size": CARD_SIZES["a6"], **wish}), called="Two days")

    return of


def words_of(page):
    return " ".join(page.extract_text().split())


@pytest.mark.any_engine
def test_the_contents_lead_to_the_page_on_which_each_recipe_begins(deck, no_paper_warnings):
    heard = []
    made = PdfReader(io.BytesIO(print_cards(deck(9), told=lambda done, of: heard.append((done, of)))))
    pages = [words_of(page) for page in made.pages]
    listed = re.findall(r"^for (\d+)\b.*\n(\d+)$", made.pages[0].extract_text(), re.M)
    assert [int(servings) for servings, _ in listed] == list(range(1, 10))
    for servings, page in listed:
        assert f"For {servings}" in pages[int(page) - 1]
        assert int(page) % 2 == 1, "a card begins on a front"
    links = [note.get_object() for note in made.pages[0]["/Annots"]]
    assert len(links) == 9
    assert heard[-1][0] == heard[-1][1] > 1
    assert made.metadata.title == "Two days"


@pytest.mark.any_engine
def test_sheets_hold_fronts_with_their_backs_mirrored_behind(deck):
    leaves = deck(3, sheet=SHEETS["a4"])._leaves({})
    front, back = leaves[0], leaves[1]
    assert [cell.template.rpartition("/")[2] for cell in front.cells] == ["contents.html", *["face.html"] * 3]
    shown = {id(cell.pieces): cell.place for cell in back.cells}
    for cell in front.cells[1:]:
        row, column = re.findall(r"\d", cell.place)
        assert shown[id(cell.pieces)] == f"r{row}c{1 - int(column)}"
    assert all(leaf.cut for leaf in leaves)


@pytest.mark.any_engine
def test_contents_go_on_to_as_many_faces_as_it_takes(deck):
    contents = [cell.face for leaf in deck(40)._leaves({}) for cell in leaf.cells if hasattr(cell.face, "with_pages")]
    assert sum(len(face.rows) for face in contents) == 40
    assert len(contents) > 1
    assert contents[1].title == "Two days, continued"


def test_a_collection_is_printed_and_says_how_far_it_is(stew, owner, noon, settings, tmp_path):
    settings.ANSWERS_DIR = tmp_path
    made = make_collection(owner=owner, title="Two days", at=noon)
    change_collection(collection=made, title="Two days", summary="", dishes=[(stew.pk, 2), (stew.pk, 2)], at=noon)
    assert Client().get("/c/two-days/deck/").status_code == 404
    publish_collection(collection=made, at=noon)
    form = Client().get("/c/two-days/deck/?size=a6")
    assert (form.status_code, form["Location"]) == (302, "/c/two-days/deck.pdf?size=a6")
    part = Client().get("/c/two-days/deck/?size=a6", headers={"HX-Request": "true"}).content.decode()
    assert "made/?size=a6" in part
    (name,) = re.findall(r"/deck/progress/(\w{64})/", part)
    assert name == making_name("/c/two-days/deck.pdf", Wish(CARD_SIZES["a6"]), {})
    note_making(name, 2, 5)
    assert 'value="2"' in Client().get(f"/deck/progress/{name}/").content.decode()
    answer = Client().get("/c/two-days/deck/made/?size=a6")
    assert 'href="/c/two-days/deck.pdf?size=a6"' in answer.content.decode()
    assert (answer["Cache-Control"], KEPT in answer.wsgi_request.META) == ("no-store", False)
    assert how_far(name) == (0, 0)
    pdf = Client().get("/c/two-days/deck.pdf?size=a6")
    assert len(PdfReader(io.BytesIO(pdf.content)).pages) == 4, "a recipe that is cooked twice for as many has one card"


def test_recipes_are_chosen_and_too_few_or_unknown_are_said(stew):
    assert 'value="stew"' in Client().get("/deck/").content.decode()
    assert Client().get("/deck/choose/?r=stew&r=nothing")["Location"] == "/deck/stew/"
    assert "Choose at least one" in Client().get("/deck/choose/?r=nothing").content.decode()
    assert Client().get("/deck/nothing+at-all/").status_code == 404
    assert Client().get("/deck/stew/deck.pdf?size=a6")["Content-Type"] == "application/pdf"
    wrong = Client().get("/deck/stew/?size=a0")
    assert (wrong.status_code, Client().get("/deck/stew/deck.pdf?size=a0").status_code) == (400, 404)


def test_who_comes_while_others_print_is_told_to_press_again(stew, monkeypatch):
    monkeypatch.setattr(DECKS_FOR_STRANGERS, "_longest_s", 0.01)
    with DECKS_FOR_STRANGERS.turn():
        answer = Client().get("/deck/stew/made/?size=a7&note=busy")
    assert "Press once more in 20 seconds" in answer.content.decode()
