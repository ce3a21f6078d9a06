"""The main road, as a cook walks it in a browser: each function is one stretch, through the pages' own words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from urllib.parse import urlsplit

from playwright.sync_api import Page, expect

TITLE = "Squash and lentil pot"
PASSWORD = "ladle under the stars"
LINES = {
    # As typed: how the table below must show its amount, its unit and its ingredient.
    "250 g red lentils": ("250", "g", "red lentils"),
    "600 g butternut squash, diced": ("600", "g", "butternut squash"),
    "2 onions, chopped": ("2", "", "onions"),
    "3 cloves garlic, crushed": ("3", "clove", "garlic"),
    "30 ml rapeseed oil": ("30", "mL", "rapeseed oil"),
    "1 1/2 tbsp tomato paste": ("1½", "tbsp", "tomato paste"),
    "2 tsp ground cumin": ("2", "tsp", "ground cumin"),
    "1 litre hot water": ("1", "L", "hot water"),
    "a bag of spinach": ("", "", "a bag of spinach"),
    "salt, to taste": ("", "", "salt"),
}
STEPS = [
    ("Brown the onions and the squash in the oil; garlic and cumin for the last minute.", "brown", "10"),
    ("Add lentils, tomato paste and hot water; close the lid and bring it to pressure.", "come_up", "2"),
    ("Hold it at pressure.", "hold", "9"),
    ("Switch off and let it rest, then stir in the spinach and salt.", "rest", "10"),
]
# What the counter showed, and what the battery did at both ends.
READINGS = [("0", "0"), ("5", "56"), ("10", "105"), ("12", "118"), ("21", "213"), ("26", "213"), ("31", "213")]
PRICES = {
    "red lentils": ("500 g", "2.00"),
    "butternut squash": ("1 kg", "2.50"),
    "onion": ("1 kg", "1.20"),
    "garlic": ("250 g", "1.50"),
    "rapeseed oil": ("1 L", "3.00"),
    "tomato paste": ("200 g", "0.80"),
    "cumin": ("50 g", "1.00"),
    "spinach": ("250 g", "1.75"),
}


def open_first_link(page: Page, token: str) -> None:
    """Make the owner's account with the one-time link."""
    page.goto(f"/start/{token}/")
    page.get_by_label("Name", exact=True).fill("mira")
    page.get_by_label("Password", exact=False).first.fill(PASSWORD)
    page.get_by_label("Password once more").fill(PASSWORD)
    page.get_by_label("What this kitchen is called").fill("Fernhollow kitchen")
    page.get_by_label("Currency").fill("EUR")
    page.get_by_role("button", name="Start").click()
    expect(page.get_by_role("heading", name="Bench", exact=True)).to_be_visible()


def write_recipe(page: Page) -> None:
    """Write the recipe: its lines pasted, one of them corrected, its steps pasted and given their stages."""
    page.get_by_role("link", name="New recipe").click()
    page.get_by_label("Title").fill(TITLE)
    page.get_by_label("In one line").fill("One pot between two clouds.")
    page.get_by_label("Servings").fill("4")
    page.get_by_label("Lines").fill("\n".join(LINES))
    page.get_by_role("button", name="Read the lines").click()
    expect(page.locator("#lines-read tbody tr")).to_have_count(len(LINES))
    for typed, read in LINES.items():
        row = page.locator("#lines-read tr").filter(has_text=typed)
        print([cell.inner_text() for cell in row.locator("td").all()])
