"""Remarks as sentences in a language."""

from __future__ import annotations

from costing.words import english
from kitchen.words.sentences import ENGLISH, Language, Sentences

__all__ = ["ENGLISH", "Language", "sentence", "words_of"]

SAID = Sentences(
    {ENGLISH: english.SENTENCES},
    {
        "unit": lambda base: "pieces" if base == "each" else base,
        "currencies": lambda codes: " and ".join(codes.split()),
    },
)

words_of, sentence = SAID.words_of, SAID.sentence
