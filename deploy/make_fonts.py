"""Make the screen's font files: small woff2 subsets of the two families that the paper cards use whole.

Run it by hand after a change (``python deploy/make_fonts.py``). It writes ``static/fonts`` and ``static/css/fonts.css``.
The licence (SIL OFL 1.1) reserves the name "Source" for the unchanged files, so that the subsets carry a name of their own.

Each face comes in two files by ``unicode-range``: ``latin`` (what nearly every page needs) and ``more`` (Latin Extended-A and the
rarer signs), so that a browser fetches the second only where a page uses it. Kept features: kerning, ligatures, tabular,
proportional and lining figures, fractions, ordinals and superiors; small capitals are dropped.

System fallbacks are size-adjusted: the ratio of the mean advance width over English letter frequencies, against the metrics that
Arial and Times New Roman share with their free counterparts; ascent and descent are divided by that ratio, so that nothing jumps
when the font arrives.
"""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

import font_source_sans_pro
import font_source_serif_pro
from fontTools import subset
from fontTools.ttLib import TTFont

HERE = Path(__file__).resolve().parent.parent
FONTS = HERE / "static" / "fonts"
SHEET = HERE / "static" / "css" / "fonts.css"
FEATURES = ["kern", "mark", "mkmk", "liga", "locl", "ccmp", "tnum", "pnum", "lnum", "frac", "numr", "dnom", "ordn", "sups"]

LATIN = "U+0020-007E, U+00A0-00FF, U+0131, U+0152-0153, U+2009, U+2013-2014, U+2018-201A, U+201C-201E, U+2022, U+2026"
LATIN += ", U+2032-2033, U+202F, U+20AC, U+2150-215E, U+2190-2193, U+2212, U+2248, U+2264-2265"
MORE = "U+0100-0130, U+0132-0151, U+0154-017F, U+0218-021B, U+0394, U+03B7, U+03C6, U+2070-2089, U+20A4, U+20B9, U+2116, U+2122"

# Frequencies of letters and the space in English text, per mille, from memory; a few digits stand for our many figures.
FREQUENCY = {
    " ": 180, "e": 102, "t": 74, "a": 66, "o": 61, "i": 56, "n": 57, "s": 51, "r": 49, "h": 49, "l": 33, "d": 34, "u": 23,
    "c": 22, "m": 20, "f": 18, "w": 19, "g": 16, "y": 16, "p": 15, "b": 12, "v": 8, "k": 6, "0": 9, "2": 9,
}  # fmt: skip
# Advance widths per 1000 em that Arial / Helvetica and Times Roman / Bold share with their counterparts, from memory.
ARIAL = {
    " ": 278, "e": 556, "t": 278, "a": 556, "o": 556, "i": 222, "n": 556, "s": 500, "r": 333, "h": 556, "l": 222, "d": 556,
    "u": 556, "c": 500, "m": 833, "f": 278, "w": 722, "g": 556, "y": 500, "p": 556, "b": 556,
    "v": 500, "k": 500, "0": 556, "2": 556,
}  # fmt: skip
TIMES_BOLD = {
    " ": 250, "e": 444, "t": 333, "a": 500, "o": 500, "i": 278, "n": 556, "s": 389, "r": 444, "h": 556, "l": 278, "d": 556,
    "u": 556, "c": 444, "m": 833, "f": 333, "w": 722, "g": 500, "y": 500, "p": 556, "b": 556,
    "v": 500, "k": 556, "0": 500, "2": 500,
}  # fmt: skip


@dataclass(frozen=True)
class Face:
    """One face of a family: where it comes from and what it is called here."""

    source: str
    family: str
    file: str
    weight: int
    style: str = "normal"


FACES = [
    Face(font_source_serif_pro.font_files_ttf["SourceSerifProSemibold"], "Enamel Serif", "enamel-serif-600", 600),
    Face(font_source_sans_pro.font_files_ttf["SourceSansPro"], "Enamel Sans", "enamel-sans-400", 400),
    Face(font_source_sans_pro.font_files_ttf["SourceSansProIt"], "Enamel Sans", "enamel-sans-400-italic", 400, "italic"),
    Face(font_source_sans_pro.font_files_ttf["SourceSansProSemibold"], "Enamel Sans", "enamel-sans-600", 600),
]
FALLBACKS = [
    ("Enamel Serif stand-in", FACES[0], TIMES_BOLD, ["Times New Roman Bold", "TimesNewRomanPS-BoldMT", "Liberation Serif Bold"]),
    ("Enamel Sans stand-in", FACES[1], ARIAL, ["Arial", "ArialMT", "Liberation Sans"]),
]


def code_points(ranges: str) -> set[int]:
    """Return the code points of a CSS ``unicode-range``."""
    found: set[int] = set()
    for item in ranges.replace("U+", "").split(","):
        low, _, high = item.strip().partition("-")
        found.update(range(int(low, 16), int(high or low, 16) + 1))
    return found


def make_subset(face: Face, part: str, ranges: str) -> str:
    """Write one woff2 file; returns its name, or an empty string where the face has none of these characters."""
    wanted = code_points(ranges)
    font = TTFont(face.source)
    if not wanted & font.getBestCmap().keys():
        return ""
    options = subset.Options(flavor="woff2", layout_features=FEATURES, hinting=False, desubroutinize=True, name_IDs=["*"])
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=wanted)
    cutter.subset(font)
    rename(font, face)
    font.flavor = "woff2"
    name = f"{face.file}-{part}.woff2"
    font.save(FONTS / name)
    return name


def rename(font: TTFont, face: Face) -> None:
    """Give the subset a name that the licence does not reserve; copyright and licence entries stay."""
    table = font["name"]
    wording = f"{face.family} {face.weight} {face.style}"
    for number, words in ((1, face.family), (3, wording), (4, wording), (6, wording.replace(" ", "-"))):
        for record in [entry for entry in table.names if entry.nameID == number]:
            table.setName(words, number, record.platformID, record.platEncID, record.langID)
    table.names = [entry for entry in table.names if entry.nameID in {0, 1, 2, 3, 4, 5, 6, 13, 14}]


def width_ratio(face: Face, other: dict[str, int]) -> float:
    """Return the face's mean advance width over that of the fallback, weighted by frequency."""
    font = TTFont(face.source)
    cmap, advances, em = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
    ours: float = sum(share * advances[cmap[ord(letter)]][0] * 1000 / em for letter, share in FREQUENCY.items())
    return ours / sum(share * other[letter] for letter, share in FREQUENCY.items())


def fallback_rule(name: str, face: Face, other: dict[str, int], local: list[str]) -> str:
    """Return the ``@font-face`` of a system font that takes the same room as the face."""
    font = TTFont(face.source)
    em, ratio = font["head"].unitsPerEm, width_ratio(face, other)
    rise, drop = font["hhea"].ascent / em / ratio, -font["hhea"].descent / em / ratio
    sources = ", ".join(f'local("{entry}")' for entry in local)
    return (
        f'@font-face {{ font-family: "{name}"; src: {sources}; size-adjust: {ratio:.1%}; '
        f"ascent-override: {rise:.1%}; descent-override: {drop:.1%}; line-gap-override: 0%; }}"
    )


def face_rule(face: Face, file: str, ranges: str) -> str:
    """Return the ``@font-face`` of one subset."""
    return (
        f'@font-face {{ font-family: "{face.family}"; font-weight: {face.weight}; font-style: {face.style}; font-display: swap; '
        f'src: url("../fonts/{file}") format("woff2"); unicode-range: {ranges}; }}'
    )


def main() -> None:
    """Write every subset, the licence beside them, and the style sheet that names them."""
    FONTS.mkdir(parents=True, exist_ok=True)
    rules = ["/* Written by deploy/make_fonts.py. */"]
    for face in FACES:
        for part, ranges in (("latin", LATIN), ("more", MORE)):
            file = make_subset(face, part, ranges)
            if file:
                rules.append(face_rule(face, file, ranges))
    rules += [fallback_rule(*entry) for entry in FALLBACKS]
    SHEET.write_text("\n".join(rules) + "\n", encoding="utf-8")
    licence = Path(font_source_sans_pro.font_directory) / "LICENSE.txt"
    shutil.copyfile(licence, FONTS / "OFL.txt")
    for made in sorted(FONTS.glob("*.woff2")):
        print(f"{made.name}: {made.stat().st_size} bytes")


if __name__ == "__main__":
    main()
