"""What changed since a revision was cooked, in words."""

from __future__ import annotations

from kitchen.domain.since_cooked import SinceCooked
from kitchen.words.remarks import sentence, words_of
from kitchen.words.sentences import Language


def since_cooked_words(found: SinceCooked, language: Language) -> str:
    """Return what differs and what it means, to follow "since then"; empty where nothing differs.

    Examples
    --------
    >>> from kitchen.domain.remark import remark
    >>> changed = (remark("more_food", by_g=150), remark("liquid", before_ml=500, after_ml=800))
    >>> since_cooked_words(SinceCooked(changed, more=True), "en")
    '150 g more food, liquid 500 → 800 mL, so the figures are low for this one'
    """
    if not found.differs:
        return ""
    unknown = [sentence(language, "amount_unweighed", name=name) for name in found.unweighed]
    return ", ".join([*(words_of(said, language) for said in found.said), *unknown, words_of(found.meaning, language)])
