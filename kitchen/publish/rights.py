"""What others may do with the data of a recipe, and how they are cited."""

from __future__ import annotations

from dataclasses import dataclass

from kitchen.domain.facts import RecipeFacts
from kitchen.domain.licences import LICENCES
from kitchen.page import PageFrame
from kitchen.words import ENGLISH, sentence


@dataclass(frozen=True)
class Rights:
    """The licence by its name and its address, both empty where none is given; the same in words; and how to cite."""

    licence: str
    address: str
    words: str
    cite_as: str

    @property
    def header(self) -> str:
        """The licence as a ``Link`` header has it (RFC 8288, with the relation of RFC 4946); empty where there is none."""
        return f'<{self.address}>; rel="license"' if self.address else ""


def rights_of(recipe: RecipeFacts, frame: PageFrame, what: str = "cite_recipe") -> Rights:
    """Return the rights to a published recipe; ``what`` is the code of the sentence that cites it or its runs."""
    holder = frame.cite_as or recipe.author or frame.site_name
    words = rights_words(frame.licence, holder)
    year = frame.published_at.year if frame.published_at else ""
    named = {"title": recipe.title, "edition": frame.edition_number or "", "site": frame.site_name, "address": frame.address}
    address = LICENCES.get(frame.licence, "")
    return Rights(frame.licence if address else "", address, words, sentence(ENGLISH, what, author=holder, year=year, **named))


def rights_words(key: str, holder: str) -> str:
    """Return what a licence allows, or whom to ask where none is given, in a sentence."""
    if key not in LICENCES:
        return sentence(ENGLISH, "no_licence", author=holder)
    return sentence(ENGLISH, "licensed", name=sentence(ENGLISH, f"licence_{key}"), key=key, address=LICENCES[key])
