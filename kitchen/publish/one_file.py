"""A recipe or a collection as one HTML file: style and photos are in it, it asks for nothing, and any phone opens it."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from pathlib import Path

from django.conf import settings
from django.contrib.staticfiles import finders
from django.template.loader import render_to_string
from django.utils.html import escape

from kitchen.domain.pictures import further_files
from kitchen.gathering import Gathered, Gathering
from kitchen.page import Page
from kitchen.publish.copies import article
from kitchen.publish.sharing import SharedPicture

_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"


def one_file(title: str, found: Gathering, *, summary: str = "", alone: bool = False) -> str:
    """Return the file: what all of it takes and a list that leads to each recipe, unless there is one ``alone``."""
    context = {"title": title, "summary": summary, "gathering": found, "alone": alone, "recipes": _told(found.each_size)}
    context["more"] = list(dict.fromkeys(one.words for dish in found.dishes for one in dish.page.folded_cautions))
    body = render_to_string("kitchen/one-file/body.html", context)
    style = Path(str(finders.find("css/one-file.css"))).read_text("utf-8")
    return (
        f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>{escape(title)}</title>'
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark">'
        f"<style>{style}</style></head><body>{body}</body></html>\n"
    )


def _told(dishes: Sequence[Gathered]) -> list[tuple[Gathered, str]]:
    return [(dish, article(dish.page, dish.frame, _photo(dish.page))) for dish in dishes]


def _photo(page: Page) -> SharedPicture | None:
    """Return the recipe's photo as it goes into the file, in its smallest landscape; None where there is none."""
    photo = page.recipe.photo
    if photo is None:
        return None
    name = next((name for name, _ in further_files(photo.crops, "16x9", "jpg")), photo.small)
    try:
        content = (Path(settings.MEDIA_ROOT) / Path(name).name).read_bytes()
    except OSError:
        return None
    kind = "image/webp" if name.endswith(".webp") else "image/jpeg"
    return SharedPicture(f"data:{kind};base64,{base64.b64encode(content).decode()}", 0, 0, photo.alt, kind)
