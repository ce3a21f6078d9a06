"""A strip or a climb as a file of its own: titled, with its units, how sure it is and where it comes from. Pure."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass

from energy import charts
from energy.cards.picture import printed_address
from energy.cards.presenting import EnergyShown
from energy.charts.shapes import Label
from energy.words import ENGLISH, sentence
from kitchen.page import Page

DRAWN = ("strip", "ladder")
_HEADING_LETTERS, _HEADING_PX, _LINE_PX = 52, 24.0, 22.0


@dataclass(frozen=True)
class DrawingFile:
    """What the template draws, in pixels: a heading in lines, words beneath, the drawing, an address."""

    name: str
    title: str
    heading: tuple[Label, ...]
    words: str
    drawn: charts.Strip | charts.Ladder
    address: str
    margin: float = 24.0

    @property
    def width(self) -> float:
        """The whole width."""
        return self.drawn.width + 2 * self.margin

    @property
    def words_y(self) -> float:
        """The baseline of the words beneath the heading."""
        return self.heading[-1].y + _LINE_PX

    @property
    def drawn_y(self) -> float:
        """Where the drawing begins."""
        return self.words_y + _LINE_PX / 2

    @property
    def address_y(self) -> float:
        """The baseline of the address."""
        return self.drawn_y + self.drawn.height + _LINE_PX

    @property
    def height(self) -> float:
        """The whole height."""
        return round(self.address_y + self.margin)


def drawing_of_page(page: Page, name: str, address: str) -> DrawingFile | None:
    """Return the strip or the ladder of a published recipe at its written size; None where there is nothing to draw."""
    told: EnergyShown = next(plate.context["energy"] for plate in page.cards if plate.slug == "energy")
    drawn = told.drawings.strip if name == "strip" else told.drawings.ladder
    if drawn is None:
        return None
    lines = textwrap.wrap(page.recipe.title, _HEADING_LETTERS) or [""]
    heading = tuple(Label(line, 0, 24 + _HEADING_PX * (number + 1)) for number, line in enumerate(lines))
    said = {"badge": page.badge or told.badge, "servings": page.request.servings, "energy": told.figures.total}
    words = sentence(ENGLISH, f"file_{name}", **said)
    return DrawingFile(name, page.recipe.title, heading, words, drawn, printed_address(address))
