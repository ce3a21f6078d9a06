"""Sentences by code and language, filled in: the machinery of every app's room for words. Pure; the language is an argument."""

from __future__ import annotations

import string
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Any, Literal

from kitchen.domain.remark import Said

Language = Literal["en"]

ENGLISH: Language = "en"

NO_WORDS: Mapping[Language, str] = {ENGLISH: "This program has no words for “{code}”: update it to read this remark."}


def day_words(day: date | str) -> str:
    """Return a day, also one spelled after ISO 8601, as it stands in a sentence.

    Examples
    --------
    >>> day_words(date(2026, 10, 4)), day_words("2026-10-04")
    ('4 October 2026', '4 October 2026')
    """
    spoken = date.fromisoformat(day) if isinstance(day, str) else day
    return f"{spoken.day} {spoken:%B %Y}"


@dataclass(frozen=True)
class Sentences:
    """An app's sentences: by language a table of code and sentence, and by name how a figure is written.

    Examples
    --------
    >>> from kitchen.domain.remark import remark
    >>> said = Sentences({ENGLISH: {"gap": "A gap of {span_s:minutes}."}}, {"minutes": lambda span_s: f"{span_s / 60:g} min"})
    >>> said.words_of(remark("gap", span_s=480), ENGLISH), said.words_of("As it was kept.", ENGLISH)
    ('A gap of 8 min.', 'As it was kept.')
    >>> said.sentence(ENGLISH, "spilt")
    'This program has no words for “spilt”: update it to read this remark.'
    """

    tables: Mapping[Language, Mapping[str, str]]
    formats: Mapping[str, Callable[[Any], str]] = field(default_factory=dict)

    def words_of(self, said: Said, language: Language, /, **names: object) -> str:
        """Return a remark as a sentence, with the names that it speaks of; what is a sentence already stays as it is.

        A remark of a code that this program does not know, or without the figures of its code, came from a newer program or from
        a stranger's file: the sentence says so and names the code.
        """
        return said if isinstance(said, str) else self.sentence(language, said.code, **{**said.values, **names})

    def sentence(self, language: Language, code: str, /, **values: object) -> str:
        """Return the sentence of a code, filled in."""
        try:
            return self._figures.vformat(self.tables[language][code], (), values)
        except (KeyError, TypeError, ValueError, AttributeError, OverflowError):
            return NO_WORDS[language].format(code=code)

    @cached_property
    def _figures(self) -> _Figures:
        return _Figures({"day": day_words, **self.formats})


class _Figures(string.Formatter):
    """Fills a sentence in: ``{span_s:minutes}`` is a figure with its unit, as every page shows it."""

    def __init__(self, formats: Mapping[str, Callable[[Any], str]]) -> None:
        self.formats = formats

    def format_field(self, value: Any, format_spec: str) -> str:
        make = self.formats.get(format_spec)
        return make(value) if make else str(super().format_field(value, format_spec))
