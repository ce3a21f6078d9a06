"""Which foods of the reference table carry which allergen: every one of them, gone over by hand."""

import re

import pytest

from kitchen.domain.allergens import ALLERGENS, allergens_of
from kitchen.reference import load_reference

SURE = {
    "wheat": """
        bulgur wheat, burger bun, cake flour, condensed mushroom soup, couscous, cream crackers, crisp chow mein
        noodles, digestive biscuits, dried breadcrumbs, egg noodles, English muffin, farina, filo pastry, flour
        tortilla, gravy powder, hoisin sauce, pasta, pita bread, plain bagel, plain flour, pretzels, ramen noodles,
        self-raising flour, semolina, soba noodles, sourdough bread, soy sauce, strong white flour, teriyaki sauce,
        toasted wheatgerm, wheat bran, white bread, wholemeal bread, wholemeal flour, wholewheat pasta
    """,
    "gluten": """
        beer, bulgur wheat, burger bun, cake flour, condensed mushroom soup, couscous, cream crackers, crisp chow mein
        noodles, digestive biscuits, dried breadcrumbs, egg noodles, English muffin, farina, filo pastry, flour
        tortilla, gravy powder, hoisin sauce, instant oats, oat bran, pasta, pearl barley, pita bread, plain bagel,
        plain flour, pretzels, ramen noodles, rolled oats, rye flour, self-raising flour, semolina, soba noodles,
        sourdough bread, soy sauce, strong white flour, teriyaki sauce, toasted wheatgerm, wheat bran, white bread,
        wholemeal bread, wholemeal flour, wholewheat pasta
    """,
    "crustaceans": """
        prawns, tinned crab
    """,
    "eggs": """
        egg, egg noodles, egg powder, egg white, egg yolk, hard-boiled egg, mayonnaise
    """,
    "fish": """
        anchovies in oil, cod, fish sauce, haddock, halibut, salmon, salt cod, sardines in oil, sockeye salmon, tilapia,
        tinned salmon, trout, tuna in oil, tuna in water, Worcestershire sauce
    """,
    "peanuts": """
        dry-roasted peanuts, groundnut oil, peanut butter, peanuts, trail mix
    """,
    "soya": """
        edamame, firm tofu, hoisin sauce, miso, soy sauce, soya drink, soya flour, tempeh, teriyaki sauce
    """,
    "milk": """
        blue cheese, buttermilk, buttermilk powder, cheddar, condensed milk, condensed mushroom soup, cottage cheese,
        cream cheese, double cream, evaporated milk, fat-free Greek yogurt, feta, firm mozzarella, ghee, gouda, grated
        parmesan, half-and-half, hot chocolate powder, instant skimmed milk powder, low-fat milk, low-fat yogurt, milk
        chocolate, monterey jack, mozzarella, natural yogurt, parmesan, processed cheese, provolone, ricotta, salted
        butter, semi-skimmed milk, single cream, skimmed milk, skimmed milk powder, soft goat cheese, soured cream,
        Swiss cheese, unsalted butter, whole milk, whole milk powder
    """,
    "nuts": """
        almond butter, almond drink, almonds, cashews, hazelnuts, pecans, pistachios, trail mix, walnuts
    """,
    "pine_nuts": """
        pine nuts
    """,
    "celery": """
        celery, celery seed, vegetable juice
    """,
    "mustard": """
        mustard powder, yellow mustard
    """,
    "sesame": """
        hummus, sesame oil, sesame seeds, tahini
    """,
    "sulphites": """
        balsamic vinegar, dried apple, dried apricots, red wine, red wine vinegar, white wine
    """,
    "molluscs": """
        clams, mussels, oyster sauce, scallops, squid
    """,
}
READ_THE_LABEL = {
    "wheat?": """
        baking powder, barbecue sauce, beef dripping, beef jerky, beef stock, beef stock cube, beer, breakfast sausage,
        chicken stock, condensed chicken broth, condensed tomato soup, corn tortilla, frankfurter, Italian sausage,
        mustard powder, onion soup mix, oyster sauce, rice noodles, smoked sausage, stock cube, stock powder, vegetable
        stock, yellow mustard
    """,
    "gluten?": """
        baking powder, barbecue sauce, beef dripping, beef jerky, beef stock, beef stock cube, breakfast sausage,
        chicken stock, condensed chicken broth, condensed tomato soup, corn tortilla, frankfurter, Italian sausage,
        miso, mustard powder, onion soup mix, oyster sauce, rice noodles, smoked sausage, stock cube, stock powder,
        sweet pickle relish, vegetable stock, Worcestershire sauce, yellow mustard
    """,
    "eggs?": """
        burger bun, crisp chow mein noodles, grated parmesan, marshmallows, parmesan, pasta, plain bagel, prepared
        horseradish, provolone, ramen noodles, red wine, white wine
    """,
    "fish?": """
        barbecue sauce
    """,
    "soya?": """
        barbecue sauce, beef jerky, beef stock, beef stock cube, burger bun, chicken stock, chorizo, condensed chicken
        broth, condensed mushroom soup, crisp chow mein noodles, dark chocolate, digestive biscuits, dried breadcrumbs,
        English muffin, frankfurter, gravy powder, hot chocolate powder, margarine, milk chocolate, onion soup mix,
        oyster sauce, ramen noodles, smoked sausage, stock cube, stock powder, trail mix, tuna in oil, tuna in water,
        vegetable oil, vegetable shortening, vegetable stock, white bread, wholemeal bread, Worcestershire sauce
    """,
    "milk?": """
        beef stock cube, burger bun, chorizo, condensed tomato soup, dark chocolate, digestive biscuits, dried
        breadcrumbs, English muffin, frankfurter, gravy powder, instant mashed potato, margarine, onion soup mix,
        pepperoni, prepared horseradish, ramen noodles, red wine, salami, sliced ham, smoked sausage, stock cube, stock
        powder, tomato pasta sauce, trail mix, white bread, white wine, wholemeal bread
    """,
    "nuts?": """
        dark chocolate, milk chocolate
    """,
    "celery?": """
        barbecue sauce, beef stock, beef stock cube, chicken stock, condensed chicken broth, condensed mushroom soup,
        condensed tomato soup, curry powder, frankfurter, gravy powder, ketchup, onion soup mix, ramen noodles, smoked
        sausage, stock cube, stock powder, sweet pickle relish, tomato pasta sauce, vegetable stock
    """,
    "mustard?": """
        barbecue sauce, curry powder, dill pickle, frankfurter, mayonnaise, prepared horseradish, smoked sausage, sweet
        pickle relish
    """,
    "sesame?": """
        burger bun, dried breadcrumbs, hoisin sauce, plain bagel, ramen noodles
    """,
    "sulphites?": """
        beer, breakfast sausage, cider vinegar, coconut milk, desiccated coconut, dill pickle, dried cranberries, dried
        figs, dried mango, instant mashed potato, Italian sausage, molasses, prawns, prepared horseradish, raisins,
        sauerkraut, sriracha, sun-dried tomatoes, sweet pickle relish, sweetened shredded coconut, tinned crab, trail
        mix, yellow mustard
    """,
}
CARRIED = {food.name: allergens_of(food.facts()) or () for food in load_reference()}


def names(text: str) -> set[str]:
    return {name for piece in text.split(",") if (name := " ".join(piece.split()))}


def carriers(key: str) -> set[str]:
    return {food for food, keys in CARRIED.items() if key in keys}


@pytest.mark.parametrize("key", [allergen.key for allergen in ALLERGENS])
def test_exactly_these_foods_are_made_of_it(key):
    assert carriers(key) == names(SURE.get(key, ""))


@pytest.mark.parametrize("key", [f"{allergen.key}?" for allergen in ALLERGENS])
def test_exactly_these_foods_may_hold_it_as_their_label_says(key):
    assert carriers(key) == names(READ_THE_LABEL.get(key, ""))


# Words that a cook would read an allergen from, and the foods that bear such a word and do not hold it.
OBVIOUS = {
    "wheat": (
        r"wheat|plain flour|cake flour|strong .*flour|self-raising|semolina|couscous|bulgur|farina|pasta|spaghetti|macaroni|"
        r"bread|bagel|bun|muffin|pitta?|pretzels?|crackers?|biscuits?|egg noodles?|ramen|soba|filo|soy sauce|teriyaki|hoisin",
        {"buckwheat flour", "buckwheat groats", "tomato pasta sauce", "bicarbonate of soda"},
    ),
    "gluten": (r"wheat|barley|rye|oats?|oatmeal|porridge|beer|lager|stout", {"buckwheat flour", "buckwheat groats"}),
    "crustaceans": (r"prawns?|shrimps?|crab|crabmeat|lobster|crayfish", set()),
    "eggs": (r"eggs?|mayonnaise|mayo", set()),
    "fish": (
        r"fish|cod|haddock|halibut|salmon|tilapia|trout|tuna|sardines?|anchov(?:y|ies)|hake|pollock|bacalao|worcester(?:shire)?",
        set(),
    ),
    "peanuts": (r"peanuts?|groundnut|arachis", set()),
    "soya": (r"soya?|tofu|tempeh|edamame|miso|shoyu|soybean", {"vegetable oil"}),
    "milk": (
        r"milk|buttermilk|cream|butter|ghee|cheese|yogh?urt|cheddar|feta|mozzarella|parmesan|ricotta|gouda|edam|skyr|creme",
        {
            "almond drink",
            "soya drink",
            "coconut milk",
            "almond butter",
            "peanut butter",
            "margarine",
            "cream crackers",
            "cream of tartar",
            "farina",
            "dried butter beans",
            "tinned white beans",
        },
    ),
    "nuts": (
        r"almonds?|cashews?|hazelnuts?|filberts|pecans?|pistachios?|walnuts?|nuts|macadamia|brazil nut",
        {
            "pine nuts",
            "peanuts",
            "dry-roasted peanuts",
        },
    ),
    "pine_nuts": (r"pine nuts|pine kernels|pignoli", set()),
    "celery": (r"celery|celeriac", set()),
    "mustard": (r"mustard", set()),
    "sesame": (r"sesame|tahini|hummus|houmous", set()),
    "sulphites": (r"wine|wine vinegar|balsamic", {"white vinegar"}),
    "lupin": (r"lupins?", set()),
    "molluscs": (r"clams?|mussels?|scallops?|squid|calamari|octopus|oysters?|snails?", set()),
}
# What no word of the name tells: a food made of it all the same.
UNSAID = {
    "wheat": names(
        "cream crackers, dried breadcrumbs, flour tortilla, gravy powder, condensed mushroom soup, crisp chow mein noodles"
    ),
    "soya": names("teriyaki sauce, hoisin sauce"),
    "milk": names(
        "hot chocolate powder, blue cheese, gravy powder, provolone, monterey jack, processed cheese, Swiss cheese, half-and-half"
    ),
    "nuts": {"trail mix"},
    "peanuts": {"trail mix"},
    "celery": {"vegetable juice"},
    "sulphites": names("dried apple, dried apricots"),
}


def words_of_food(food) -> str:
    return "; ".join([food.name, *food.aliases]).lower()


def bearing(key: str) -> set[str]:
    pattern = re.compile(rf"\b(?:{OBVIOUS[key][0]})\b")
    return {food.name for food in load_reference() if pattern.search(words_of_food(food))}


@pytest.mark.parametrize("key", sorted(OBVIOUS))
def test_a_food_whose_name_says_so_carries_it(key):
    assert bearing(key) - carriers(key) - OBVIOUS[key][1] == set()


@pytest.mark.parametrize("key", sorted(set(OBVIOUS) - {"gluten"}))
def test_a_food_that_carries_it_says_so_or_is_named_here(key):
    assert carriers(key) - bearing(key) <= UNSAID.get(key, set())


def test_wheat_is_always_one_of_the_cereals_containing_gluten():
    assert carriers("wheat") < carriers("gluten")
    assert carriers("gluten") - carriers("wheat") == names("beer, instant oats, oat bran, pearl barley, rolled oats, rye flour")


@pytest.mark.parametrize("food", ["desiccated coconut", "sweetened shredded coconut", "coconut oil", "coconut milk", "pine nuts"])
def test_coconut_and_pine_nuts_are_no_nuts_of_the_european_list(food):
    assert "nuts" not in CARRIED[food]
