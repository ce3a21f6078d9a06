"""Pictures: which files a photo has, what they are called, and how a crop is cut around the point that stays in view.

Every file of a photo begins with the first 24 digits of its digest, so that a name never shows another picture later and
browsers may keep it for a year. A crop's name also tells the point it was cut around, in thousandths.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from kitchen.domain.facts import PhotoFacts
from kitchen.domain.remark import Remark, remark

STEM_DIGITS = 24
_FILE = re.compile(r"(?<![0-9a-f])([0-9a-f]{24})-[0-9a-z-]{4,32}\.(?:jpg|webp)")
CROP_PX = 1200
"""The width that search engines ask of a crop. [px]"""
HALF_PX = 640


@dataclass(frozen=True)
class Shape:
    """A crop's shape: ``across`` to ``down``, and the widths it is cut in."""

    name: str
    across: int
    down: int
    widths_px: tuple[int, ...]
    kinds: tuple[str, ...] = ("jpg", "webp")

    @property
    def purpose(self) -> Remark:
        """Where it is shown."""
        return remark(f"crop_{self.name}")


SHAPES: tuple[Shape, ...] = (
    Shape("1x1", 1, 1, (CROP_PX,), ("jpg",)),  # no page shows a square
    Shape("4x3", 4, 3, (CROP_PX, HALF_PX)),
    Shape("16x9", 16, 9, (CROP_PX, HALF_PX)),
)


@dataclass(frozen=True)
class Box:
    """A rectangle of a picture, in whole pixels; right and bottom are outside it."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def width_px(self) -> int:
        """How wide it is. [px]"""
        return self.right - self.left

    @property
    def height_px(self) -> int:
        """How high it is. [px]"""
        return self.bottom - self.top


def crop_box(width_px: int, height_px: int, shape: Shape, focal_x: float, focal_y: float) -> Box:
    """Return the largest rectangle of a shape in a picture, as near around the focal point as the edges let it be.

    Parameters
    ----------
    width_px, height_px : int
        The picture's size. [px]
    focal_x, focal_y : float
        The point that stays in view, from the left and from the top (0..1).

    Examples
    --------
    >>> crop_box(1600, 1200, Shape("1x1", 1, 1, (1200,)), 0.75, 0.5)
    Box(left=400, top=0, right=1600, bottom=1200)
    >>> crop_box(1350, 1800, Shape("4x3", 4, 3, (1200,)), 0.5, 0.4)
    Box(left=0, top=214, right=1350, bottom=1226)
    """
    width = max(1, min(width_px, height_px * shape.across // shape.down))
    height = max(1, min(height_px, width_px * shape.down // shape.across))
    left = min(max(round(focal_x * width_px - width / 2), 0), width_px - width)
    top = min(max(round(focal_y * height_px - height / 2), 0), height_px - height)
    return Box(left, top, left + width, top + height)


def stem_of(digest: str) -> str:
    """Return what the names of a photo's files begin with; of a file's name as well as of a digest."""
    return digest[:STEM_DIGITS]


def stems_in(text: str) -> set[str]:
    """Return the stems of all photo files that a text names, such as an edition's facts.

    Examples
    --------
    >>> sorted(stems_in('["' + "0" * 24 + '-wide.jpg", "' + "a" * 24 + '-4x3-640-500-705.webp", "x-wide.jpg"]'))
    ['000000000000000000000000', 'aaaaaaaaaaaaaaaaaaaaaaaa']
    """
    return set(_FILE.findall(text))


def wide_name(stem: str) -> str:
    """Return the name of the file that every photo has: the whole picture, as any browser shows it."""
    return f"{stem}-wide.jpg"


def crop_name(stem: str, shape: Shape, width_px: int, *, focal: tuple[float, float], kind: str) -> str:
    """Return a crop's file name.

    Examples
    --------
    >>> crop_name("0" * 24, SHAPES[1], 640, focal=(0.5, 0.705), kind="webp")
    '000000000000000000000000-4x3-640-500-705.webp'
    """
    return f"{stem}-{shape.name}-{width_px}-{round(focal[0] * 1000)}-{round(focal[1] * 1000)}.{kind}"


def is_crop(name: str) -> bool:
    """Whether a file name is that of a crop, not of the whole picture.

    Examples
    --------
    >>> is_crop("0" * 24 + "-1x1-1200-500-500.jpg"), is_crop("0" * 24 + "-wide.jpg")
    (True, False)
    """
    return any(name[STEM_DIGITS:].startswith(f"-{shape.name}-") for shape in SHAPES)


def further_files(crops: Mapping[str, tuple[int, ...]], part: str, kind: str) -> list[tuple[str, tuple[int, ...]]]:
    """Return the files of one part ("4x3", "wide") and kind ("jpg"), the narrowest first, each with its width and height."""
    found = [(name, size) for name, size in crops.items() if name.endswith(f".{kind}") and name.split("-")[1:2] == [part]]
    found += [(name, size) for name, size in crops.items() if name.split("-")[1:2] == [f"{part}.{kind}"]]
    return sorted(found, key=lambda file: (file[1], file[0]))


def search_pictures(photo: PhotoFacts) -> list[str]:
    """Return the files that are named to search engines: the three crops, or the whole picture where none was cut."""
    cut = [further_files(photo.crops, shape.name, "jpg")[-1:] for shape in SHAPES]
    return [name for files in cut for name, _ in files] or [photo.wide]


def previews(crops: Mapping[str, tuple[int, ...]]) -> list[tuple[Shape, str]]:
    """Return each shape with the smallest file that shows it; nothing for a photo of which no crop was cut."""
    cut = [(shape, further_files(crops, shape.name, "jpg")) for shape in SHAPES]
    return [(shape, files[0][0]) for shape, files in cut if files]


DRAWINGS = [
    ("pot", "pot with a lid"),
    ("pressure", "pressure cooker"),
    ("induction", "induction plate"),
    ("pan", "pan"),
    ("skillet", "electric skillet"),
    ("rice", "rice cooker"),
    ("kettle", "kettle"),
    ("slow", "slow cooker"),
    ("griddle", "griddle"),
    ("oven", "oven"),
    ("fryer", "air fryer"),
    ("bowl", "bowl"),
]
"""Our own drawings of vessels, for where there is no photo."""


def drawing_choices() -> list[tuple[str, str]]:
    """Return the drawings for the table's column, which asks anew, so that a new one changes no table."""
    return DRAWINGS
