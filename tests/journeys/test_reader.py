"""A reader's first minute on a phone: what is seen without scrolling, the answer for the own kit, cooking by it, and paper."""

import io

import pytest
from django.contrib.auth.models import User
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from tests.journeys.small_kitchen import write_pot
from tests.journeys.test_first_hour import Counted
from tests.journeys.waiting import fits

SPACED = """* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; }
p { margin-block-end: 2em !important; }"""
"""The distances of WCAG 2.2, 1.4.12."""


@pytest.fixture
def pot(transactional_db):
    """A published pot for four."""
    return write_pot(User.objects.create_superuser("cook", password="lid-and-ladle"), published=True)


@pytest.fixture
def phone(narrow_page) -> Page:
    narrow_page.set_viewport_size({"width": 360, "height": 740})
    return narrow_page


def test_what_matters_is_seen_without_scrolling(phone, pot):
    phone.goto(f"/r/{pot.slug}/")
    for seen in (phone.get_by_role("heading", level=1), phone.locator("#servings"), phone.get_by_text("On your battery?")):
        expect(seen).to_be_in_viewport(ratio=1)


def test_the_answer_for_the_own_kit_takes_two_taps_and_is_said(phone, pot):
    phone.goto(f"/r/{pot.slug}/")
    phone.get_by_text("On your battery?").click()
    phone.get_by_role("link", name="Middle-sized battery").click()
    answer = phone.locator(".answer--yours")
    expect(answer).to_be_focused()
    expect(answer).to_be_in_viewport()
    expect(phone.get_by_role("status").filter(has_text="For 4")).to_have_count(1)
    phone.get_by_role("link", name="as measured").click()
    expect(answer).to_have_count(0)


MOST = {"own kit": (2, 2, 1), "eleven and print": (1, 1, 2)}
"""Taps, typed fields and pages, the recipe's own among them; they may only fall, and stand in ``deploy/measures.md``."""


def not_more(story, most):
    return all(count <= bound for count, bound in zip((story.taps, story.fields, len(story.pages)), most, strict=True))


def test_an_answer_for_the_own_kit_costs_no_more_than_it_did(phone, pot):
    story = Counted(phone, pages=["the recipe"])
    phone.goto(f"/r/{pot.slug}/")
    story.tap(phone.get_by_text("On your battery?"))
    story.type("Battery, Wh", "250")
    story.type("Inverter, W", "300")
    story.tap(phone.get_by_role("button", name="Work it out for my kit"))
    expect(phone.locator(".answer--yours")).to_be_in_viewport()
    assert "battery_wh=250&inverter_w=300" in phone.url
    assert not_more(story, MOST["own kit"])
    fits(phone)


def test_a_card_for_eleven_costs_no_more_than_it_did(phone, pot):
    story = Counted(phone, pages=["the recipe"])
    phone.goto(f"/r/{pot.slug}/")
    story.type(phone.locator("#servings"), "11")
    phone.locator("#servings").press("Enter")
    phone.wait_for_url("**/for-11/")
    card = phone.request.get(phone.get_by_role("link", name="Print card", exact=True).get_attribute("href"))
    story.taps += 1
    story.pages.append("the card")
    words = " ".join(side.extract_text() for side in PdfReader(io.BytesIO(card.body())).pages)
    assert "For 11" in words.replace("\u00a0", " ")
    assert not_more(story, MOST["eleven and print"])


def test_a_reader_cooks_step_by_step_and_the_place_is_kept(phone, pot):
    phone.goto(f"/r/{pot.slug}/")
    phone.get_by_role("link", name="Cook", exact=True).click()
    expect(phone.get_by_role("heading", name="Have ready")).to_be_visible()
    phone.locator("[data-tick]").first.check()
    phone.get_by_role("button", name="Next").click()
    expect(phone.locator(".cook__step:visible")).to_have_count(1)
    expect(phone.locator("#step-1 h2")).to_be_focused()
    phone.reload()
    expect(phone.locator("#step-1")).to_be_visible()
    phone.get_by_role("button", name="Back").click()
    expect(phone.locator("[data-tick]").first).to_be_checked()
    fits(phone)


def test_without_script_the_whole_method_stands_there(page_without_script, pot):
    page_without_script.goto(f"/r/{pot.slug}/cook/")
    expect(page_without_script.locator(".cook__step:visible")).to_have_count(page_without_script.locator(".cook__step").count())
    expect(page_without_script.get_by_role("button")).to_have_count(0)


@pytest.mark.parametrize("width", [320, 360])
def test_wider_set_text_needs_no_sideways_scrolling(phone, pot, width):
    phone.set_viewport_size({"width": width, "height": 740})
    for place in ("/", f"/r/{pot.slug}/", f"/r/{pot.slug}/cook/"):
        phone.goto(place)
        phone.evaluate(
            "rules => { const sheet = new CSSStyleSheet(); sheet.replaceSync(rules); document.adoptedStyleSheets = [sheet]; }",
            SPACED,
        )
        assert phone.evaluate("document.documentElement.scrollWidth") <= width, place


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_it_prints_on_two_sheets_at_most(page, pot, paper):
    page.goto(f"/r/{pot.slug}/")
    printed = PdfReader(io.BytesIO(page.pdf(format=paper)))
    words = " ".join(sheet.extract_text() for sheet in printed.pages)
    assert len(printed.pages) <= 2
    assert f"/r/{pot.slug}" in words
    assert "Method" in words
