"""The type that paper is set in: its files, and how much room words take in it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path
from unicodedata import east_asian_width

from fontTools.ttLib import TTFont

FACES = [
    ("Enamel Serif", 600, "normal", "SourceSerifPro-Semibold.ttf"),
    ("Enamel Sans", 400, "normal", "SourceSansPro-Regular.ttf"),
    ("Enamel Sans", 600, "normal", "SourceSansPro-Semibold.ttf"),
]
"""Family, weight, style and file of each face."""

SERIF, SANS, BOLD = (file for *_, file in FACES)
_PACKAGES = {"SourceSerifPro": "font_source_serif_pro", "SourceSansPro": "font_source_sans_pro"}
_UNKNOWN_EM, _WIDE_EM = 0.66, 1.0  # a letter that the faces lack, and one of a script that is set in squares
_PIECES = re.compile(r"[^ \n\t\r/–-]*(?:[/–-]+|[ \n\t\r]+|$)")

Run = tuple[str, str, float]
"""Words, the file of the face they are set in, and their size. [pt]"""


class MissingFace(LookupError):
    """A file that is none of the faces', or that is not installed."""


def font_file(name: str) -> Path:
    """Return where the file of a face lies; raises MissingFace."""
    package = _PACKAGES.get(name.partition("-")[0])
    spec = find_spec(package) if package and name in {face[3] for face in FACES} else None
    if spec is None or spec.origin is None:
        raise MissingFace(f"paper has no font {name!r}")
    return Path(spec.origin).parent / "files" / name


def missing_faces() -> list[str]:
    """Return the files of the faces that are not there; without them cards are set in whatever the system has."""
    missing = []
    for *_, file in FACES:
        try:
            there = font_file(file).exists()
        except MissingFace:
            there = False
        missing += [] if there else [file]
    return missing


def width_pt(text: str, face: str, size_pt: float) -> float:
    """Return how wide words are on one line. [pt]"""
    return sum(_em_pieces(text, face)) * size_pt


def count_lines(runs: Sequence[Run], room_pt: float) -> int:
    """Return on how many lines words come to stand where a line has so much room; 1 for none. [pt]"""
    lines, left = 1, room_pt
    for text, face, size_pt in runs:
        for em in _em_pieces(text, face):
            need = em * size_pt
            if need > left and left < room_pt:
                lines, left = lines + 1, room_pt
            if need > room_pt:  # one that no line holds is broken anywhere
                over = int(need // room_pt)
                lines, need = lines + over, need - over * room_pt
            left -= need
    return lines


def shortened(text: str, face: str, size_pt: float, room_pt: float) -> str:
    """Return words as far as they go on one line, with an ellipsis where that is not all of them."""
    if width_pt(text, face, size_pt) <= room_pt:
        return text
    kept = text
    while kept and width_pt(f"{kept}…", face, size_pt) > room_pt:
        kept = kept[:-1]
    return f"{kept.rstrip(' ,')}…"


@lru_cache(maxsize=4096)
def _em_pieces(text: str, face: str) -> tuple[float, ...]:
    """Return the widths of what a line may end behind. [em]"""
    ems = _ems(face)
    return tuple(_width_em(piece, ems) for piece in _PIECES.findall(text) if piece)


def _width_em(letters: Iterable[str], ems: Mapping[str, float]) -> float:
    return sum(
        ems[letter] if letter in ems else _WIDE_EM if east_asian_width(letter) in "WF" else _UNKNOWN_EM for letter in letters
    )


@lru_cache(maxsize=len(FACES))
def _ems(face: str) -> Mapping[str, float]:
    """Return the widths of a face's letters. [em]"""
    with TTFont(font_file(face), lazy=True) as font:
        advances, per_em = font["hmtx"].metrics, font["head"].unitsPerEm
        return {chr(code): advances[name][0] / per_em for code, name in font.getBestCmap().items()}
