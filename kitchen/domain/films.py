"""A film of a cook: where it is, and its chapters as a cook types them, a line each: the moment, and what begins then."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from kitchen.domain.remark import Refused, remark

_MOMENT = re.compile(r"(?:(\d{1,2}):)?(\d{1,3}):([0-5]\d)\b[\s.,:)-]*", re.ASCII)
_END = "end"
MOST_CHAPTERS, LONGEST_NAME = 60, 100


@dataclass(frozen=True)
class Chapter:
    """What begins at a moment of a film, and when it ends; None where nobody said. [s]"""

    words: str
    from_s: int
    to_s: int | None

    @property
    def moment(self) -> str:
        """The moment as a film's clock shows it."""
        return clock(self.from_s)


@dataclass(frozen=True)
class Film:
    """A film by its address, with the day it came out."""

    address: str
    day: date | None
    chapters: tuple[Chapter, ...] = ()

    @property
    def length_s(self) -> int | None:
        """How long it is, where the end was typed. [s]"""
        return self.chapters[-1].to_s if self.chapters else None


def read_chapters(text: str) -> tuple[Chapter, ...]:
    """Return the chapters that a cook typed; none where no line has a moment, as in a list of stages that waits for them.

    A last line "12:30 end" tells the length and is no chapter.

    Raises
    ------
    Refused
        If a line has no moment, or no words, or is no later than the one before.

    Examples
    --------
    >>> [(one.moment, one.words, one.to_s) for one in read_chapters("0:00 Hello\\n1:05 Brown\\n1:02:00 end")]
    [('0:00', 'Hello', 65), ('1:05', 'Brown', 3720)]
    >>> read_chapters("Brown\\nCome up")
    ()
    """
    lines = [" ".join(line.split()) for line in text.splitlines() if line.strip()]
    found = [(line, _MOMENT.match(line)) for line in lines]
    if not any(moment for _, moment in found):
        return ()
    told = [_told(line, moment) for line, moment in found]
    for (before_s, _), (after_s, words) in pairwise(told):
        if after_s <= before_s:
            raise Refused(remark("chapter_order", line=f"{clock(after_s)} {words}", before=clock(before_s)))
    ends = [from_s for from_s, _ in told[1:]]
    if told[-1][1].lower() == _END:
        told.pop()
    if len(told) > MOST_CHAPTERS:
        raise Refused(remark("chapters_many", most=MOST_CHAPTERS))
    return tuple(Chapter(words, from_s, ends[place] if place < len(ends) else None) for place, (from_s, words) in enumerate(told))


def film_of(address: str, day: date | None, chapters: str) -> Film | None:
    """Return the film that a recipe's row tells of, without chapters where they cannot be read; None without an address."""
    if not address:
        return None
    try:
        return Film(address, day, read_chapters(chapters))
    except Refused:
        return Film(address, day)


def clock(seconds: int) -> str:
    """Return seconds as a film's clock shows them.

    Examples
    --------
    >>> clock(5), clock(754), clock(3725)
    ('0:05', '12:34', '1:02:05')
    """
    minutes, rest = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{rest:02}" if hours else f"{minutes}:{rest:02}"


def _told(line: str, moment: re.Match[str] | None) -> tuple[int, str]:
    words = line[moment.end() :] if moment else ""
    if moment is None or not words:
        raise Refused(remark("chapter_line", line=line[:LONGEST_NAME]))
    if len(words) > LONGEST_NAME:
        raise Refused(remark("chapter_long", line=line[:LONGEST_NAME], most=LONGEST_NAME))
    return int(moment[1] or 0) * 3600 + int(moment[2]) * 60 + int(moment[3]), words
