"""The page, made from facts alone: no table is read here."""

from decimal import Decimal

import pytest

from kitchen import cards
from kitchen.cards import Badge, CardAlreadyRegistered, CardRequest, Headline
from kitchen.domain import record
from kitchen.domain.facts import RecipeFacts, StepFacts
from kitchen.page import present_page, read_facts
from tests.kitchen.stew import TallyCard


def _facts(*steps: StepFacts, servings: int = 6, **held) -> dict:
    recipe = RecipeFacts("stew", "Stew", "", servings=servings, revision=1, steps=steps)
    return {"schema": 1, "recipe": record.write(recipe), "cards": held}


BROWN = StepFacts("Warm the oil.", "brown", Decimal("6.0"))
STIR = StepFacts("Stir.", "brown", Decimal("1.5"))
HOLD = StepFacts("Leave it alone.", "hold", Decimal(8), temp_c=Decimal("100"))
SERVE = StepFacts("Serve.")
TALLY = {"schema": 1, "wh": "240", "runs": 3}


def test_neighbouring_steps_of_one_stage_are_one_block_and_numbers_run_on(no_cards):
    page = present_page(read_facts(_facts(BROWN, STIR, HOLD, SERVE, BROWN)), CardRequest(6, 6))
    assert [(block.kind, [step.number for step in block.steps]) for block in page.stages] == [
        ("brown", [1, 2]),
        ("hold", [3]),
        ("", [4]),
        ("brown", [5]),
    ]
    assert [block.minutes for block in page.stages] == ["7.5 min", "8 min", "", "6 min"]
    assert page.stages[1].steps[0].temperature == "100\u00a0°C"
    assert [block.first_number for block in page.stages] == [1, 3, 4, 5]


def test_marks_come_from_the_first_card_that_knows_the_stages(no_cards):
    cards.register(TallyCard(slug="silent", marks=False))
    cards.register(TallyCard(slug="tally"))
    page = present_page(read_facts(_facts(BROWN, SERVE, HOLD, silent=TALLY, tally=TALLY)), CardRequest(6, 6))
    assert [(block.minutes, block.heat, block.words) for block in page.stages] == [
        ("9 min", "on", ("650 W",)),
        ("", "off", ()),
        ("9 min", "on", ("650 W",)),
    ]


def test_typed_minutes_stand_in_for_a_card_that_gives_none(tally):
    page = present_page(read_facts(_facts(BROWN, HOLD, tally=TALLY)), CardRequest(6, 6))
    assert [(line.key, line.value, line.unit, line.standing) for line in page.headlines] == [
        ("wh", "40", "Wh", "measured"),
        ("minutes", "14", "min", "typed"),
    ]
    assert page.figures["total_min"] == 14


class _Crowd(TallyCard):
    def headlines(self, facts, request):
        return [Headline(f"n{order}", "1", "min", "", order=order) for order in (50, 10, 40, 20, 30)]


def test_at_most_four_headlines_in_their_order(no_cards):
    cards.register(_Crowd())
    page = present_page(read_facts(_facts(BROWN, tally=TALLY)), CardRequest(6, 6))
    assert [line.order for line in page.headlines] == [10, 20, 30, 40]


def test_the_badge_is_what_a_card_says_of_its_figures(tally):
    page = present_page(read_facts(_facts(tally=TALLY)), CardRequest(6, 6))
    assert (page.standing, page.badge) == ("measured", "measured 3 times")


class _Guess(TallyCard):
    def badge(self, facts, request):
        return Badge("estimated", "estimated")


def test_one_card_of_estimates_makes_the_page_estimated(no_cards):
    cards.register(TallyCard())
    cards.register(_Guess(slug="guess"))
    page = present_page(read_facts(_facts(tally=TALLY, guess=TALLY)), CardRequest(12, 6))
    assert (page.standing, page.badge) == ("estimated", "estimated")


def test_a_recipe_without_cards_has_no_badge_and_no_plates(no_cards):
    page = present_page(read_facts(_facts(SERVE)), CardRequest(6, 6))
    assert (page.standing, page.badge, page.cards, page.headlines, page.cautions) == ("", "", (), (), ())


def test_the_same_caution_from_two_cards_is_said_once(no_cards):
    cards.register(TallyCard())
    cards.register(TallyCard(slug="other"))
    page = present_page(read_facts(_facts(tally=TALLY, other=TALLY)), CardRequest(6, 6))
    assert [caution.words for caution in page.cautions] == ["Lentils foam: fill to half at most."]
    assert [plate.slug for plate in page.cards] == ["other", "tally"]


class _Ledger(TallyCard):
    audience = "owner"


def test_a_card_for_the_owner_is_not_dealt_to_readers(no_cards):
    cards.register(_Ledger())
    facts = _facts(tally=TALLY)
    assert present_page(read_facts(facts), CardRequest(6, 6)).cards == ()
    assert len(present_page(read_facts(facts), CardRequest(6, 6, audience="owner")).cards) == 1


def test_facts_of_a_card_that_is_not_registered_are_left_alone(no_cards):
    assert present_page(read_facts(_facts(unknown={"schema": 9})), CardRequest(6, 6)).cards == ()


def test_facts_of_a_newer_program_are_refused_in_words(no_cards):
    with pytest.raises(record.UnreadableRecord, match="Update the program"):
        read_facts({**_facts(), "schema": 2})


def test_one_slug_cannot_be_registered_twice(tally):
    with pytest.raises(CardAlreadyRegistered, match="tally"):
        cards.register(TallyCard())


def test_at_a_height_a_step_keeps_its_temperature_as_written_and_says_how_hot_it_gets(no_cards):
    class HighCard(TallyCard):
        def stage_marks(self, facts, request, kinds):
            return [cards.StageMark("8 min", hottest_c=93.3) for _ in kinds]

    cards.register(HighCard())
    warm = StepFacts("Keep it warm.", "hold", Decimal(8), temp_c=Decimal("85"))
    said = StepFacts("Hold it at 100 °C.", "hold", Decimal(8), temp_c=Decimal("100"))
    page = present_page(read_facts(_facts(HOLD, warm, said, tally=TALLY)), CardRequest(6, 6))
    (block,) = page.stages
    both = "100\u00a0°C as written, 93\u00a0°C at your height"
    assert [step.temperature for step in block.steps] == [both, "85\u00a0°C", both]


def test_minutes_that_may_be_more_are_not_replaced_by_those_that_were_typed(no_cards):
    class OpenCard(TallyCard):
        def figures(self, facts, request):
            return {"total_min": None, "wh": Decimal(240)}

    cards.register(OpenCard())
    page = present_page(read_facts(_facts(BROWN, HOLD, tally=TALLY)), CardRequest(6, 6))
    assert page.figures == {"wh": Decimal(240)}
