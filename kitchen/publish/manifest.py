"""The manifest by which a phone puts the site among its programs (W3C Web Application Manifest)."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

ICON_SIDES_PX = (192, 512)
_GROUND, _THEME = "#fcfaf5", "#003f44"


def site_manifest(*, name: str, description: str, start: str, icon_of: Callable[[str], str]) -> dict[str, Any]:
    """Return the manifest; ``start`` is the path that opens, ``icon_of`` returns the address of a static file."""
    icons = [
        {"src": icon_of(f"img/icon-{side}.png"), "sizes": f"{side}x{side}", "type": "image/png", "purpose": "any"}
        for side in ICON_SIDES_PX
    ]
    masked = {"src": icon_of("img/icon-maskable-512.png"), "sizes": "512x512", "type": "image/png", "purpose": "maskable"}
    drawn = {"src": icon_of("img/mark.svg"), "sizes": "any", "type": "image/svg+xml", "purpose": "any"}
    told = {
        "id": start,
        "name": name,
        "short_name": name if len(name) <= 12 else name.split(maxsplit=1)[0],
        "description": description,
        "lang": "en",
        "start_url": start,
        "scope": start,
        "display": "minimal-ui",
        "background_color": _GROUND,
        "theme_color": _THEME,
        "icons": [*icons, masked, drawn],
    }
    return {key: value for key, value in told.items() if value}
