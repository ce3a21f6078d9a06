"""What stands on a page beside its recipe: comments, tips, credits, shops; told by the names of boxes and by their words."""

from __future__ import annotations

import re
from functools import lru_cache

from kitchen.importers.markup import Element

_BOXES = frozenset(("div", "p", "section", "aside", "ul", "ol", "li", "figure", "blockquote", "footer", "table"))
_NAMES = re.compile(
    r"(?:^|[\s_-])(?:comments?(?:list|form|area)?|respond|tips?|notes?|credits?|captions?|shop|products?|cart|basket|adverts?|advertisement|promo|sponsors?|"
    r"sponsored|newsletter|social|share|sharing|related|ratings?|reviews?|byline)"
    r"(?:[_-]{1,2}(?:list|box|card|area|section|body|widget|content|item|wrap|wrapper|container|text|block|inner|form|holder))*(?:\s|$)",
    re.IGNORECASE,
)
_OF_THE_RECIPE = re.compile(r"ingredient|instruction|direction|method|step", re.IGNORECASE)
_WORDS = re.compile(
    r"(?:(?:photo|photograph|image|picture|illustration|recipe|styling|video)s?(?:graphy)?(?:\s+(?:credits?|courtesy))?"
    r"(?:\s*[:©|–-]\s*|\s+(?:by|of|courtesy\s+of)\s+)\S.{0,60}"
    r"|(?:posted|published|written|uploaded)\s+(?:by|on|at|in)\s.{1,60}|(?:credits?|photographer)\s*[:©]\s*\S.{0,60}|(?:©|\(c\)\s).{0,60}"
    r"|add\s+(?:all\s+|these\s+|ingredients\s+|everything\s+)*to\s+(?:your\s+|my\s+)?(?:cart|basket|trolley|bag|shopping\s+list|list)"
    r"|(?:buy|shop|order)\s+(?:now|online|this\b.{0,40}|these\b.{0,40}|(?:the\s+)?ingredients)|advertisement|sponsored(?:\s+by\s.{0,40})?"
    r"|(?:print|save|share|pin|rate|review|email)(?:\s+(?:this|the))?(?:\s+(?:recipe|it|page))?"
    r"|jump\s+to\s+.{1,30}|(?:cook|screen)\s+mode.{0,40}|reply|leave\s+a\s+(?:reply|comment).{0,20}|show\s+(?:more|less)|read\s+more)[\s.!]*",
    re.IGNORECASE,
)


def is_aside(element: Element) -> bool:
    """Say whether a box is named as something beside the recipe; a box inside a line ("ingredient-notes") is part of it.

    Examples
    --------
    >>> [is_aside(Element("div", {"class": words}, -1, 0)) for words in ("comment-list", "recipe-ingredient-notes", "page")]
    [True, False, False]
    """
    if element.tag == "figcaption":
        return True
    if element.tag not in _BOXES:
        return False
    said = element.attributes
    return any(_names_an_aside(said[name]) for name in ("class", "id") if name in said)


@lru_cache(maxsize=4096)
def _names_an_aside(words: str) -> bool:
    return bool(_NAMES.search(words)) and not _OF_THE_RECIPE.search(words)


def is_aside_line(line: str) -> bool:
    """Say whether a line is no part of a recipe: a credit, or what a button says.

    Examples
    --------
    >>> [is_aside_line(line) for line in ("Photo: Ida Holm", "Add all to basket", "2 eggs", "Save the whites.")]
    [True, True, False, False]
    """
    return len(line) <= 90 and _WORDS.fullmatch(line.strip()) is not None
