"""Draw a photo (the crop that fits its place, in the formats and widths among which a browser chooses) and the band beneath."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django import template
from django.conf import settings

from kitchen.domain.band import HOUR_S, Band, DrawnBand, draw_band, shelf_top_w
from kitchen.domain.facts import PhotoFacts
from kitchen.domain.pictures import further_files

register = template.Library()


@dataclass(frozen=True)
class Place:
    """Where a picture stands: the parts shown there by screen width, how wide they are drawn, and whether it can wait."""

    parts: tuple[tuple[str, str, str], ...]
    fallback: str
    lazy: bool = True
    kind: str = ""


_WIDE_SCREEN = "(min-width: 52em)"
_PLACES = {
    "hero": Place((("4x3", _WIDE_SCREEN, "25rem"), ("16x9", "", "100vw")), "wide", lazy=False, kind="u-photo"),
    "shelf": Place((("16x9", "", "(min-width: 40em) 24rem, 100vw"),), "small"),
    "step": Place((("small wide", "", "(min-width: 52em) 36rem, 100vw"),), "small"),
}
_KINDS = (("webp", "image/webp"), ("jpg", "image/jpeg"))


@register.inclusion_tag("pieces/picture.html")
def picture(photo: PhotoFacts, place: str) -> dict[str, Any]:
    """Draw a photo in its place ("hero", "shelf", "step"); one from before there were crops is drawn whole."""
    where = _PLACES[place]
    found = [
        {"media": media, "type": spoken, "srcset": _srcset(photo, parts, kind), "sizes": sizes}
        for parts, media, sizes in where.parts
        for kind, spoken in _KINDS
    ]
    return {
        "sources": [source for source in found if source["srcset"]],
        "src": settings.MEDIA_URL + getattr(photo, where.fallback),
        "photo": photo,
        "lazy": where.lazy,
        "kind": where.kind,
    }


def _srcset(photo: PhotoFacts, parts: str, kind: str) -> str:
    files = [file for part in parts.split() for file in further_files(photo.crops, part, kind)]
    return ", ".join(f"{settings.MEDIA_URL}{name} {size[0]}w" for name, size in files)


@register.inclusion_tag("pieces/band.html")
def band(shown: Band, top_w: float = 0.0, whole_s: float = HOUR_S) -> dict[str, Band | DrawnBand]:
    """Draw a band on a shelf, an hour wide and so many watts high; on its own page it has its own length."""
    if not top_w:
        top_w, whole_s = shelf_top_w([shown]), sum(part.span_s for part in shown.parts) or HOUR_S
    return {"band": shown, "drawn": draw_band(shown, top_w, whole_s)}
