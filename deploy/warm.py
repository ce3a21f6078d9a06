"""What is loaded before the workers are forked, so that they share it and the first reader does not wait for it."""

from __future__ import annotations

from pathlib import Path

from django.conf import settings
from django.template.loader import get_template
from django.urls import reverse

from kitchen.publish.paper import CARD_SIZES, print_markup

# Every face and weight of the two families, some figures, and a drawing: what a card needs the first time.
SPECIMEN = """<!doctype html><html lang="en"><head><title>Specimen</title></head><body>
<h1>Wattfare 0123456789 ½ °C</h1><p>Watt-hours <b>a serving</b> <i>at the plug</i></p>
<svg xmlns="http://www.w3.org/2000/svg" width="20" height="10"><rect width="20" height="10"/></svg></body></html>"""


def warm_up() -> None:
    """Compile the templates and the addresses, load the type families and set one small sheet."""
    for folder in settings.TEMPLATES[0]["DIRS"]:
        for path in sorted(Path(folder).rglob("*.html")):
            get_template(path.relative_to(folder).as_posix())
    reverse("kitchen:library")
    print_markup(SPECIMEN, CARD_SIZES["a6"])
