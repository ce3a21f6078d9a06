"""Words as people look for them: without case, accents or punctuation."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from kitchen.domain.nouns import singular

LONGEST_WORD = 40
MOST_WORDS = 12
SHORTEST_BEGINNING = 3
# Han, kana, Thai, Lao, Khmer, Burmese: no space between words.
_UNSPACED = re.compile("[\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff\u3040-\u30ff\u3400-\u9fff]")


def fold(text: str) -> str:
    """Return the text folded for searching: no case, no accents, one space between words.

    Examples
    --------
    >>> fold("  Crème  FRAÎCHE, 20 dl ")
    'creme fraiche 20 dl'
    """
    decomposed = unicodedata.normalize("NFKD", unicodedata.normalize("NFKC", text).casefold())
    bare = "".join(sign for sign in decomposed if not unicodedata.combining(sign))
    return " ".join(re.findall(r"\w+", bare))


def shelf_words(texts: Iterable[str]) -> list[str]:
    """Return every word by which these texts are to be found, and its singular, folded, each once, in order.

    A script that writes without spaces is found from each of its signs on, since nobody knows where its words begin.

    Examples
    --------
    >>> shelf_words(["Red lentil pot", "", "Lentils, red"]), shelf_words(["豆スープ"])
    (['lentil', 'lentils', 'pot', 'red'], ['スーフ', 'フ', 'ーフ', '豆スーフ'])
    """
    words = {word for text in texts for word in fold(text).split()}
    runs = {word[place:] for word in words if _UNSPACED.search(word) for place in range(len(word))}
    return sorted({word[:LONGEST_WORD] for word in words | runs | {singular(word) for word in words}})


@dataclass(frozen=True)
class AskedWord:
    """What a word in the library may begin with to answer one that was asked; ``whole`` where it has to be that word."""

    spellings: tuple[str, ...]
    whole: bool = False


def asked_words(words: str) -> list[AskedWord]:
    """Return what is looked for: each word or its singular; one of a letter or two must be a whole word.

    Examples
    --------
    >>> [asked.spellings for asked in asked_words("Red LENTILS and leaves")]
    [('red',), ('lentil',), ('and',), ('leaves', 'leaf')]
    >>> [asked.whole for asked in asked_words("a red 豆")]
    [True, False, False]
    """
    return [_asked(word) for word in fold(words).split()[:MOST_WORDS]]


def _asked(word: str) -> AskedWord:
    if len(word) < SHORTEST_BEGINNING and not _UNSPACED.search(word):
        return AskedWord((word,), whole=True)
    one = singular(word)
    spellings = (one,) if word.startswith(one) else (word, one)
    return AskedWord(tuple(spelling[:LONGEST_WORD] for spelling in spellings))


_MOST_NEAR = 6


def nearest(spellings: Sequence[str], known: Iterable[str]) -> tuple[str, ...]:
    """Return the known words that are fewest slips away: one in a word of four letters, two in one of eight.

    A slip is a letter too many, one too few, another one, or two that changed places (Damerau 1964, Levenshtein 1966).

    Examples
    --------
    >>> nearest(["lentlis", "lentli"], ["lentil", "lemon", "lentils"]), nearest(["oat"], ["oats"])
    (('lentil', 'lentils'), ())
    """
    found: dict[str, int] = {}
    for word in known:
        for spelling in spellings:
            most = 2 if len(spelling) >= 8 else 1
            if len(spelling) >= 4 and abs(len(word) - len(spelling)) <= most:
                slips = _slips(spelling, word, most)
                if slips <= most:
                    found[word] = min(slips, found.get(word, slips))
    least = min(found.values(), default=0)
    return tuple(sorted(word for word, slips in found.items() if slips == least)[:_MOST_NEAR])


def _slips(one: str, other: str, most: int) -> int:
    """Return how many slips lie between two words; more than ``most`` is only said to be more."""
    before: list[int] = []
    row = list(range(len(other) + 1))
    for place, letter in enumerate(one, 1):
        earlier, before, row = before, row, [place]
        for n, here in enumerate(other, 1):
            slips = min(before[n] + 1, row[n - 1] + 1, before[n - 1] + (letter != here))
            if place > 1 and n > 1 and letter == other[n - 2] and one[place - 2] == here:
                slips = min(slips, earlier[n - 2] + 1)
            row.append(slips)
        if min(row) > most:
            return most + 1
    return row[-1]
