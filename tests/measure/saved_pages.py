"""Measure the import of saved pages, and print it as a table: pages, seconds, milliseconds a page, peak memory.

    .venv/bin/python -m tests.measure.saved_pages           200 pages made here, of the size and noise of real ones
    .venv/bin/python -m tests.measure.saved_pages FOLDER    the pages in a folder instead

Nothing here judges: the figures depend on the computer.
"""

from __future__ import annotations

import json
import random
import resource
import statistics
import sys
import time
import tracemalloc
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from kitchen.importers import UnreadableRecipe, read_file

PAGES = 200
FOODS = [
    "red lentils",
    "onions",
    "rolled oats",
    "barley",
    "carrots",
    "olive oil",
    "stock",
    "potatoes",
    "butter",
    "flour",
    "leeks",
    "mushrooms",
    "beans",
    "rice",
]
MEASURES = ("200 g", "2", "1 1/2 cups", "3 tbsp", "½ tsp", "400 ml", "1 (400 g) tin of")
DOINGS = (
    "Warm the oil and add the onions.",
    "Stir in the rest.",
    "Simmer for 20 minutes.",
    "Rest it under the lid.",
    "Season and serve.",
)
KINDS = ("linked", "graph", "microdata", "headings")


def main() -> int:
    """Make the pages or take them from a folder, read each once, and print what that took."""
    pages = from_folder(Path(sys.argv[1])) if len(sys.argv) > 1 else [made_page(number) for number in range(PAGES)]
    if not pages:
        print("There are no files in this folder.")
        return 1
    spans, unread = timed(pages)
    before_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    rows = [
        ("pages", f"{len(pages)}, {sum(map(len, pages)) / 1e6:.1f} MB in all, {len(pages[0]) // 1024} kB the first"),
        ("read", f"{len(pages) - unread}, {unread} without a recipe"),
        ("together", f"{sum(spans):.2f} s of computing"),
        ("a page", f"{statistics.mean(spans) * 1000:.1f} ms ({max(spans) * 1000:.0f} at most)"),
        ("peak memory for one page", f"{max(peak_mb(page) for page in sample(pages)):.1f} MB of its own"),
        ("the whole process at most", f"{before_mb:.0f} MB, all pages held"),
    ]
    for words, figure in rows:
        print(f"  {words:<28} {figure}")
    return 0


def from_folder(folder: Path) -> list[bytes]:
    """Return the files of a folder, whatever they are."""
    return [path.read_bytes() for path in sorted(folder.iterdir()) if path.is_file()]


def timed(pages: list[bytes]) -> tuple[list[float], int]:
    """Return how long each page takes, and how many held no recipe."""
    spans, unread = [], 0
    for page in pages:
        began = time.process_time()
        try:
            read_file(page)
        except UnreadableRecipe:
            unread += 1
        spans.append(time.process_time() - began)
    return spans, unread


def sample(pages: list[bytes]) -> Iterator[bytes]:
    """Yield the largest pages: those that memory is measured on, since that takes a while."""
    yield from sorted(pages, key=len, reverse=True)[:10]


def peak_mb(page: bytes) -> float:
    """Return how much memory reading one page takes at most."""
    tracemalloc.start()
    with suppress(UnreadableRecipe):
        read_file(page)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 1e6


def made_page(number: int) -> bytes:
    """Return one page: a recipe in one of four shapes, amid the styles, programs, menus and comments that pages have."""
    chance = random.Random(number)
    lines = [f"{chance.choice(MEASURES)} {food}" for food in chance.sample(FOODS, chance.randint(5, 12))]
    steps = [chance.choice(DOINGS) for _ in range(chance.randint(3, 9))]
    title = f"Pot number {number}"
    noise = "".join(
        f"<div class='box b{place}'><a href='/{place}'>more</a><span>words {place}</span></div>"
        for place in range(chance.randint(500, 3000))
    )
    program = "var settings = {};" + "settings.x = '<div>';" * chance.randint(200, 4000)
    head = f"<title>{title} | The mill</title><style>{'.a{color:red}' * 500}</style><script>{program}</script>"
    kind = KINDS[number % len(KINDS)]
    body = f"{noise}{recipe_in(kind, title, lines, steps)}{noise}"
    return f"<!doctype html><html><head><meta charset=utf-8>{head}</head><body>{body}</body></html>".encode()


def recipe_in(kind: str, title: str, lines: list[str], steps: list[str]) -> str:
    """Return a recipe as one of the shapes that pages give it."""
    if kind in ("linked", "graph"):
        node = {"@type": "Recipe", "name": title, "recipeIngredient": lines, "recipeInstructions": steps}
        node |= {"recipeYield": "4", "cookTime": "PT30M"}
        data = node if kind == "linked" else {"@graph": [{"@type": "WebPage"}, node]}
        return f'<h1>{title}</h1><script type="application/ld+json">{json.dumps(data)}</script>'
    marked = kind == "microdata"
    line, step = (" itemprop=recipeIngredient", " itemprop=recipeInstructions") if marked else ("", "")
    items = "".join(f"<li{line}>{text}" for text in lines)
    told = "".join(f"<li{step}>{text}" for text in steps)
    scope = " itemscope itemtype=http://schema.org/Recipe" if marked else ""
    lists = f"<h2>Ingredients</h2><ul>{items}</ul><h2>Method</h2><ol>{told}</ol><h2>Notes</h2>"
    return f"<div{scope}><h1 itemprop=name>{title}</h1>{lists}</div>"


if __name__ == "__main__":
    sys.exit(main())
