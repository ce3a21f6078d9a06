"""The recipe as linked data (schema.org Recipe, in JSON-LD), for search engines and other programs."""

from __future__ import annotations

import json
from decimal import Decimal
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from kitchen.domain.courses import course_of, cuisine_of
from kitchen.domain.films import Chapter
from kitchen.domain.licences import LICENCES
from kitchen.domain.nutrition import sodium_mg
from kitchen.domain.pictures import search_pictures
from kitchen.page import NumberedStep, Page, PageFrame, StageBlock

_FILM_FILES = (".mp4", ".webm", ".ogv", ".mov", ".m4v")
LONGEST_NAME = 110  # letters of a step: what is longer is its text

# What could end a script element, open a comment in one, or end a line in old JavaScript, spelled so that JSON reads the same.
_SPELLED = {ord("<"): "\\u003C", ord(">"): "\\u003E", ord("&"): "\\u0026", 0x2028: "\\u2028", 0x2029: "\\u2029"}


def recipe_jsonld(page: Page, frame: PageFrame, *, photo_root: str) -> SafeString:
    """Return the recipe as JSON text that is safe inside a script element; ``photo_root`` is the whole address of the photos."""
    held = recipe_linked(page, frame, photo_root=photo_root)
    return mark_safe(json.dumps(held, ensure_ascii=False).translate(_SPELLED))


def recipe_linked(page: Page, frame: PageFrame, *, photo_root: str) -> dict[str, Any]:
    """Return the properties of the recipe that are known."""
    return {key: value for key, value in _recipe(page, frame, photo_root).items() if value not in ("", None, [])}


def _recipe(page: Page, frame: PageFrame, photo_root: str) -> dict[str, Any]:
    recipe, servings = page.recipe, page.request.servings
    return {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": recipe.title,
        "description": recipe.summary,
        "url": frame.address,
        "mainEntityOfPage": frame.home,
        "author": {"@type": "Person", "name": recipe.author} if recipe.author else None,
        "image": _images(page, frame, photo_root),
        "keywords": ", ".join(recipe.tags),
        "recipeCategory": course_of(recipe.tags),
        "recipeCuisine": cuisine_of(recipe.tags),
        "recipeYield": [str(servings), f"{servings} serving{'' if servings == 1 else 's'}"],
        "recipeIngredient": [line_words(line) for part in page.parts for line in part.lines],
        "recipeInstructions": _instructions(page.stages, frame, photo_root),
        "nutrition": _nutrition(page),
        "prepTime": iso_minutes(page.prep_min),
        "totalTime": iso_minutes(page.whole_min),
        "cookTime": iso_minutes(page.figures.get("cooking_min")),
        "video": _film(page, frame, photo_root),
        "license": LICENCES.get(frame.licence),
        "datePublished": frame.first_published_at.date().isoformat() if frame.first_published_at else None,
        "dateModified": frame.published_at.isoformat() if frame.published_at else None,
        **page.linked,
    }


def _images(page: Page, frame: PageFrame, photo_root: str) -> list[str]:
    """Return the photo in three shapes; without one the pictures of the figures."""
    if page.recipe.photo:
        return [photo_root + name for name in search_pictures(page.recipe.photo)]
    return [frame.address + one.place for one in page.pictures] if frame.address else []


def _film(page: Page, frame: PageFrame, photo_root: str) -> dict[str, Any] | None:
    """Return the film with its chapters, each by the moment in its address (W3C Media Fragments URI 1.0)."""
    film = frame.film
    if film is None:
        return None
    is_file = film.address.partition("?")[0].lower().endswith(_FILM_FILES)
    told = {
        "@type": "VideoObject",
        "name": page.recipe.title,
        "description": page.recipe.summary or page.recipe.title,
        "thumbnailUrl": _images(page, frame, photo_root),
        "uploadDate": film.day.isoformat() if film.day else "",
        "contentUrl" if is_file else "url": film.address,
        "duration": f"PT{film.length_s}S" if film.length_s else "",
        "hasPart": [_clip(chapter, film.address) for chapter in film.chapters],
    }
    return {key: value for key, value in told.items() if value not in ("", [])}


def _clip(chapter: Chapter, film: str) -> dict[str, Any]:
    told = {"@type": "Clip", "name": chapter.words, "startOffset": chapter.from_s}
    told |= {} if chapter.to_s is None else {"endOffset": chapter.to_s}
    return {**told, "url": f"{film.partition('#')[0]}#t={chapter.from_s}"}


_SPELLED_NUTRIENTS = {
    "protein_g": "proteinContent",
    "fat_g": "fatContent",
    "saturated_fat_g": "saturatedFatContent",
    "carbohydrate_g": "carbohydrateContent",
    "fibre_g": "fiberContent",
    "sugars_g": "sugarContent",
}


def _nutrition(page: Page) -> dict[str, str] | None:
    """Return the estimate for one serving; nothing where a line with mass is missing, and no figure that is "at least" only."""
    held = page.recipe.nutrition
    if held is None or page.nutrition is None or not page.nutrition.whole:
        return None
    size = float(page.request.portion)
    known = {name: getattr(held, name) for name in _SPELLED_NUTRIENTS if name not in held.at_least}
    told = {"@type": "NutritionInformation", "servingSize": "1 serving", "calories": f"{held.energy_kcal * size:.0f} kcal"}
    told |= {_SPELLED_NUTRIENTS[name]: f"{value * size:.1f} g" for name, value in known.items() if value is not None}
    if "salt_g" not in held.at_least:
        told["sodiumContent"] = f"{sodium_mg(held.salt_g) * size:.0f} mg"
    return told


def line_words(line: Any) -> str:
    """Return a shown line as one plain sentence part."""
    return " ".join(filter(None, (line.amount, line.words))) + (f", {line.note}" if line.note else "")


def _instructions(stages: tuple[StageBlock, ...], frame: PageFrame, photo_root: str) -> list[dict[str, Any]]:
    """Return the steps; where the method has stages, each stage is a section of its steps."""
    told: list[dict[str, Any]] = []
    for stage in stages:
        steps = [_step(step, frame, photo_root) for step in stage.steps]
        if stage.kind:
            told.append({"@type": "HowToSection", "name": stage.label.capitalize(), "itemListElement": steps})
        else:
            told += steps
    return told


def _step(step: NumberedStep, frame: PageFrame, photo_root: str) -> dict[str, Any]:
    """Return a step: its first sentence where there are more, its words, where it stands on the page, its photo."""
    first, stop, rest = step.text.partition(". ")
    held = {
        "@type": "HowToStep",
        "position": step.number,
        "name": first if stop and rest.strip() and len(first) <= LONGEST_NAME else "",
        "text": f"{step.text} ({step.temperature})" if step.temperature else step.text,
        "url": f"{frame.address}#step-{step.number}" if frame.address else "",
        "image": photo_root + step.photo.wide if step.photo else "",
    }
    return {key: value for key, value in held.items() if value != ""}


def iso_minutes(minutes: Decimal | None) -> str | None:
    """Return whole minutes as an ISO 8601 duration ("PT1H15M"); None where there are none."""
    if minutes is None or round(minutes) < 1:
        return None
    hours, rest = divmod(round(minutes), 60)
    return "PT" + (f"{hours}H" if hours else "") + (f"{rest}M" if rest else "")
