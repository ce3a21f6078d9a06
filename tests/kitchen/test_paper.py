"""The printed card: its sheet, its type, its words; and the one door that fetches nothing from anywhere else."""

import io
import struct
import time
import zlib
from dataclasses import replace

import pytest
from pypdf import PdfReader

from kitchen.cards import CardRequest
from kitchen.page import PageFrame, present_page, read_facts
from kitchen.publish.paper import CARD_SIZES, PaperFetcher, RefusedAddress, card_pdf, print_markup
from kitchen.publish.qr import qr_code
from tests.kitchen.stew import next_revision

pytestmark = pytest.mark.usefixtures("no_paper_warnings")
POINTS_A_MM = 72 / 25.4


@pytest.fixture
def frame(noon):
    return PageFrame("Fernhollow", "/r/stew/", "https://fernhollow.example/r/stew/", edition_number=1, published_at=noon)


def _card(stew, frame, servings=6, size="a6"):
    page = present_page(read_facts(stew.current_edition.facts), CardRequest(servings, 6))
    return PdfReader(io.BytesIO(card_pdf(page, CARD_SIZES[size], frame)))


@pytest.mark.parametrize(("size", "width_mm", "height_mm"), [("a6", 105, 148), ("4x6", 101.6, 152.4)])
def test_sheets_have_their_size(stew, frame, size, width_mm, height_mm):
    sheets = _card(stew, frame, size=size).pages
    assert len(sheets) == 2
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
    card = PdfReader(io.BytesIO(card_pdf(page, CARD_SIZES["a6"], PageFrame("Fernhollow", draft=True, revision=2))))
    words = " ".join(sheet.extract_text() for sheet in card.pages)
    assert "draft of revision 2" in words
    assert "QR" not in words


def test_a_full_card_is_set_tighter_to_fit_a_front_and_a_back(stew, frame):
    page = present_page(read_facts(stew.current_edition.facts), CardRequest(6, 6))
    first = page.parts[0]
    full = replace(
        page,
        parts=(replace(first, lines=first.lines * 6), *page.parts[1:]),
        cautions=tuple(replace(page.cautions[0], words="Keep hands and face away from the valve. " * 2) for _ in range(5)),
        stages=page.stages * 3,
    )
    assert len(PdfReader(io.BytesIO(card_pdf(full, CARD_SIZES["a6"], frame))).pages) == 2


def test_words_from_right_to_left_and_pictures_in_words_print(stew, frame, noon):
    facts = stew.current_edition.facts
    facts["recipe"]["title"] = "מרק עדשים 🍲 <b>&"
    page = present_page(read_facts(facts), CardRequest(6, 6))
    assert len(PdfReader(io.BytesIO(card_pdf(page, CARD_SIZES["a6"], frame))).pages) == 2


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
    assert b"/Image" not in print_markup(markup, CARD_SIZES["a6"])
    assert any("paper does not fetch" in said for said in no_paper_warnings.said)
    no_paper_warnings.said.clear()


def test_the_sites_own_photos_print(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    (tmp_path / "pot.png").write_bytes(_png())
    markup = '<html lang="en"><title>x</title><img alt="a pot" src="photo:pot.png"></html>'
    assert b"/Image" in print_markup(markup, CARD_SIZES["a6"])


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
    card_pdf(present_page(read_facts(stew.current_edition.facts), CardRequest(servings, 6)), CARD_SIZES["a6"], frame)
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
    monkeypatch.setattr("kitchen.views.public.print_markup", None)
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
