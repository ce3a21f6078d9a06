"""The example's recipes, and hostile ones made of one of them, on every card for every number of servings."""

import itertools
import re

import pytest
from django.test import TestCase

from deploy.demo.load import load_demo
from kitchen.cards import CardRequest
from kitchen.models import Recipe
from kitchen.operations import load_reference_foods
from kitchen.page import PageFrame, ReadFacts, present_page, read_facts
from kitchen.publish.card_type import type_style
from kitchen.publish.leaves import CARD_SIZES, SHEETS, CardSet, Wish
from kitchen.publish.paper import print_cards
from tests.kitchen.hostile import hostile
from tests.kitchen.printed import codes, collisions, outside, sheets_of, smallest_pt

pytestmark = [pytest.mark.django_db, pytest.mark.any_engine]

SERVINGS = (1, 6, 11, 20, 40)
LEAST_PT, LEAST_BODY_PT, LEAST_FIGURE_PT = 8.0, 9.5, 14.0
LARGE = ("a6", "4x6", "a5", "a4", "letter")
ADDRESS = "https://fernhollow.example/r/{name}/"


class CardsOfTheExampleTests(TestCase):
    """Read once from the loaded example."""

    @classmethod
    def setUpTestData(cls):
        load_reference_foods()
        load_demo()
        editions = {recipe.slug: recipe.current_edition for recipe in Recipe.objects.select_related("current_edition")}
        cls.example = {slug: read_facts(edition.facts) for slug, edition in sorted(editions.items())}
        cls.day = editions["red-lentil-and-squash-pot"].published_at
        cls.hostile = dict(hostile(cls.example["red-lentil-and-squash-pot"]))

    def cards(self, name: str, facts: ReadFacts, servings: int, wish: Wish) -> CardSet:
        page = present_page(facts, CardRequest(servings, facts.recipe.servings))
        address = ADDRESS.format(name=name.replace(" ", "-"))
        frame = PageFrame("Fernhollow", "/r/x/", address, edition_number=1, published_at=self.day, asked_address=address)
        return CardSet(((page, frame),), wish)

    def test_no_side_is_a_tail_and_no_caution_is_parted(self):
        for (name, facts), size, servings in itertools.product(
            {**self.example, **self.hostile}.items(), CARD_SIZES.values(), SERVINGS
        ):
            with self.subTest(name, size=size.key, servings=servings):
                (faces,) = self.cards(name, facts, servings, Wish(size)).faces({})
                assert len(faces) == 1 or len(faces) % 2 == 0
                assert all(size.least_pt <= face.type_pt <= size.most_pt for face in faces)
                cautions = [face.number for face in faces for unit in face.units if unit.kind == "caution"]
                assert len(cautions) <= (4 if name == "long cautions" else 1)
                for face in faces if len(faces) > 2 else []:
                    high_pt = sum(unit.height_pt(face.type_pt) for unit in face.units)
                    assert high_pt > 0.25 * size.height_pt, (face.number, [unit.kind for unit in face.units])
                    steps = [unit for unit in face.units if unit.kind == "step"]
                    assert len(face.units) > 1 or not steps or high_pt > 0.5 * size.height_pt, face.number

    def test_the_examples_type_is_easy_to_read_on_a_card_of_the_usual_size(self):
        for (name, facts), key, servings in itertools.product(self.example.items(), LARGE, SERVINGS):
            cards = self.cards(name, facts, servings, Wish(CARD_SIZES[key]))
            (faces,) = cards.faces({})
            with self.subTest(name, size=key, servings=servings):
                assert min(face.type_pt for face in faces) >= LEAST_BODY_PT
                figures = [float(size) for size in re.findall(r"size-figure\{font-size:([\d.]+)pt", cards_style(faces))]
                assert figures
                assert min(figures) >= LEAST_FIGURE_PT
                assert len(faces) <= 4

    def test_everything_is_printed_within_its_card_and_nothing_over_another(self):
        """Each recipe on each card, for one number of servings each: they take turns."""
        turns = itertools.cycle(SERVINGS)
        inks = itertools.cycle(("colour", "black"))
        for (name, facts), size in itertools.product({**self.example, **self.hostile}.items(), CARD_SIZES.values()):
            servings = next(turns)
            with self.subTest(name, size=size.key, servings=servings):
                cards = self.cards(name, facts, servings, Wish(size, ink=next(inks), name="Box 3"))
                pdf = print_cards(cards)
                sheets = sheets_of(pdf)
                if name in self.example:
                    assert len(sheets) == len(cards.faces({})[0]), "it was planned as it is printed"
                for sheet in sheets:
                    assert smallest_pt(sheet) >= LEAST_PT - 0.01
                    assert collisions(sheet) == []
                    assert outside(sheet, size.margin_mm - 1.2) == []
                told = " ".join(sheet.words for sheet in sheets)
                for step in facts.recipe.steps:
                    assert step.text.split()[-1].strip(".") in told
                for caution in cards.pages[0][0].paper_cautions:
                    whole = "".join((caution.short or caution.words).split())
                    assert any(whole in "".join(sheet.words.split()) for sheet in sheets), caution
                assert "Box 3" in sheets[-1].words
                if len(sheets) > 2 and name != "from right to left":
                    assert f"card 1 of {len(sheets) // 2}" in sheets[0].words
                assert ("Estimated." in told) == (cards.pages[0][0].standing == "estimated")

    def test_every_code_is_read_from_the_print(self):
        for (name, facts), size in zip(self.example.items(), itertools.cycle(CARD_SIZES.values()), strict=False):
            with self.subTest(name, size=size.key):
                pdf = print_cards(self.cards(name, facts, 6, Wish(size)))
                assert [text for _, text in codes(pdf)] == [ADDRESS.format(name=name)]

    def test_minutes_of_measured_stages_add_up_to_the_time_on_the_card(self):
        for name, facts in self.example.items():
            page = present_page(facts, CardRequest(facts.recipe.servings, facts.recipe.servings))
            with self.subTest(name):
                spans = [stage.mark.span_s for stage in page.stages if stage.mark]
                assert round(sum(spans) / 60) == round(page.figures["total_min"])

    def test_a_card_of_batches_speaks_of_one_and_names_what_is_of_all(self):
        cards = self.cards("stew", self.example["red-lentil-and-squash-pot"], 40, Wish(CARD_SIZES["a6"]))
        front, *others = (sheet.words for sheet in sheets_of(print_cards(cards)))
        assert "in 6 batches of 2.4 L" in front
        assert "all 6 batches" in front
        told = " ".join((front, *others))
        assert "20 cloves 3–4 cloves garlic" in told
        assert "3.3 g" in told
        assert "⅝" not in told
        assert "Method, for each batch" in told

    def test_sheets_hold_fronts_before_mirrored_backs(self):
        facts = self.example["cocoa-for-the-cold-hours"]
        cards = self.cards("cocoa", facts, 5, Wish(CARD_SIZES["a6"], SHEETS["a4"]))
        front, back = sheets_of(print_cards(cards))
        assert front.words.count("Cocoa for the cold hours For 5") == 4
        assert back.words.count("Before you start") == 4
        assert codes(print_cards(cards)) == [(1, ADDRESS.format(name="cocoa"))] * 4


def cards_style(faces) -> str:
    """Return the rules for the sizes of type that faces use."""
    return "".join(type_style(face.type_pt) for face in faces)
