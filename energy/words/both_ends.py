"""What one per cent of a battery's charge gives at the socket, in sentences."""

from __future__ import annotations

from energy.gear.domain.learned import GivenPerPct
from energy.words.figures import format_wh
from energy.words.remarks import Language, sentence


def shown_words(given: GivenPerPct, language: Language) -> str:
    """Return what cooks that were read at both ends showed."""
    each = format_wh(given.wh, given.uncertainty_wh)
    return sentence(language, "charge_shown_once" if given.cooks == 1 else "charge_shown", cooks=given.cooks, each=each)


def kept_words(wh: float, uncertainty_wh: float, language: Language) -> str:
    """Return what is kept of it."""
    return sentence(language, "charge_kept", each=format_wh(wh, uncertainty_wh))
