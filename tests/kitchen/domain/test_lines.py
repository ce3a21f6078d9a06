"""Ingredient lines as cooks type and paste them."""

import re
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from kitchen.domain.lines import LONGEST_READ, parse_line
from kitchen.domain.units import UNITS

READ = [
    # text, low, high, unit, name, note, size
    ("200 g red lentils, rinsed", "200", "200", "g", "red lentils", "rinsed", ""),
    ("200g red lentils", "200", "200", "g", "red lentils", "", ""),
    ("1 1/2 cups plain flour", "3/2", "3/2", "cup", "plain flour", "", ""),
    ("1½ cups milk", "3/2", "3/2", "cup", "milk", "", ""),
    ("11/2 cups milk", "3/2", "3/2", "cup", "milk", "", ""),
    ("½cup oats", "1/2", "1/2", "cup", "oats", "", ""),
    ("1-1/2 cups rice", "3/2", "3/2", "cup", "rice", "", ""),
    ("1,5 kg potatoes", "3/2", "3/2", "kg", "potatoes", "", ""),
    ("1,000 g flour", "1000", "1000", "g", "flour", "", ""),
    ("2-3 onions, sliced", "2", "3", "", "onions", "sliced", ""),
    ("2 to 3 carrots", "2", "3", "", "carrots", "", ""),
    ("2 or 3 carrots", "2", "3", "", "carrots", "", ""),
    ("2–2.5kg butternut squash", "2", "5/2", "kg", "butternut squash", "", ""),
    ("200 g - 250 g rice", "200", "250", "g", "rice", "", ""),
    ("1 tsp to 1 tbsp harissa", "1", "3", "tsp", "harissa", "", ""),
    ("2 x 400 g tins chopped tomatoes", "2", "2", "can", "chopped tomatoes", "", "400 g"),
    ("2 × 400g tin chopped tomatoes", "2", "2", "can", "chopped tomatoes", "", "400g"),
    ("2 400g tins chickpeas, drained", "2", "2", "can", "chickpeas", "drained", "400g"),
    ("1 (14 oz) can coconut milk", "1", "1", "can", "coconut milk", "", "14 oz"),
    ("1 14-oz can coconut milk", "1", "1", "can", "coconut milk", "", "14-oz"),
    ("1 can (400 g) kidney beans", "1", "1", "can", "kidney beans", "", "400 g"),
    ("1 x 2kg chicken", "1", "1", "", "chicken", "", "2kg"),
    ("1 lb 4 oz stewing beef", "5/4", "5/4", "lb", "stewing beef", "", ""),
    ("2 cups plus 2 tbsp water", "17/8", "17/8", "cup", "water", "", ""),
    ("2 cups + 2 tbsp water", "17/8", "17/8", "cup", "water", "", ""),
    ("1 cup minus 1 tbsp flour", "15/16", "15/16", "cup", "flour", "", ""),
    ("half a lemon", "1/2", "1/2", "", "lemon", "", ""),
    ("1 cup peeled and cooked fresh chestnuts", "1", "1", "cup", "fresh chestnuts", "peeled and cooked", ""),
    ("8 slices bread, crusts removed", "8", "8", "slice", "bread", "crusts removed", ""),
    ("1 baked 9-inch pie shell", "1", "1", "", "baked pie shell", "", "9-inch"),
    ("Garlic - 6 cloves", "6", "6", "clove", "Garlic", "", ""),
    ("l cup sugar", "1", "1", "cup", "sugar", "", ""),
    ("1 (12 fl oz) can or bottle beer", "1", "1", "can", "beer", "", "12 fl oz"),
    ("1/2 a lemon", "1/2", "1/2", "", "lemon", "", ""),
    ("a dozen eggs", "12", "12", "", "eggs", "", ""),
    ("half a dozen eggs", "6", "6", "", "eggs", "", ""),
    ("2 dozen oysters", "24", "24", "", "oysters", "", ""),
    ("one and a half cups sugar", "3/2", "3/2", "cup", "sugar", "", ""),
    ("two thirds cup oats", "2/3", "2/3", "cup", "oats", "", ""),
    ("three quarters of a cup of oats", "3/4", "3/4", "cup", "oats", "", ""),
    ("a pinch of salt", "1", "1", "pinch", "salt", "", ""),
    ("A handful of coriander leaves", "1", "1", "handful", "coriander leaves", "", ""),
    ("a good pinch of salt", "1", "1", "pinch", "salt", "good", ""),
    ("1 heaped tbsp flour", "1", "1", "tbsp", "flour", "heaped", ""),
    ("heaped tablespoon of flour", "1", "1", "tbsp", "flour", "heaped", ""),
    ("pinch of salt", "1", "1", "pinch", "salt", "", ""),
    ("juice of 1 lemon", "1", "1", "", "lemon", "juice", ""),
    ("Zest and juice of 2 limes", "2", "2", "", "limes", "zest and juice", ""),
    ("juice of half a lemon", "1/2", "1/2", "", "lemon", "juice", ""),
    ("3 garlic cloves, crushed", "3", "3", "clove", "garlic", "crushed", ""),
    ("3 cloves garlic, crushed", "3", "3", "clove", "garlic", "crushed", ""),
    ("4 cloves", "4", "4", "", "cloves", "", ""),
    ("2 celery sticks, diced", "2", "2", "stick", "celery", "diced", ""),
    ("1 stick butter", "1", "1", "stick", "butter", "", ""),
    ("2 bay leaves", "2", "2", "", "bay leaves", "", ""),
    ("2 large eggs", "2", "2", "", "eggs", "", "large"),
    ("2 medium-sized onions", "2", "2", "", "onions", "", "medium-sized"),
    ("1 small bunch of parsley", "1", "1", "bunch", "parsley", "", "small"),
    ("2 chicken breasts (150 g each)", "2", "2", "", "chicken breasts", "", "150 g"),
    ("5 cm piece of ginger, peeled", "1", "1", "piece", "ginger", "peeled", "5 cm"),
    ("a 5 cm piece of ginger", "1", "1", "piece", "ginger", "", "5 cm"),
    ("1 2-inch piece ginger", "1", "1", "piece", "ginger", "", "2-inch"),
    ("2 tsp freshly ground black pepper", "2", "2", "tsp", "black pepper", "freshly ground", ""),
    ("1 x onion, sliced", "1", "1", "", "onion", "sliced", ""),
    ("2x eggs", "2", "2", "", "eggs", "", ""),
    ("2 × large onions", "2", "2", "", "onions", "", "large"),
    ("2-3 x 400 g tins tomatoes", "2", "3", "can", "tomatoes", "", "400 g"),
    ("½ a 400 g tin coconut milk", "1/2", "1/2", "can", "coconut milk", "", "400 g"),
    ("1 stick (8 tbsp) butter, melted", "1", "1", "stick", "butter", "melted", ""),
    ("~500 g squash", "500", "500", "g", "squash", "about", ""),
    ("a generous pinch of salt", "1", "1", "pinch", "salt", "generous", ""),
    ("Juice of ½ lemon", "1/2", "1/2", "", "lemon", "juice", ""),
    ("1 cup finely chopped onion", "1", "1", "cup", "onion", "finely chopped", ""),
    ("1 tsp ground cumin", "1", "1", "tsp", "ground cumin", "", ""),
    ("1 tbsp olive oil, plus extra for frying", "1", "1", "tbsp", "olive oil", "plus extra for frying", ""),
    ("200g butter or margarine", "200", "200", "g", "butter", "or margarine", ""),
    ("about 300 g rice", "300", "300", "g", "rice", "about", ""),
    ("1 red onion - sliced", "1", "1", "", "red onion", "sliced", ""),
    ("250 ml 2% milk", "250", "250", "mL", "2% milk", "", ""),
    ("1 tsp 5-spice powder", "1", "1", "tsp", "5-spice powder", "", ""),
    ("500 g 00 flour", "500", "500", "g", "00 flour", "", ""),
    ("2 T sugar", "2", "2", "tbsp", "sugar", "", ""),
    ("2 t vanilla", "2", "2", "tsp", "vanilla", "", ""),
    ("1 fl. oz. rum", "1", "1", "floz", "rum", "", ""),
    ("Butter 200 g", "200", "200", "g", "Butter", "", ""),
    ("Flour: 500 g", "500", "500", "g", "Flour", "", ""),
    ("onions x 2", "2", "2", "", "onions", "", ""),
    ("- 3 eggs", "3", "3", "", "eggs", "", ""),
    ("-3 eggs", "3", "3", "", "eggs", "", ""),
    ("a small onion", "1", "1", "", "onion", "", "small"),
    ("large handful of spinach", "1", "1", "handful", "spinach", "", "large"),
    ("knob of butter", "1", "1", "knob", "butter", "", ""),
    ("2 kg bag of potatoes", "1", "1", "bag", "potatoes", "", "2 kg"),
    ("2 sprigs fresh thyme", "2", "2", "sprig", "fresh thyme", "", ""),
    ("2 salmon fillets", "2", "2", "fillet", "salmon", "", ""),
    ("1 head of garlic", "1", "1", "head", "garlic", "", ""),
    ("1 fennel bulb", "1", "1", "bulb", "fennel", "", ""),
    ("• 3 eggs", "3", "3", "", "eggs", "", ""),
    ("- [ ] 3 eggs", "3", "3", "", "eggs", "", ""),
    ("500ml vegetable stock*", "500", "500", "mL", "vegetable stock", "", ""),
    ("20g pack coriander", "1", "1", "packet", "coriander", "", "20g"),
    ("400g tin chopped tomatoes", "1", "1", "can", "chopped tomatoes", "", "400g"),
    ("a 400 g tin of chickpeas", "1", "1", "can", "chickpeas", "", "400 g"),
    ("1 (400g/14oz) tin chopped tomatoes", "1", "1", "can", "chopped tomatoes", "", "400g"),
    ("2 x 400g/14oz tins chickpeas", "2", "2", "can", "chickpeas", "", "400g"),
    ("One 28-ounce can whole peeled tomatoes", "1", "1", "can", "whole peeled tomatoes", "", "28-ounce"),
    ("1 lb boneless, skinless chicken thighs, diced", "1", "1", "lb", "boneless, skinless chicken thighs", "diced", ""),
    ("300g minced beef", "300", "300", "g", "minced beef", "", ""),
    ("a couple of bay leaves", "2", "2", "", "bay leaves", "", ""),
    ("couple of sprigs of thyme", "2", "2", "sprig", "thyme", "", ""),
    ("2¼ tsp (1 packet) dried yeast", "9/4", "9/4", "tsp", "dried yeast", "1 packet", ""),
    ("1 tbsp each of parsley and chives", "1", "1", "tbsp", "parsley and chives", "", ""),
    ("thumb-sized piece of ginger", "1", "1", "piece", "ginger", "", "thumb-sized"),
    ("4 fat garlic cloves", "4", "4", "clove", "garlic", "", "fat"),
    ("1 cup packed light brown sugar", "1", "1", "cup", "light brown sugar", "packed", ""),
    ("3/4 of a cup of milk", "3/4", "3/4", "cup", "milk", "", ""),
    ("1 & 1/2 cups milk", "3/2", "3/2", "cup", "milk", "", ""),
    ("1 EL Öl", "1", "1", "tbsp", "Öl", "", ""),
    ("٣ بيضات", "3", "3", "", "بيضات", "", ""),
    ("200 g 🍅", "200", "200", "g", "🍅", "", ""),
]


@pytest.mark.parametrize(("text", "low", "high", "unit", "name", "note", "size"), READ, ids=[row[0] for row in READ])
def test_a_line_is_read(text, low, high, unit, name, note, size):
    line = parse_line(text)
    assert (line.low, line.high) == (Fraction(low), Fraction(high))
    assert (line.unit, line.name, line.note, line.size) == (unit, name, note, size)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("salt", "salt"),
        ("2% milk", "2% milk"),
        ("5-spice powder", "5-spice powder"),
        ("1:1 sugar syrup", "1:1 sugar syrup"),
        ("00 flour", "00 flour"),
        ("half-fat creme fraiche", "half-fat creme fraiche"),
        ("half-and-half", "half-and-half"),
        ("0 g salt", "0 g salt"),
        ("1/0 cup", "1/0 cup"),
        ("whatever is left", "whatever is left"),
        ("🍅🍅 party", "🍅🍅 party"),
        ("مرحبا طحين", "مرحبا طحين"),
        ("1" * 400, "1" * 400),
        ("a", "a"),
    ],
)
def test_what_is_no_amount_stays_text(text, name):
    line = parse_line(text)
    assert (line.low, line.unit, line.name) == (None, "", name)
    assert line.text == text


@pytest.mark.parametrize(
    ("text", "also"),
    [
        ("75ml/3fl oz rapeseed oil", [("3", "floz")]),
        ("1 cup (240 ml) milk", [("240", "mL")]),
        ("2 onions (about 300 g), sliced", [("300", "g")]),
        ("2 onions, about 300 g, sliced", [("300", "g")]),
        ("1kg/2lb 4oz potatoes", [("9/4", "lb")]),
        ("100g/3½oz butter", [("7/2", "oz")]),
        ("1 cup (240 ml/8 fl oz) milk", [("240", "mL"), ("8", "floz")]),
        ("2 onions (the red ones)", []),
    ],
)
def test_other_amounts_are_kept_beside_the_first(text, also):
    line = parse_line(text)
    assert [(str(other.low), other.unit) for other in line.also] == also


@pytest.mark.parametrize(
    ("text", "name", "note", "to_taste", "optional"),
    [
        ("salt to taste", "salt", "", True, False),
        ("Salt and pepper, to taste", "Salt and pepper", "", True, False),
        ("1 tbsp sesame seeds (optional)", "sesame seeds", "", False, True),
        ("Optional: 1 chilli", "chilli", "", False, True),
        ("parsley, chopped, for serving", "parsley", "chopped, for serving", False, False),
        ("butter, for greasing", "butter", "for greasing", False, False),
        ("oil as needed", "oil", "as needed", True, False),
        ("a few sprigs of thyme", "thyme", "a few sprigs of", False, False),
        ("a little oil", "oil", "a little", False, False),
    ],
)
def test_words_about_the_line_become_marks_and_notes(text, name, note, to_taste, optional):
    line = parse_line(text)
    assert (line.name, line.note, line.to_taste, line.optional) == (name, note, to_taste, optional)


@pytest.mark.parametrize(
    ("text", "title"),
    [
        ("For the sauce:", "For the sauce"),
        ("For the sauce", "For the sauce"),
        ("## Topping", "Topping"),
        ("To serve:", "To serve"),
    ],
)
def test_headings(text, title):
    line = parse_line(text)
    assert line.heading
    assert line.name == title


@pytest.mark.parametrize("text", ["For serving, parsley", "200 g flour:", "salt", "For greasing"])
def test_what_only_looks_like_a_heading(text):
    assert not parse_line(text).heading


def test_a_long_text_is_kept_as_it_is():
    prose = "2 eggs " * LONGEST_READ
    assert parse_line(prose).name == prose.strip()


WORDS = st.sampled_from(
    re.findall(
        r"\S+",
        """
        1 2 ½ 1/2 11/2 a half of to - – x × + plus and or ( ) [ ] , ; : / % * cup cups g kg ml tbsp oz fl can tins clove pinch
        onion garlic large chopped finely about each optional to taste juice zest cm piece dozen for the sauce 🍅 خبز
        """,
    )
    + ["\u200f", "\ufeff"]
)


@given(st.lists(WORDS, max_size=14).map(" ".join) | st.lists(WORDS, max_size=14).map("".join))
@example("juice of juice of juice of 1")
@example("1 (1 (1 (1")
@example("1 x 1 x 1 x 1 x 1 g")
def test_kitchen_words_in_any_order_never_break_it(text):
    _is_sound(text)


@given(st.text(max_size=300))
def test_any_text_never_breaks_it(text):
    _is_sound(text)


@pytest.mark.parametrize(
    "text", ["1 " * 5000, "(" * 10000, "🍅" * 10000, "\u202e" * 10000, "1/" * 290, "a " * 299, "juice of " * 66, "½" * 599]
)
def test_hostile_lengths_come_back(text):
    _is_sound(text)


def _is_sound(text):
    line = parse_line(text)
    assert line.text == text
    assert (line.low is None) == (line.high is None)
    assert line.low is None or 0 < line.low <= line.high
    assert line.unit == "" or line.unit in UNITS
    assert line.low is not None or line.name == text.strip() or line.name.strip() or not text.strip()
