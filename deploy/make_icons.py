"""Draws the site's icons anew from ``static/img/mark.svg``; run ``python -m deploy.make_icons`` after the mark changed.

A maskable icon keeps the mark inside the middle four fifths, which no mask cuts off (W3C Web Application Manifest, "icon masks").
"""

from __future__ import annotations

import io
from pathlib import Path

import pypdfium2
from PIL import Image
from weasyprint import HTML

IMAGES = Path(__file__).resolve().parent.parent / "static" / "img"
GROUND = "#fcfaf5"
SAFE = 0.8
ICO_SIDES = [(16, 16), (32, 32), (48, 48)]


def drawn(side_px: int, share: float = 1.0, ground: str = "none") -> Image.Image:
    """Return the mark as a square picture, as large as ``share`` of it."""
    mark_px = side_px * share
    mark = (IMAGES / "mark.svg").read_text("utf-8").replace("<svg ", f'<svg width="{mark_px}" height="{mark_px}" ')
    edge = side_px * (1 - share) / 2
    style = f"@page{{size:{side_px}px;margin:0}}body{{margin:{edge}px}}svg{{display:block}}"
    page = pypdfium2.PdfDocument(HTML(string=f"<style>{style}</style>{mark}").write_pdf())[0]
    bare: Image.Image = page.render(scale=side_px / page.get_width(), fill_color=(0, 0, 0, 0)).to_pil().convert("RGBA")
    if ground == "none":
        return bare
    whole = Image.new("RGBA", bare.size, ground)
    whole.alpha_composite(bare)
    return whole.convert("RGB")


def kept(image: Image.Image, name: str) -> None:
    """Write a picture as a small PNG."""
    held = io.BytesIO()
    few = image.quantize(64, method=Image.Quantize.FASTOCTREE) if image.mode == "RGBA" else image.quantize(64)
    few.save(held, "PNG", optimize=True)
    (IMAGES / name).write_bytes(held.getvalue())


def main() -> None:
    """Draw all of them."""
    for side in (192, 512):
        kept(drawn(side), f"icon-{side}.png")
    kept(drawn(512, SAFE * 0.9, GROUND), "icon-maskable-512.png")
    kept(drawn(180, SAFE, GROUND), "apple-touch-icon.png")
    drawn(256).save(IMAGES / "favicon.ico", sizes=ICO_SIDES)


if __name__ == "__main__":
    main()
