"""Pictures: a page of paper becomes a PNG of exactly its own pixels."""

import io

import pytest
from PIL import Image

from kitchen.publish.paper import print_frame
from kitchen.publish.picture import PICTURE_SIZES, png_of

PAGE = '<html lang="en" class="picture picture--{}"><title>t</title><main class="plate"><h1>Pot</h1></main></html>'


def drawn(size, markup=PAGE):
    pdf = print_frame(markup.format(size.name), size.width_px, size.height_px, "css/picture.css")
    return Image.open(io.BytesIO(png_of(pdf, size.width_px, size.height_px)))


@pytest.mark.parametrize("size", PICTURE_SIZES.values(), ids=str)
def test_a_picture_has_exactly_its_pixels(size):
    image = drawn(size)
    assert image.format == "PNG"
    assert image.size == (size.width_px, size.height_px)


def test_ground_and_rim_are_where_the_style_puts_them():
    """Colours of static/css/tokens.css in the light: ground #fcfaf5, rim #003f44, plate #ffffff; on light ground always."""
    image = drawn(PICTURE_SIZES["1920x1080"]).convert("RGB")
    near = {(4, 4): (0xFC, 0xFA, 0xF5), (960, 37): (0x00, 0x3F, 0x44), (1800, 900): (0xFF, 0xFF, 0xFF)}
    for spot, colour in near.items():
        assert max(abs(one - other) for one, other in zip(image.getpixel(spot), colour, strict=True)) <= 3, spot


def test_what_runs_over_the_frame_makes_no_second_picture():
    size = PICTURE_SIZES["1200x630"]
    long = '<html lang="en" class="picture picture--{}"><title>t</title>' + "<p>line</p>" * 300
    assert drawn(size, long).size == (1200, 630)
