"""Recipes that are hard to set, made of one that was published: long ones, bare ones, other scripts, words without an end."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from kitchen.domain.facts import LineFacts, PartFacts, RecipeFacts, StepFacts
from kitchen.page import ReadFacts

ENDLESS = "Kartoffelsuppenwuerzmischungszutatenlistenbeilagenvorschlag"
HEBREW = "מרק עדשים כתומות עם דלעת"
KINDS = [
    "",
    "preheat",
    "brown",
    "brown",
    "brown",
    "come_up",
    "come_up",
    "come_up",
    "hold",
    "hold",
    "release",
    "release",
    "rest",
    "rest",
    "rest",
]


def hostile(facts: ReadFacts) -> Mapping[str, ReadFacts]:
    """Return the recipes by what is hard in them."""
    recipe = facts.recipe
    lines = [line for part in recipe.parts for line in part.lines]
    thirty = [replace(lines[number % len(lines)], text=f"{number}") for number in range(30)]
    step = recipe.steps[0]
    many = [
        replace(step, text=f"{recipe.steps[n % len(recipe.steps)].text} Then go on.", stage=(KINDS + ["hold"] * 3)[n])
        for n in range(18)
    ]
    made = {
        "thirty lines": _with(
            recipe,
            parts=tuple(
                PartFacts(f"The {name}", tuple(thirty[at : at + 10])) for at, name in ((0, "pot"), (10, "breads"), (20, "oil"))
            ),
            steps=tuple(many),
        ),
        "eighteen steps of no stage": _with(recipe, steps=tuple(replace(one, stage="", minutes=None) for one in many)),
        "from right to left": _with(
            recipe,
            title=HEBREW,
            parts=(PartFacts(HEBREW, tuple(replace(line, name=HEBREW, note=HEBREW) for line in lines)),),
            steps=tuple(replace(one, text=f"{HEBREW}. " * 3) for one in recipe.steps),
        ),
        "endless words": _with(
            recipe,
            title=ENDLESS,
            parts=(PartFacts(ENDLESS, tuple(replace(line, name=ENDLESS, note=ENDLESS) for line in lines)),),
            steps=tuple(replace(one, text=f"{ENDLESS} {one.text}") for one in recipe.steps),
        ),
        "one step of two thousand letters": _with(
            recipe, steps=(replace(step, text="Stir and wait a little while. " * 66, stage="hold"),)
        ),
        "long cautions": _with(
            recipe, extra={"own_cautions": "\n".join(f"{n}: never leave this pot alone on the table. " * 5 for n in range(4))}
        ),
        "a title of a hundred letters": _with(
            recipe,
            title="Red lentils and squash and whatever else the van still holds, after the long night of the Perseids in rain",
        ),
    }
    return {**{name: ReadFacts(one, facts.cards) for name, one in made.items()}, **_bare(recipe)}


def _bare(recipe: RecipeFacts) -> dict[str, ReadFacts]:
    """Return recipes that nobody measured: of hardly anything."""
    bare = RecipeFacts(slug=recipe.slug, title="Tea", summary="", servings=recipe.servings, revision=1)
    cards: dict[str, ReadFacts] = {}
    cards["nothing measured"] = ReadFacts(
        _with(
            recipe,
            steps=tuple(
                replace(one, stage=stage, minutes=None)
                for one, stage in zip(recipe.steps, ("", "hold", "", "rest", "", "", ""), strict=True)
            ),
        ),
        {},
    )
    cards["hardly anything"] = ReadFacts(
        replace(bare, parts=(PartFacts("", (LineFacts("tea", name="tea"),)),), steps=(StepFacts("Boil water, pour, wait."),)), {}
    )
    cards["nothing at all"] = ReadFacts(bare, {})
    return cards


def _with(recipe: RecipeFacts, **changed: object) -> RecipeFacts:
    return replace(recipe, **changed)
