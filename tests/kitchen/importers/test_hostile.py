"""Whatever comes in, the importers answer in bounded time, with a recipe or with a sentence."""

import random
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.importers import ReadPage, UnreadableRecipe, read_file, read_typed
from tests.kitchen.importers.linked_samples import SAMPLES as LINKED
from tests.kitchen.importers.marked_samples import SAMPLES as MARKED
from tests.kitchen.importers.text_samples import SAMPLES as TEXTS

MB = 1024 * 1024
SAMPLES = [sample.document for sample in (*LINKED, *MARKED, *TEXTS)]
# Seconds that no file may take, however busy the computer is; a quadratic reader takes hours for these.
PATIENCE_S = 90


def outcome(read, given_):
    """Return what came of reading: a page, or the sentence that says why there is none."""
    try:
        page = read(given_)
    except UnreadableRecipe as reason:
        return str(reason)
    assert isinstance(page, ReadPage)
    page.recipe.title.encode()
    "".join(page.recipe.lines).encode()
    return page


@given(st.binary(max_size=2000))
def test_random_bytes_are_answered(data):
    outcome(read_file, data)


@given(st.text(max_size=1500))
def test_random_text_is_answered(text):
    outcome(read_typed, text)


PIECES = (
    *["{", "}", "[", "]", '"', ",", ":", "&quot;", "<li>", '"@type"', '"Recipe"', '"name"', "</script>"],
    *('<script type="application/ld+json">', "\\", "\n", "1 egg", "<div itemscope itemtype=schema.org/Recipe>", "Ingredients"),
)


@given(st.lists(st.sampled_from(PIECES), max_size=80))
def test_pieces_of_pages_in_any_order_are_answered(pieces):
    outcome(read_typed, " ".join(pieces))


@pytest.mark.parametrize("seed", range(30))
def test_damaged_samples_are_answered(seed):
    chance = random.Random(seed)
    for document in chance.sample(SAMPLES, 12):
        data = bytearray(document if isinstance(document, bytes) else document.encode())
        for _ in range(chance.randint(1, 40)):
            place = chance.randrange(len(data))
            data[place : place + chance.randint(0, 12)] = bytes(
                chance.choices(b'<>"{}[],:\\&;\0\xff\n ab', k=chance.randint(0, 8))
            )
        outcome(read_file, bytes(data))


NESTED = {
    "lists": '{"@type": "Recipe", "name": "x", "recipeInstructions": ' + "[" * 100_000 + "]" * 100_000 + "}",
    "objects": '{"@type": "Recipe", "recipeIngredient": ["1 egg"], "x": ' + '{"a": ' * 100_000,
    "a script": '<html><script type="application/ld+json">' + '[{"a":' * 50_000 + "</script>",
}


@pytest.mark.parametrize("name", NESTED)
def test_data_nested_without_end_is_refused_in_plain_words(name):
    assert "nested" in outcome(read_typed, NESTED[name])


def test_steps_nested_deeper_than_anybody_writes_are_left_alone():
    steps = '{"itemListElement": [' * 150 + '{"text": "Stir."}' + "]}" * 150
    page = outcome(
        read_typed, f'{{"@type": "Recipe", "name": "x", "recipeIngredient": ["1 egg"], "recipeInstructions": {steps}}}'
    )
    assert page.recipe.lines == ("1 egg",)
    assert page.recipe.steps == ()


HEAVY_MB = 4  # of the ten that fit: what is told apart is a reader that takes hours
HEAVY = {
    "signs": "<",
    "comments never closed": "<!--",
    "tags never closed": "<a ",
    "attributes never closed": "<b title='",
    "boxes inside each other": "<div class=ingredient>",
    "items": "<li>1 egg",
    "headings": "<h2>Ingredients</h2>",
    "nested recipes": "<div itemscope itemtype=http://schema.org/Recipe itemprop=name itemref=a id=a>",
    "scripts": "<script type=application/ld+json>{",
    "entities": "&amp;",
    "lines": "1 egg\n",
    "numbers": "1. Stir. 2. Eat. ",
}


@pytest.mark.parametrize("name", HEAVY)
def test_megabytes_of_anything_take_bounded_time(name):
    piece = HEAVY[name]
    text = ("<html><body><h1>x</h1>" + piece * (HEAVY_MB * MB // len(piece)))[: HEAVY_MB * MB]
    began = time.perf_counter()
    outcome(read_typed, text)
    assert time.perf_counter() - began < PATIENCE_S


def test_a_list_of_a_million_lines_is_cut_not_swallowed_whole():
    text = '{"@type": "Recipe", "name": "x", "recipeIngredient": [' + '"1 egg",' * 1_000_000 + '"1 egg"]}'
    page = outcome(read_typed, text)
    assert 100 < len(page.recipe.lines) <= 1000


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b"   \n ", "empty"),
        (b"%PDF-1.7 ...", "PDF"),
        (b"PK\x03\x04....", "packed"),
        (b"\x89PNG\r\n\x1a\n", "picture"),
        (b"\x00\x01\x02\x03" * 40, "not text"),
        (b"x" * (10 * MB + 1), "10 MB fit"),
        (b"MIME-Version: 1.0\nContent-Type: multipart/related;\n", "HTML only"),
        (b'{"a": 1}', "holds no recipe"),
        (b"<html><p>Hello</p></html>", "No recipe was found"),
        (b"Just a few words.", "No recipe was found"),
    ],
)
def test_what_is_no_recipe_is_answered_in_plain_words(data, words):
    assert words in outcome(read_file, data)
