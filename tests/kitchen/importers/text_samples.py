"""Pasted texts, as people copy them out of messages, books and pages."""

from __future__ import annotations

from dataclasses import replace

from tests.kitchen.importers.sampling import BREAD, CAKE, SOUP, STEW, Sample, Wanted

FACTS = "Serves {0.number}\nPrep {0.prep} min\nCook {0.cook} min\n"


def with_headings(w: Wanted, ingredients: str = "Ingredients", method: str = "Method") -> str:
    return "\n".join([w.title, "", FACTS.format(w), ingredients, *w.lines, "", method, *w.steps])


def numbered(w: Wanted) -> str:
    return "\n".join([w.title, FACTS.format(w), *w.lines, "", *(f"{n}. {text}" for n, text in enumerate(w.steps, 1))])


def paragraphs(w: Wanted) -> str:
    return "\n".join([w.title, "", FACTS.format(w), "\n".join(w.lines), "", "\n\n".join(w.steps)])


PARTED = f"""{STEW.title}
A pot for a wet evening.

{FACTS.format(STEW)}
Ingredients

{STEW.lines[0]}
{STEW.lines[1]}

For the broth:
{STEW.lines[2]}
{STEW.lines[3]}
{STEW.lines[4]}

Directions

1. {STEW.steps[0]}
2. {STEW.steps[1]}
3. {STEW.steps[2]}

Notes
Better the next day.
"""
SAMPLES = [
    Sample("headings", with_headings(STEW), STEW),
    Sample("headings with colons", with_headings(CAKE, "INGREDIENTS:", "DIRECTIONS:"), CAKE),
    Sample("headings marked", with_headings(SOUP, "## Ingredients", "## Preparation"), SOUP),
    Sample("numbered steps, no headings", numbered(STEW), STEW),
    Sample("paragraphs, no headings", paragraphs(CAKE), CAKE),
    Sample("bullets", with_headings(SOUP).replace("\n300 g", "\n• 300 g").replace("\n1 onion", "\n- 1 onion"), SOUP),
    Sample("Windows lines", with_headings(BREAD).replace("\n", "\r\n"), BREAD),
    Sample("odd spaces", with_headings(BREAD).replace(" ", "\u00a0"), BREAD),
    Sample("parts and notes", PARTED, STEW, parts=("", "For the broth")),
    Sample("blank lines everywhere", with_headings(CAKE).replace("\n", "\n\n"), CAKE),
    Sample("steps that run on", numbered(SOUP).replace("; boil", ";\nboil"), SOUP),
    Sample(
        "facts in one line",
        with_headings(STEW).replace("Serves 4\nPrep 15 min\nCook 45 min", "Serves 4 | Prep 15 min | Cook 45 min"),
        STEW,
    ),
    Sample(
        "no facts",
        with_headings(CAKE).replace(FACTS.format(CAKE), ""),
        replace(CAKE, number=None, prep=None, cook=None, total=None),
    ),
    Sample("a text file", paragraphs(SOUP).encode(), SOUP),
]
