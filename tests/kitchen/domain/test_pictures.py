"""Crops: inside the picture, of the shape asked, as large as can be, with the point in them."""

from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.facts import PhotoFacts
from kitchen.domain.pictures import SHAPES, crop_box, crop_name, further_files, is_crop, previews, search_pictures, stem_of

sides = st.integers(1, 9000)
shares = st.floats(0, 1)


@given(sides, sides, st.sampled_from(SHAPES), shares, shares)
def test_a_crop_lies_inside_and_holds_the_point(width, height, shape, x, y):
    box = crop_box(width, height, shape, x, y)
    assert 0 <= box.left < box.right <= width
    assert 0 <= box.top < box.bottom <= height
    assert box.left - 1 <= x * width <= box.right + 1
    assert box.top - 1 <= y * height <= box.bottom + 1


@given(sides, sides, st.sampled_from(SHAPES), shares, shares)
def test_a_crop_has_the_shape_and_touches_two_edges(width, height, shape, x, y):
    box = crop_box(width, height, shape, x, y)
    assert box.width_px == width or box.height_px == height
    assert abs(box.width_px * shape.down - box.height_px * shape.across) <= max(shape.across, shape.down) or 1 in (
        box.width_px,
        box.height_px,
    )


@given(st.sampled_from(SHAPES), shares, shares, st.sampled_from(["jpg", "webp"]))
def test_names_say_what_they_are(shape, x, y, kind):
    name = crop_name("a" * 24, shape, 640, focal=(x, y), kind=kind)
    assert is_crop(name)
    assert stem_of(name) == "a" * 24
    assert further_files({name: (640, 480)}, shape.name, kind) == [(name, (640, 480))]
    assert further_files({name: (640, 480)}, "wide", kind) == []


def test_the_whole_picture_stands_in_where_nothing_was_cut():
    plain = PhotoFacts("a" * 24 + "-wide.jpg", "a" * 24 + "-small.jpg", "A pot", 1600, 1200)
    assert search_pictures(plain) == [plain.wide]
    assert previews(plain.crops) == []
    deep = {"a" * 24 + "-deep.webp": (1800, 1350)}
    assert search_pictures(PhotoFacts(plain.wide, plain.small, "A pot", 1600, 1200, crops=deep)) == [plain.wide]
