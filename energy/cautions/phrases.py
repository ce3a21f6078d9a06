"""The names of ``foods.toml`` in the text of a line: the longest one at each place, and where a thing ends."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from kitchen.domain.nouns import singular

Name = tuple[str, ...]

_FILE = Path(__file__).with_name("foods.toml")
_TOKEN = re.compile(r"[^\W\d_]+|\d+(?:[.,/⁄]\d+)?|[^\w\s]")
_POSSESSIVE = re.compile(r"['’‘](?:s\b)?")
_ASIDE = re.compile(r"\(\s*(or|and)\s+([^)]*)\)\s+(?=\w)")
_LEAN = re.compile(r"\b\d{1,2}(?:\.\d)?\s*%\s*(?:fat|lean)\b|\b\d{2}\s*/\s*\d{1,2}\b(?=[^\d]*$)")
_LONGEST_LINE = 300
_LIGATURES = str.maketrans({"œ": "oe", "æ": "ae", "ß": "ss", "ø": "o"})
_LITTLE = frozenset({"of", "the", "a", "an"})
# A cook may well mean another thing by the singular: "chop", "rib", an "oyster" mushroom.
_ONLY_PLURAL = frozenset({"chops", "ribs", "oysters"})
JOINED = frozenset({"and", "or", "&", "/", "+", "plus"})
_AWAY = frozenset({"with", "without", "for", "from", "such", "like", "eg", "to", "but", "instead", "not", "no", "rather"})
_ENDS = frozenset(",;:()[]–—.*!?•|") | JOINED | _AWAY


@dataclass(frozen=True)
class Piece:
    """One or more words of a line, and the lists of ``foods.toml`` in which they stand; none for a word that nobody knows."""

    words: Name
    kinds: frozenset[str]


@dataclass(frozen=True)
class Clause:
    """What stands between two ends: after a comma, after "and", in brackets. ``joiner`` is what it begins with."""

    joiner: str
    pieces: tuple[Piece, ...]


def read_clauses(text: str) -> tuple[Clause, ...]:
    """Return the clauses of a line.

    Examples
    --------
    >>> [(one.joiner, [" ".join(piece.words) for piece in one.pieces]) for one in read_clauses("2 oyster mushrooms, and an egg")]
    [('', ['2', 'oyster mushroom']), (',', []), ('and', ['egg'])]
    """
    clauses: list[Clause] = []
    joiner, held = "", list[Piece]()
    for piece in _pieces(_tokens(text)):
        if not piece.kinds and piece.words[0] in _ENDS:
            clauses.append(Clause(joiner, tuple(held)))
            joiner, held = piece.words[0], []
        else:
            held.append(piece)
    return (*clauses, Clause(joiner, tuple(held)))


def is_lean_share(text: str) -> bool:
    """Whether a line says how fat its meat is, as is said of mince alone ("8% fat", "80/20").

    Examples
    --------
    >>> is_lean_share("500 g beef, 8% fat"), is_lean_share("beef 80/20"), is_lean_share("2 steaks")
    (True, True, False)
    """
    return _LEAN.search(text.lower()) is not None


def _tokens(text: str) -> list[str]:
    spelt = unicodedata.normalize("NFKD", text[:_LONGEST_LINE].lower().translate(_LIGATURES))
    plain = _POSSESSIVE.sub(" ", "".join(sign for sign in spelt if not unicodedata.combining(sign)))
    return [token for token in _TOKEN.findall(_ASIDE.sub(r" \1 \2 ", plain)) if token not in _LITTLE and token != "-"]


def _pieces(tokens: list[str]) -> list[Piece]:
    names, longest = _names()
    found, at = list[Piece](), 0
    while at < len(tokens):
        name = _name(tokens[at : at + 1])
        for size in range(min(longest, len(tokens) - at), 1, -1):
            if (longer := _name(tokens[at : at + size])) in names:
                name = longer
                break
        found.append(Piece(name, names.get(name) or _by_ends(name[0])))
        at += len(name)
    return found


def _name(words: list[str]) -> Name:
    """Return words as the names of the file are kept: in the singular, but for one that means another thing by it."""
    return tuple(words) if len(words) == 1 and words[0] in _ONLY_PLURAL else tuple(map(singular, words))


@cache
def _names() -> tuple[Mapping[Name, frozenset[str]], int]:
    """Return every name of the file with the lists it stands in, and how many words the longest has."""
    names: dict[Name, frozenset[str]] = {}
    for kind, listed in (*_held()["nouns"].items(), *_held()["states"].items()):
        for written in listed.split(";"):
            name = _name(_tokens(written))
            names[name] = names.get(name, frozenset()) | {kind}
    names.pop((), None)
    return names, max(map(len, names))


def _by_ends(word: str) -> frozenset[str]:
    """Return the lists of a compound that only its ends tell ("Putenhackfleisch"); of endings the longest that fits."""
    ends = ((end, kind) for kind, listed in _held()["endings"].items() for end in listed.split("; "))
    fitting = [(len(end), kind) for end, kind in ends if word.endswith(end)]
    beginnings = ((begin, kind) for kind, listed in _held()["beginnings"].items() for begin in listed.split("; "))
    begun = {kind for begin, kind in beginnings if word.startswith(begin) and word != begin}
    return frozenset({max(fitting)[1], *begun} if fitting else begun)


@cache
def noun_kinds() -> frozenset[str]:
    """Return the lists whose names are foods, also those that are safe."""
    return frozenset(_held()["nouns"])


@cache
def _held() -> dict[str, dict[str, str]]:
    return tomllib.loads(_FILE.read_text(encoding="utf-8"))
