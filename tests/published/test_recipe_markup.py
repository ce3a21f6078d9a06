"""Recipe markup against its publications: the vocabulary, the ways to embed it, and the notation of durations.

Sources: schema.org release 28.1 (its number from memory), type Recipe and its supertypes; W3C Recommendation "JSON-LD 1.1"
(2020); WHATWG HTML Living Standard, section "Microdata"; W3C Recommendation "RDFa Lite 1.1" (2012); microformats2 h-recipe;
ISO 8601-1:2019, section 5.5.2, for durations. Names, types and rules as published, from memory where no copy was at hand.
"""

import json

import pytest

from kitchen.importers import read_typed
from kitchen.importers.durations import read_minutes


def read(**properties):
    """Return a recipe of schema.org's properties."""
    node = {"@context": "https://schema.org", "@type": "Recipe", "name": "Pan", "recipeIngredient": ["1 egg"], **properties}
    return read_typed(json.dumps(node)).recipe


def test_each_property_of_the_type_recipe_that_a_draft_can_use():
    recipe = read(
        description="A pan for two.",
        author={"@type": "Person", "name": "Ada Mill"},
        datePublished="2024-05-06T07:08:09+02:00",
        prepTime="PT5M",
        cookTime="PT10M",
        totalTime="PT20M",
        recipeYield="2 servings",
        recipeCategory="supper",
        recipeCuisine="Nordic",
        keywords="eggs, pan",
        recipeInstructions="Fry it.",
        url="https://mill.example/pan",
        image="https://mill.example/pan.jpg",
    )
    assert (recipe.title, recipe.summary, recipe.author, recipe.published) == ("Pan", "A pan for two.", "Ada Mill", "2024-05-06")
    assert (recipe.times.prep_min, recipe.times.cook_min, recipe.times.total_min, recipe.times.summed) == (5, 10, 20, False)
    assert (recipe.makes.number, recipe.makes.words) == (2, "2 servings")
    assert recipe.tags == ("supper", "nordic", "eggs", "pan")
    assert [step.text for step in recipe.steps] == ["Fry it."]
    assert (recipe.home_url, recipe.image_url) == ("https://mill.example/pan", "https://mill.example/pan.jpg")


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("recipeIngredient", ["2 eggs", "salt"]),
        ("ingredients", ["2 eggs", "salt"]),  # superseded by recipeIngredient
        (
            "supply",
            [{"@type": "HowToSupply", "name": "2 eggs"}, {"@type": "HowToSupply", "name": "salt"}],
        ),  # of HowTo, a supertype
    ],
)
def test_ingredients_under_each_of_their_names(name, said):
    node = {"@type": "Recipe", "name": "Pan", name: said}
    assert read_typed(json.dumps(node)).recipe.lines == ("2 eggs", "salt")


@pytest.mark.parametrize(
    "said",
    [
        "Beat.\nFry.",  # Text
        {"@type": "ItemList", "itemListElement": ["Beat.", "Fry."]},
        {
            "@type": "ItemList",
            "itemListElement": [{"@type": "HowToStep", "text": "Beat."}, {"@type": "HowToStep", "text": "Fry."}],
        },
        [{"@type": "HowToStep", "itemListElement": {"@type": "HowToDirection", "text": word}} for word in ("Beat.", "Fry.")],
        [
            {
                "@type": "HowToSection",
                "name": "All",
                "itemListElement": [{"@type": "HowToStep", "text": word} for word in ("Beat.", "Fry.")],
            }
        ],
        [{"@type": "CreativeWork", "text": "Beat."}, {"@type": "CreativeWork", "text": "Fry."}],
    ],
)
def test_instructions_of_each_expected_type(said):
    assert [step.text for step in read(recipeInstructions=said).steps] == ["Beat.", "Fry."]


def test_a_tip_stays_with_the_step_that_it_belongs_to():
    inner = [{"@type": "HowToDirection", "text": "Beat the egg."}, {"@type": "HowToTip", "text": "A fork does."}]
    step = {"@type": "HowToStep", "itemListElement": inner}
    assert [each.text for each in read(recipeInstructions=[step, {"text": "Fry."}]).steps] == [
        "Beat the egg. A fork does.",
        "Fry.",
    ]


@pytest.mark.parametrize(
    ("said", "number"),
    [
        ("4", 4),
        (4, 4),
        ({"@type": "QuantitativeValue", "value": 4}, 4),
        ({"@type": "QuantitativeValue", "value": 4, "unitText": "bowls"}, 4),
    ],
)
def test_yield_as_text_or_quantitative_value(said, number):
    assert read(recipeYield=said).makes.number == number


@pytest.mark.parametrize(
    "kind", ["Recipe", ["Recipe"], ["Thing", "Recipe"], "http://schema.org/Recipe", "https://schema.org/Recipe", "schema:Recipe"]
)
def test_a_type_by_term_by_address_or_among_others_as_json_ld_allows(kind):
    assert read(**{"@type": kind}).title == "Pan"


def test_nodes_may_stand_in_a_graph_and_name_each_other():
    graph = [
        {"@id": "https://mill.example/#ada", "@type": "Person", "name": "Ada"},
        {
            "@id": "#r",
            "@type": "Recipe",
            "name": "Pan",
            "recipeIngredient": "1 egg",
            "author": {"@id": "https://mill.example/#ada"},
        },
    ]
    recipe = read_typed(json.dumps({"@context": "https://schema.org", "@graph": graph})).recipe
    assert (recipe.title, recipe.author, recipe.lines) == ("Pan", "Ada", ("1 egg",))


def test_microdata_takes_content_datetime_text_and_nested_items():
    page = """<div itemscope itemtype="https://schema.org/Recipe"><h1 itemprop="name">Pan</h1>
    <meta itemprop="recipeYield" content="2"><time itemprop="cookTime" datetime="PT1H">one hour</time>
    <span itemprop="author" itemscope itemtype="https://schema.org/Person"><a itemprop="name" href="/ada">Ada</a></span>
    <p itemprop="recipeIngredient">1 egg<p itemprop="recipeIngredient">salt<p itemprop="recipeInstructions">Fry.</div>"""
    recipe = read_typed(page).recipe
    assert (recipe.title, recipe.author, recipe.makes.number, recipe.times.cook_min) == ("Pan", "Ada", 2, 60)
    assert (recipe.lines, [step.text for step in recipe.steps]) == (("1 egg", "salt"), ["Fry."])


def test_rdfa_lite_by_vocab_typeof_property_and_content():
    page = """<div vocab="https://schema.org/" typeof="Recipe"><span property="name">Pan</span>
    <span property="recipeYield" content="2">two</span><li property="recipeIngredient">1 egg</li>
    <p property="recipeInstructions">Fry.</p></div>"""
    recipe = read_typed(page).recipe
    assert (recipe.title, recipe.makes.number, recipe.lines) == ("Pan", 2, ("1 egg",))


def test_h_recipe_by_its_classes():
    page = """<article class="h-recipe"><h1 class="p-name">Pan</h1><p class="p-yield">2 servings</p>
    <p class="p-ingredient">1 egg</p><time class="dt-duration" datetime="PT15M">15 min</time>
    <div class="e-instructions"><p>Fry.</p></div>
    </article>"""
    recipe = read_typed(page).recipe
    assert (recipe.title, recipe.makes.number, recipe.lines, recipe.times.total_min) == ("Pan", 2, ("1 egg",), 15)


@pytest.mark.parametrize(
    ("duration", "minutes"),
    [
        ("PT30M", 30),
        ("PT1H", 60),
        ("PT1H30M", 90),
        ("PT90M", 90),
        ("P1D", 1440),
        ("P1DT12H", 2160),
        ("P1W", 10080),
        ("PT0.5H", 30),
        ("PT0,5H", 30),
        ("PT1H30M45S", 91),
        ("P0Y0M0DT0H35M0S", 35),
    ],
)
def test_durations_in_the_notation_of_iso_8601(duration, minutes):
    assert read_minutes(duration) == minutes


def test_what_this_program_publishes_it_reads_again():
    from kitchen.publish.jsonld import iso_minutes

    for minutes in (1, 59, 60, 61, 75, 600, 1441):
        assert read_minutes(iso_minutes(minutes)) == minutes
