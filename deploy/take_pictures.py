"""Retake the pictures of README.md from the example kitchen: ``python deploy/take_pictures.py http://127.0.0.1:8000``.

Needs the test packages, Debian's Chromium, and a running site with the example loaded and nobody signed in.
"""

from __future__ import annotations

import sys
from pathlib import Path
from urllib.request import urlopen

from PIL import Image
from playwright.sync_api import sync_playwright
from pypdfium2 import PdfDocument

FOLDER = Path(__file__).resolve().parent / "pictures"
SHOWN = "/r/red-lentil-and-squash-pot/"


def main(address: str) -> None:
    """Take both pictures."""
    FOLDER.mkdir(exist_ok=True)
    take_page(address + SHOWN, FOLDER / "recipe.png")
    take_card(f"{address}{SHOWN}card.pdf?size=a6", FOLDER / "card.png")


def take_page(address: str, picture: Path) -> None:
    """Take the recipe page at 1280 px, light, down to the cost card."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1280, "height": 900}, color_scheme="light")
        page.goto(address)
        page.screenshot(path=picture, full_page=True, clip={"x": 0, "y": 0, "width": 1280, "height": 2480})
        browser.close()
    shrink(picture)


def take_card(address: str, picture: Path) -> None:
    """Set both sides of the card beside each other on grey."""
    with urlopen(address) as answer, PdfDocument(answer.read()) as paper:
        sides = [paper[side].render(scale=150 / 72).to_pil().convert("RGB") for side in range(2)]
    gap = 24
    width, height = sides[0].size
    sheet = Image.new("RGB", (len(sides) * (width + gap) + gap, height + 2 * gap), "#d9dedd")
    for place, side in enumerate(sides):
        sheet.paste(side, (gap + place * (width + gap), gap))
    sheet.save(picture)
    shrink(picture)


def shrink(picture: Path) -> None:
    """Keep the colours that the picture really uses; a page of flat colour needs no more."""
    Image.open(picture).convert("RGB").quantize(256, dither=Image.Dither.NONE).save(picture, optimize=True)


if __name__ == "__main__":
    main(sys.argv[1].rstrip("/") if len(sys.argv) > 1 else "http://127.0.0.1:8000")
