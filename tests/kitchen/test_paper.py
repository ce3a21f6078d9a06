"""The printed card: its sheet, its type, its words; and the one door that fetches nothing from anywhere else."""

import io
import struct
import time
import zlib
from dataclasses import replace
from itertools import pairwise

import pytest
from pypdf import PdfReader

from kitchen.cards import CardRequest
from kitchen.page import PageFrame, present_page, read_facts
from kitchen.publish.leaves import CARD_SIZES, SHEETS, CardSet, Wish, grid_of
from kitchen.publish.paper import PaperFetcher, RefusedAddress, print_cards, print_frame
from kitchen.publish.qr import qr_code
from tests.kitchen.printed import hues_of, lost_by_red_light, pictures_of, read_aloud, sheets_of, tags_of
from tests.kitchen.stew import next_revision

pytestmark = pytest.mark.usefixtures("no_paper_warnings")
POINTS_A_MM = 72 / 25.4


@pytest.fixture
def frame(noon):
    return PageFrame("Fernhollow", "/r/stew/", "https://fernhollow.example/r/stew/", edition_number=1, published_at=noon)


def _card(stew, frame, servings=6, size="a6"):
    page = present_page(read_facts(stew.current_edition.facts), CardRequest(servings, 6))
    return PdfReader(io.BytesIO(_printed(page, frame, size)))


def _printed(page, frame, size="a6", **wish):
    return print_cards(CardSet(((page, frame),), Wish(CARD_SIZES[size], **wish)))


@pytest.mark.parametrize(
    ("size", "width_mm", "height_mm"),
    [
        ("a7", 74, 105),
        ("3x5", 76.2, 127),
        ("a6", 105, 148),
        ("4x6", 101.6, 152.4),
        ("a5", 148, 210),
        ("a4", 210, 297),
        ("letter", 215.9, 279.4),
    ],
)
def test_sheets_have_their_size(stew, frame, size, width_mm, height_mm):
    """ISO 216 for A sizes; inches at 25.4 mm."""
    sheets = _card(stew, frame, size=size).pages
    assert len(sheets) in (1, 2)
    for sheet in sheets:
        assert float(sheet.mediabox.width) == pytest.approx(width_mm * POINTS_A_MM, abs=0.1)
        assert float(sheet.mediabox.height) == pytest.approx(height_mm * POINTS_A_MM, abs=0.1)


def test_the_card_says_title_servings_amounts_steps_cautions_and_address(stew, frame):
    card = _card(stew, frame, servings=12)
    words = " ".join(" ".join(sheet.extract_text() for sheet in card.pages).split())
    for expected in (
        "Red lentil and squash pot",
        "For 12",
        "600 g",
        "To finish",
        "Warm the oil, add the onions.",
        "9 min",
        "Lentils foam",
        "fernhollow.example/r/stew/for-12",
        "edition 1, 14 October 2026",
    ):
        assert expected in words


def test_the_type_is_embedded(stew, frame):
    fonts = {}
    for sheet in _card(stew, frame).pages:
        for font in sheet["/Resources"]["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            fonts[str(inner["/BaseFont"])] = "/FontFile2" in inner["/FontDescriptor"] or "/FontFile3" in inner["/FontDescriptor"]
    assert all(fonts.values())
    names = " ".join(fonts).replace("-", "")
    assert "EnamelSans" in names or "SourceSans" in names
    assert "EnamelSerif" in names or "SourceSerif" in names


def test_the_file_declares_pdf_ua_with_tags_language_and_title(stew, frame):
    card = _card(stew, frame)
    assert b"<pdfuaid:part>1</pdfuaid:part>" in card.trailer["/Root"]["/Metadata"].get_object().get_data() or (
        b'pdfuaid:part="1"' in card.trailer["/Root"]["/Metadata"].get_object().get_data()
    )
    assert card.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert card.trailer["/Root"]["/Lang"] == "en"
    assert card.metadata.title.startswith("Red lentil and squash pot")
    assert "/StructTreeRoot" in card.trailer["/Root"]


def test_a_draft_prints_without_an_address(stew, noon):
    page = present_page(read_facts(stew.current_edition.facts), CardRequest(6, 6))
    card = PdfReader(io.BytesIO(_printed(page, PageFrame("Fernhollow", draft=True, revision=2))))
    words = " ".join(sheet.extract_text() for sheet in card.pages)
    assert "draft of revision 2" in words
    assert "QR" not in words


def test_what_does_not_fit_one_card_goes_on_to_a_second(stew, frame):
    page = present_page(read_facts(stew.current_edition.facts), CardRequest(6, 6))
    first = page.parts[0]
    full = replace(
        page,
        parts=(replace(first, lines=first.lines * 6), *page.parts[1:]),
        cautions=tuple(replace(page.cautions[0], words="Keep hands and face away from the valve. " * 2) for _ in range(5)),
        stages=page.stages * 3,
    )
    sides = [" ".join(side.extract_text().split()) for side in PdfReader(io.BytesIO(_printed(full, frame))).pages]
    assert len(sides) == 4
    assert "card 1 of 2, front" in sides[0]
    assert "card 1 of 2, back" in sides[1]
    assert "card 2 of 2, front" in sides[2]
    assert "Lentils foam" not in sides[0]


def test_words_from_right_to_left_and_pictures_in_words_print(stew, frame, noon):
    facts = stew.current_edition.facts
    facts["recipe"]["title"] = "מרק עדשים 🍲 <b>&"
    page = present_page(read_facts(facts), CardRequest(6, 6))
    assert len(PdfReader(io.BytesIO(_printed(page, frame))).pages) == 2


@pytest.mark.parametrize(
    "address",
    [
        "file:///etc/passwd",
        "http://127.0.0.1:8000/r/stew/",
        "https://fernhollow.example/a.png",
        "ftp://fernhollow.example/a.png",
        "data:image/png;base64,AAAA",
        "font:../../../../etc/passwd",
        "font:/etc/passwd",
        "font:SourceSansPro-Black.ttf",
        "photo:../secret.jpg",
        "photo:/etc/passwd",
        "photo:../../etc/hosts.png",
        "photo:notes.txt",
        "photo:",
    ],
)
def test_paper_fetches_nothing_else(address, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "photos"
    (tmp_path / "photos").mkdir()
    (tmp_path / "secret.jpg").write_bytes(b"secret")
    (tmp_path / "photos" / "notes.txt").write_text("notes")
    with pytest.raises(RefusedAddress):
        PaperFetcher().fetch(address)


def test_a_link_in_the_photo_folder_leads_nowhere_else(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "photos"
    (tmp_path / "photos").mkdir()
    (tmp_path / "secret.jpg").write_bytes(b"secret")
    (tmp_path / "photos" / "link.jpg").symlink_to(tmp_path / "secret.jpg")
    with pytest.raises(RefusedAddress):
        PaperFetcher().fetch("photo:link.jpg")


def test_the_refusal_holds_inside_a_document(no_paper_warnings, tmp_path):
    stolen = tmp_path / "stolen.png"
    stolen.write_bytes(_png())
    markup = f'<html lang="en"><title>x</title><p>x</p><img alt="x" src="file://{stolen}"></html>'
    assert b"/Image" not in print_frame(markup, 200, 100, "css/paper.css")
    assert any("paper does not fetch" in said for said in no_paper_warnings.said)
    no_paper_warnings.said.clear()


def test_the_sites_own_photos_print(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    (tmp_path / "pot.png").write_bytes(_png())
    markup = '<html lang="en"><title>x</title><img alt="a pot" src="photo:pot.png"></html>'
    assert b"/Image" in print_frame(markup, 200, 100, "css/paper.css")


def _png() -> bytes:
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", 1, 1, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0\xff\0\0")) + chunk(b"IEND", b"")


def test_a_later_card_is_quick(stew, frame):
    spans_s = [_work_s(stew, frame, servings) for servings in range(7, 14)]
    assert min(spans_s[1:]) < 0.25


def _work_s(stew, frame, servings) -> float:
    """Return the processor's seconds for a card that is new; a clock on the wall would measure other programs too."""
    began = time.process_time()
    _printed(present_page(read_facts(stew.current_edition.facts), CardRequest(servings, 6)), frame)
    return time.process_time() - began


def test_the_card_has_an_address(stew, stranger_client, owner_client, other_client):
    for client in (stranger_client, owner_client, other_client):
        answer = client.get("/r/stew/card.pdf", {"size": "4x6", "for": "8"})
        assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
        assert answer["Content-Disposition"] == 'inline; filename="stew-4x6.pdf"'
        assert "For 8" in PdfReader(io.BytesIO(answer.content)).pages[0].extract_text()


def test_a_card_that_did_not_change_is_not_printed_again(stew, stranger_client, monkeypatch, settings, tmp_path):
    settings.ANSWERS_DIR = tmp_path / "answers"
    first = stranger_client.get("/r/stew/card.pdf")
    monkeypatch.setattr("kitchen.views.public.print_cards", None)
    assert stranger_client.get("/r/stew/card.pdf", HTTP_IF_NONE_MATCH=first["ETag"]).status_code == 304
    again = stranger_client.get("/r/stew/card.pdf")
    assert (again.content, again["Content-Type"]) == (first.content, "application/pdf")
    assert again["Content-Disposition"] == first["Content-Disposition"] == 'inline; filename="stew-a6.pdf"'


@pytest.mark.parametrize("query", [{"size": "a0"}, {"for": "six"}, {"for": "0"}, {"for": "1e9"}])
def test_a_card_of_no_size_or_for_nobody_is_not_found(stew, stranger_client, query):
    answer = stranger_client.get("/r/stew/card.pdf", query)
    assert answer.status_code == 404


def test_a_draft_does_not_reach_the_card(stew, noon, stranger_client):
    next_revision(stew, noon, text="350 g black beans")
    words = PdfReader(io.BytesIO(stranger_client.get("/r/stew/card.pdf").content)).pages[0].extract_text()
    assert "black beans" not in words


def test_the_qr_code_holds_the_address_in_a_quiet_square():
    code = qr_code("https://fernhollow.example/r/stew/")
    assert code.words == "fernhollow.example/r/stew"
    assert (code.side - 8 - 17) % 4 == 0
    assert code.path.startswith("M4 4.5h7")


def test_tags_stand_in_reading_order_under_headings_without_a_gap(stew, frame):
    """ISO 14289-1: headings in order, figures with their words, lists of items (7.4.2, 7.3, 7.6)."""
    page = present_page(read_facts(stew.current_edition.facts), CardRequest(6, 6))
    pdf = _printed(page, frame)
    tags = tags_of(pdf)
    levels = [int(tag.kind[1]) for tag in tags if tag.kind in ("H1", "H2", "H3")]
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    assert levels.count(1) == 1
    assert all(tag.alt for tag in tags if tag.kind == "Figure")
    assert {tag.kind for tag in tags if tag.parent == "L"} <= {"LI", "L"}
    heard = " ".join(read_aloud(pdf).split())
    places = [
        heard.index(words) for words in ("Red lentil", "Ingredients", "300 g red lentils", "Before you start", "Warm the oil")
    ]
    assert places == sorted(places)
    assert heard.index("Warm the oil") < heard.index("fernhollow.example/r/stew")


def test_black_ink_prints_nothing_else_and_tells_the_same(stew, frame):
    page = present_page(read_facts(stew.current_edition.facts), CardRequest(6, 6))
    coloured, black = (sheets_of(_printed(page, frame, ink=ink)) for ink in ("colour", "black"))
    assert [sheet.words for sheet in coloured] == [sheet.words for sheet in black]
    assert {colour for side in pictures_of(_printed(page, frame, ink="black")) for colour in hues_of(side)} == set()
    assert {colour for side in pictures_of(_printed(page, frame)) for colour in hues_of(side)} != set()


def test_all_words_stand_out_by_a_red_lamp(stew, frame):
    page = present_page(read_facts(stew.current_edition.facts), CardRequest(6, 6))
    for sheet in sheets_of(_printed(page, frame)):
        assert lost_by_red_light(sheet) == []


def test_own_name_and_note_stand_at_the_foot(stew, stranger_client):
    asked = {"size": "a7", "name": "Box 3 <b>", "note": "Gas & matches in the lid"}
    answer = stranger_client.get("/r/stew/card.pdf", asked)
    words = PdfReader(io.BytesIO(answer.content)).pages[-1].extract_text()
    assert "Box 3 <b>" in words
    assert "Gas & matches in the lid" in words
    assert stranger_client.get("/r/stew/card.pdf", {"note": "x" * 121}).status_code == 404


@pytest.mark.parametrize(
    ("size", "sheet", "many"), [("a7", "a4", 8), ("a6", "a4", 4), ("a5", "a4", 2), ("3x5", "letter", 4), ("4x6", "letter", 2)]
)
def test_so_many_cards_go_on_a_sheet(size, sheet, many):
    assert grid_of(CARD_SIZES[size], SHEETS[sheet]).many == many


def test_printing_is_chosen_on_a_page_of_its_own(stew, stranger_client, owner_client, other_client):
    for client in (stranger_client, owner_client, other_client):
        page = client.get("/r/stew/print/", {"for": "8"}).content.decode()
        assert "For 8." in page
        assert '<input type="hidden" name="for" value="8">' in page
        answer = client.get("/r/stew/print/", {"for": "8", "size": "a7", "sheet": "a4", "ink": "black", "name": "Box 3"})
        assert answer.status_code == 302
        assert answer["Location"] == "/r/stew/card.pdf?for=8&size=a7&sheet=a4&ink=black&name=Box+3"
        assert client.get(answer["Location"]).status_code == 200


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"size": "a4", "sheet": "letter"}, "A card of A4 does not go on Letter. Choose a smaller card."),
        ({"size": "a0"}, "Choose one of the sizes that are listed."),
        ({"note": "x" * 121}, "at most 120 characters"),
    ],
)
def test_what_cannot_be_printed_is_said_beside_its_field(stew, stranger_client, asked, said):
    answer = stranger_client.get("/r/stew/print/", asked)
    assert answer.status_code == 400
    assert said in answer.content.decode()
