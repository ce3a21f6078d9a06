from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.facts import LineFacts
from kitchen.domain.lines import parse_line
from kitchen.domain.matching import FoodIndex
from kitchen.domain.remark import remark
from kitchen.domain.rules import RULES, default_rule
from kitchen.domain.show import show_line
from kitchen.domain.systems import SYSTEMS
from kitchen.reference import load_reference

FOODS = FoodIndex(load_reference())


def facts(text: str, rule: str = "") -> LineFacts:
    line = parse_line(text)
    found = FOODS.find(line.name, line.unit)
    food = found[0].facts() if found and found[1] >= 0.6 else None
    return LineFacts(
        text,
        line.low,
        line.high,
        line.unit,
        line.name,
        line.note,
        line.size,
        line.also,
        rule or default_rule(line, food.aisle if food else None),
        line.optional,
        line.to_taste,
        food,
    )


@pytest.mark.parametrize(
    ("text", "k", "amount", "words", "grams"),
    [
        ("30 ml rapeseed oil", "1", "30 mL", "rapeseed oil", "28 g"),
        ("200 g red lentils, rinsed", "3/2", "300 g", "red lentils", ""),
        ("2-3 onions, sliced", "2", "4–6", "onions", "550 g"),
        ("1 onion", "3", "3", "onions", "330 g"),
        ("4 eggs", "1/4", "1", "egg", "50 g"),
        ("2 large eggs", "1/2", "1", "large egg", "50 g"),
        ("3 garlic cloves", "1/3", "1 clove", "garlic", "3 g"),
        ("2 x 400 g tins chopped tomatoes", "1", "2 × 400 g tins", "chopped tomatoes", "800 g"),
        ("1 (14 oz) can coconut milk", "2", "2 × 14 oz cans", "coconut milk", "794 g"),
        ("2 chicken breasts (150 g each)", "2", "4 × 150 g", "chicken breasts", "600 g"),
        ("1 small bunch of parsley", "2", "2 small bunches", "parsley", ""),
        ("2 cups plus 2 tbsp water", "1", "2 cups 2 tbsp", "water", "504 g"),
        ("1.2 L vegetable stock", "3/2", "1.8 L", "vegetable stock", "1.83 kg"),
        ("1 butternut squash (1 kg)", "1/2", "½", "butternut squash", "500 g"),
        ("1 tsp to 1 tbsp honey", "1", "1–3 tsp", "honey", "14 g"),
        ("salt to taste", "5", "", "salt", ""),
    ],
)
def test_a_line_as_page_and_paper_print_it(text, k, amount, words, grams):
    shown = show_line(facts(text), Fraction(k))
    assert (shown.amount, shown.words, shown.grams) == (amount, words, grams)


def test_the_cooks_own_amounts_are_never_rounded_at_the_written_servings():
    for text in ("567 g beef", "37 ml milk", "1⅔ cups rice", "2.25 kg potatoes"):
        shown = show_line(facts(text))
        assert shown.exact == ""
        assert shown.said == ()
    assert show_line(facts("567 g beef")).amount == "567 g"


def test_the_readers_measures_change_the_unit():
    flour = facts("1 cup plain flour")
    assert show_line(flour, measures="metric").amount == "125 g"
    assert show_line(facts("500 g plain flour"), measures="us").amount == "1 lb 1½ oz"


def test_what_was_rounded_tells_the_exact_amount():
    shown = show_line(facts("4 eggs"), Fraction(1, 3))
    assert (shown.amount, shown.exact, shown.said) == ("1½", "1⅓", (remark("rounded_from", exact="1⅓"),))


@pytest.mark.parametrize(
    ("text", "k", "amount", "words", "said"),
    [
        ("1 lemon, juice", "11/6", "1¾", "lemons", []),
        ("1 red pepper, sliced", "3", "3", "red peppers", []),
        ("1 red chilli", "2", "2", "red chillies", []),
        ("1 corn on the cob", "4", "4", "corn on the cob", []),
        ("20 g coriander leaves", "11/6", "37 g", "coriander leaves", []),
        ("1 tbsp oil, plus extra for greasing", "2", "2 tbsp", "oil", []),
        ("3/4 tsp salt, then taste", "2", "1½ tsp", "salt", []),
        ("1-2 jalapeños", "3/4", "1–1½", "jalapeños", [remark("rounded_from", exact="¾ to 1½")]),
        ("1 large onion, or 2 small", "2", "2", "large onions", [remark("as_written", words="or 2 small")]),
        ("1 onion, 1 carrot, diced", "2", "2", "onions", [remark("as_written", words="1 carrot")]),
        ("1 ball mozzarella", "7/4", "1¾ balls", "mozzarella", []),
        ("500 g mince, 5 % fat", "2", "1 kg", "mince", []),
        ("600 g squash, in 2 cm dice", "2", "1.2 kg", "squash", []),
        ("1 cabbage, cut in 8 wedges", "2", "2", "cabbages", []),
    ],
)
def test_a_scaled_line_says_what_a_cook_has_to_know_and_no_more(text, k, amount, words, said):
    shown = show_line(facts(text), Fraction(k))
    assert (shown.amount, shown.words, list(shown.said)) == (amount, words, said)


def test_an_amount_in_words_stands_as_it_is_at_the_written_servings():
    assert show_line(facts("1 large onion, or 2 small")).said == ()


@pytest.mark.parametrize(
    ("text", "system", "k", "amount"),
    [
        ("1 cup (240 ml) milk", "metric", 1, "240 mL"),
        ("1 cup/250 ml milk", "metric", 3, "750 mL"),
        ("4 cups (1 L) vegetable broth", "metric", 2, "2 L"),
        ("225g/8oz plain flour", "us", 2, "1 lb"),
        ("225g/8oz plain flour", "metric", 2, "450 g"),
        ("2 onions (300 g)", "metric", 2, "4"),
    ],
)
def test_the_cooks_own_amount_in_the_readers_measures_comes_first(text, system, k, amount):
    assert show_line(facts(text), Fraction(k), system).amount == amount


def test_what_equals_the_printed_amount_is_not_told_again():
    assert show_line(facts("2 cups all-purpose flour"), measures="metric").exact == ""


def test_the_weight_of_a_lemon_is_not_the_weight_of_its_juice():
    assert show_line(facts("juice of 1 lemon")).grams == ""
    assert show_line(facts("1 lemon")).grams == "58 g"


def test_seasoning_grows_slower_and_says_so():
    assert show_line(facts("1 tsp ground cumin"), Fraction(4)).amount == "1 tbsp"
    assert show_line(facts("1 tsp cayenne pepper"), Fraction(4)).amount == "2½ tsp"
    assert show_line(facts("1 tsp ground cumin"), Fraction(4)).said == (remark("start_with", amount="1 tbsp"),)


def test_a_simmering_liquid_keeps_what_boils_off():
    shown = show_line(facts("1 L water", "simmer"), Fraction(2), evaporated_ml=Fraction(250))
    assert shown.amount == "1.75 L"


def test_notes_say_optional_and_to_taste():
    assert show_line(facts("1 tbsp sesame seeds, toasted (optional)")).note == "toasted, optional"
    assert show_line(facts("salt to taste")).note == "to taste"
    assert show_line(facts("water, as needed")).note == "as needed"


def test_a_unit_that_is_not_ours_is_shown_as_a_word():
    shown = show_line(LineFacts("3 florps of zest", low=Fraction(3), high=Fraction(3), unit="florp", name="zest"))
    assert (shown.amount, shown.words) == ("3", "florp zest")


def test_a_line_that_was_not_read_shows_its_text():
    assert show_line(LineFacts("whatever is left")).words == "whatever is left"


@given(
    st.sampled_from(
        ["2-3 onions", "200 g rice", "1½ cups milk", "½ tsp salt", "2 x 400 g tins tomatoes", "a pinch of salt", "1 lb 4 oz beef"]
    ),
    st.fractions(min_value=Fraction(1, 500), max_value=500, max_denominator=500),
    st.sampled_from(sorted(SYSTEMS)),
    st.sampled_from(RULES),
)
def test_any_servings_in_any_measures_print_something(text, k, system, rule):
    shown = show_line(facts(text, rule), k, system)
    assert shown.amount
    assert shown.words


@pytest.mark.parametrize(
    ("text", "system", "k", "amount", "beside"),
    [
        ("1 cup plain flour", "au", 1, "¾ cup 2½ tbsp", "125 g"),
        ("1 cup plain flour", "uk", 1, "125 g", ""),
        ("2 tbsp soy sauce", "au", 1, "1½ tbsp", "32 g"),
        ("2 tbsp soy sauce", "uk", 1, "2 tbsp", "32 g"),
        ("570 ml whole milk", "uk", 1, "570 mL", "1 pint, 588 g"),
        ("450 g onions", "written", 1, "450 g", "about 4 medium"),
        ("450 g onions", "us", 1, "1 lb", "450 g, about 4 medium"),
        ("3 tbsp lemon juice", "written", 1, "3 tbsp", "46 g, about 1 lemon"),
        ("2 cups chopped onion", "metric", 1, "320 g", "about 3 medium"),
        ("1-2 tbsp oil", "au", 2, "1½–3 tbsp", "41 g"),
        ("2 x 400 g tins chopped tomatoes", "au", 2, "4 × 400 g tins", "1.6 kg"),
        ("1 cup (250 ml) milk", "au", 1, "250 mL", "258 g"),
    ],
)
def test_a_reader_finds_a_line_in_the_measures_of_their_kitchen(text, system, k, amount, beside):
    shown = show_line(facts(text), Fraction(k), system)
    assert (shown.amount, shown.grams) == (amount, beside)


@pytest.mark.parametrize(
    ("text", "k", "amount"),
    [
        ("1 tin chopped tomatoes", 2, "2 tins"),
        ("2 tins chopped tomatoes", "1/2", "1 tin"),
        ("1 can chopped tomatoes", 2, "2 cans"),
        ("1 tub yogurt", 3, "3 tubs"),
        ("2 ribs celery", "1/2", "1 rib"),
        ("1 handful spinach", 2, "2 handfuls"),
        ("2 envelopes yeast", "1/2", "1 envelope"),
    ],
)
def test_a_cook_reads_the_word_that_a_cook_typed(text, k, amount):
    assert show_line(facts(text), Fraction(k)).amount == amount


def test_an_amount_that_may_be_none_at_all_stands_as_typed():
    line = LineFacts("0-1 red chilli", Fraction(0), Fraction(1), "", "red chilli")
    assert (show_line(line, Fraction(3)).amount, show_line(line).words) == ("", "0-1 red chilli")


def test_the_readers_rounding_is_kept_and_small_amounts_stay_fine():
    milk = facts("1 cup milk")
    assert show_line(milk, Fraction(21, 8)).amount == "2⅔ cups"
    assert show_line(milk, Fraction(21, 8), style="forces").amount == "2 cups 10 tbsp"
    assert show_line(facts("1 tbsp oil"), Fraction(4, 5)).amount == "2⅜ tsp"
