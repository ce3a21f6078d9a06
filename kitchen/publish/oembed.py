"""What a blog is told that makes a frame out of a pasted address (oembed.com, version 1.0)."""

from __future__ import annotations

from typing import Any

from django.utils.html import format_html

from kitchen.publish.sharing import SharedPicture

FRAME_WIDTH_PX, FRAME_HEIGHT_PX = 640, 760
_CACHE_S = 3600


def frame_code(address: str, title: str, *, width: str = "100%", height: int = FRAME_HEIGHT_PX) -> str:
    """Return the HTML of a frame that shows a recipe, in the strictest sandbox in which its height adjusts itself."""
    return format_html(
        '<iframe src="{}" title="{}" width="{}" height="{}" style="border:0" loading="lazy"'
        ' sandbox="allow-scripts allow-popups allow-popups-to-escape-sandbox"></iframe>',
        *(address, title, width, height),
    )


def oembed(
    *, title: str, author: str, site_name: str, site: str, frame: str, picture: SharedPicture | None, most: tuple[int, int]
) -> dict[str, Any]:
    """Return the answer of type "rich"; ``site`` and ``frame`` are whole addresses, ``most`` the widest and highest. [px]"""
    width, height = min(FRAME_WIDTH_PX, most[0]), min(FRAME_HEIGHT_PX, most[1])
    told: dict[str, Any] = {
        "version": "1.0",
        "type": "rich",
        "title": title,
        "author_name": author,
        "provider_name": site_name,
        "provider_url": site,
        "cache_age": _CACHE_S,
        "html": frame_code(frame, title, width=str(width), height=height),
        "width": width,
        "height": height,
    }
    if picture is not None and picture.width_px <= most[0] and picture.height_px <= most[1]:
        told |= {
            "thumbnail_url": picture.address,
            "thumbnail_width": picture.width_px,
            "thumbnail_height": picture.height_px,
        }
    return {key: value for key, value in told.items() if value != ""}
