"""Many recipes in an otherwise empty database, made from the example's editions, and what searching them takes.

Run by ``tests/measure/library.py`` in a database of its own; it refuses one that holds recipes which are not the example's.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from collections.abc import Callable, Iterator
from decimal import Decimal
from itertools import cycle, islice
from typing import Any

import django

django.setup()

from django.db import connection, transaction
from django.test import Client
from django.utils import timezone

from kitchen.domain.search import fold, shelf_words
from kitchen.models import Edition, Figure, Food, Recipe, Revision, ShelfWord
from kitchen.queries import ShelfAsk, shelf, shelf_plates

BATCH = 500
TIMES = 15
A_PAGE = 24
SEARCHES: tuple[tuple[str, str, ShelfAsk], ...] = (
    ("everything, by title", "/", ShelfAsk()),
    ("one common word", "/?q=onion", ShelfAsk(words="onion")),
    ("one rare word", "/?q=okra", ShelfAsk(words="okra")),
    ("three words", "/?q=red+lentils+pot", ShelfAsk(words="red lentils pot")),
    ("one letter", "/?q=s", ShelfAsk(words="s")),
    ("three letters that begin many words", "/?q=pot", ShelfAsk(words="pot")),
    ("nothing fits", "/?q=zzz", ShelfAsk(words="zzz")),
    ("least energy first", "/?sort=energy_per_serving_wh", ShelfAsk(sort="energy_per_serving_wh")),
    ("newest first, with a word", "/?q=onion&sort=newest", ShelfAsk(words="onion", sort="newest")),
    (
        "a word, two limits, quickest",
        "/?q=onion&wh=60&minutes=60&sort=total_min",
        ShelfAsk(words="onion", sort="total_min", at_most={"energy_per_serving_wh": Decimal(60), "total_min": Decimal(60)}),
    ),
)


def main() -> None:
    """Make the rows, then search them and print what it took."""
    make_recipes(int(sys.argv[1]))
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE" if connection.vendor == "sqlite" else "VACUUM ANALYZE")  # as the server does by itself in time
    print(f"  {'':<36} {'found':>7} {'questions to the database':>28} {'whole page':>24}")
    client = Client(headers={"host": "localhost"})
    for words, address, ask in SEARCHES:
        found = shelf(ask).count()
        asked, page = timed(lambda ask=ask: answer(ask)), timed(lambda address=address: client.get(address))
        print(f"  {words:<36} {found:>7} {asked:>28} {page:>24}", flush=True)


def answer(ask: ShelfAsk) -> None:
    """Ask what a page of the library asks: how many there are, which come first, and their plates."""
    found = shelf(ask)
    if found.count():
        shelf_plates(list(found[:A_PAGE]))


def timed(work: Callable[[], Any]) -> str:
    """Return the median and the longest of some times, after one that does not count."""
    work()
    spans = []
    for _ in range(TIMES):
        began = time.perf_counter()
        work()
        spans.append((time.perf_counter() - began) * 1000)
    return f"{statistics.median(spans):.1f} ms ({max(spans):.1f} at most)"


def make_recipes(number: int) -> None:
    """Put so many recipes beside the example's own, each published once."""
    patterns = list(Recipe.objects.filter(current_edition__isnull=False).select_related("current_edition"))
    if not 0 < len(patterns) == Recipe.objects.count() < 50:
        sys.exit("This database holds recipes of yours. Measure in an empty one.")
    foods = list(Food.objects.values_list("name", flat=True))
    chance = random.Random(20_000)
    places = zip(range(number), cycle(patterns))
    while some := list(islice(places, BATCH)):
        with transaction.atomic():
            write_batch(some, foods, chance)


def write_batch(places: list[tuple[int, Recipe]], foods: list[str], chance: random.Random) -> None:
    """Write some recipes, each with a revision, an edition, its words and its figures."""
    now = timezone.now()
    facts = [varied(pattern, foods, chance) for _, pattern in places]
    recipes = Recipe.objects.bulk_create(
        Recipe(
            slug=f"made-{place}", title=each["title"], owner_id=pattern.owner_id, shelf_title=fold(each["title"])[:130],
            created_at=now, updated_at=now,
        )
        for (place, pattern), each in zip(places, facts, strict=True)
    )  # fmt: skip
    revisions = Revision.objects.bulk_create(
        Revision(recipe=recipe, number=1, servings=4, created_at=now, locked_at=now) for recipe in recipes
    )
    editions = Edition.objects.bulk_create(
        edition_like(pattern, each, revision, now) for (_, pattern), each, revision in zip(places, facts, revisions, strict=True)
    )
    for recipe, edition in zip(recipes, editions, strict=True):
        recipe.current_edition = edition
    Recipe.objects.bulk_update(recipes, ["current_edition"])
    ShelfWord.objects.bulk_create(
        ShelfWord(recipe=recipe, word=word) for recipe, each in zip(recipes, facts, strict=True) for word in words_of(each)
    )
    Figure.objects.bulk_create(figures(recipes, chance))


def varied(pattern: Recipe, foods: list[str], chance: random.Random) -> dict[str, Any]:
    """Return the pattern's recipe with a title of its own and other ingredients."""
    shown: dict[str, Any] = pattern.current_edition.facts["recipe"]
    names = chance.sample(foods, 10)
    lines = [{**line, "name": name} for line, name in zip(cycle(shown["parts"][0]["lines"]), names)]
    return {
        **shown,
        "title": f"{names[0]} and {names[1]} {chance.choice(['pot', 'soup', 'bake'])}",
        "parts": [{"title": "", "lines": lines}],
    }


def words_of(shown: dict[str, Any]) -> list[str]:
    """Return the words by which it is found."""
    return shelf_words([shown["title"], shown["summary"], *shown["tags"], *(line["name"] for line in shown["parts"][0]["lines"])])


def edition_like(pattern: Recipe, shown: dict[str, Any], revision: Revision, now: Any) -> Edition:
    """Return an edition of the pattern's size and figures with this recipe in it."""
    held = pattern.current_edition
    plate = {**held.plate, "title": shown["title"]}
    facts = {**held.facts, "recipe": shown}
    return Edition(
        recipe=revision.recipe, revision=revision, number=1, published_at=now, facts=facts, headlines=held.headlines,
        plate=plate, digest="0" * 64,
    )  # fmt: skip


def figures(recipes: list[Recipe], chance: random.Random) -> Iterator[Figure]:
    """Yield the figures that the library sorts and limits by."""
    ranges = {"energy_per_serving_wh": (20, 300), "total_min": (5, 240), "cost_per_serving": (1, 6), "peak_w": (200, 2000)}
    for recipe in recipes:
        for name, (low, high) in ranges.items():
            yield Figure(recipe=recipe, name=name, value=Decimal(chance.randint(100 * low, 100 * high)) / 100)


if __name__ == "__main__":
    main()
