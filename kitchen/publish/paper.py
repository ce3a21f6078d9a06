"""Paper: the one door to WeasyPrint.

What the template ``kitchen/paper/card.html`` is given: ``page`` (kitchen.page.Page), ``frame`` (kitchen.page.PageFrame),
``size`` (CardSize) and ``qr`` (kitchen.publish.qr.QrCode, or None for a draft). The sheet ``static/css/paper.css`` styles it; the size of
the sheet and the two type families ("Source Serif Pro" and "Source Sans Pro": 400, 600 and italic) are put in here.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class CardSize:
    """A sheet that a card is printed on; ``key`` is what an address says, and a class on the root element (``paper--a6``)."""

    key: str
    label: str
    width_mm: float
    height_mm: float


CARD_SIZES: dict[str, CardSize] = {
    size.key: size
    for size in (CardSize("a6", "A6", 105, 148), CardSize("4x6", "4 x 6 in", 101.6, 152.4))
}
