"""The kitchen's remarks as sentences in a language."""

from __future__ import annotations

from kitchen.domain.remark import Refused
from kitchen.words import english
from kitchen.words.sentences import ENGLISH, Language, Sentences

_LONGEST_QUOTE = 60


def _quoted(text: str) -> str:
    """Return words in quotes, without the full stop of their own: the sentence around them has one."""
    text = text.rstrip(". ")
    short = text if len(text) <= _LONGEST_QUOTE else f"{text[: _LONGEST_QUOTE - 1].rstrip()}…"
    return f"“{short}”"


def _a_quoted(text: str) -> str:
    return f"{'an' if text[:1] in 'aeiou' else 'a'} “{text}”"


def _spaced(text: str) -> str:
    return f"{text} " if text else ""


SAID = Sentences({ENGLISH: english.SENTENCES}, {"quoted": _quoted, "a_quoted": _a_quoted, "spaced": _spaced})

words_of, sentence = SAID.words_of, SAID.sentence


def refusal_words(refused: Refused, language: Language) -> str:
    """Return why something cannot be done, and what to do instead."""
    return words_of(refused.said, language, because=words_of(refused.because, language))
