"""How a vessel is filled, in words."""

from __future__ import annotations

from kitchen.domain.vessel import MOST_BATCHES, Filling, FoodVolume
from kitchen.words.remarks import sentence
from kitchen.words.sentences import Language

_MOST_NAMED = 3


def filling_words(found: Filling, language: Language) -> str:
    """Return that the food does not go into the vessel at once, and what to do; empty where it fits.

    Examples
    --------
    >>> from kitchen.domain.vessel import FoodVolume, Vessel, filling
    >>> words = filling_words(filling(Vessel("4 L pressure cooker", 4000), FoodVolume(4000, unknown=("squash",))), "en")
    >>> words.replace(chr(160), " ").partition(": ")[2]
    'cook it in 2 equal batches, one after the other.'
    """
    if not found.overfull:
        return ""
    volume, vessel = found.volume, found.vessel
    swells = volume.expands and vessel.foam_limit < vessel.fill_limit
    food = sentence(language, "least_food" if volume.unknown else "about_food", food=_litres(volume.in_batch_ml(1)))
    gap = f" ({unknown_words(volume, language)})" if volume.unknown else ""
    what = f" {sentence(language, 'what_swells', name=volume.expands[0])}" if swells else ""
    return sentence(
        language,
        "fits_in_no_batches" if found.batches is None else "fits_in_batches",
        food=f"{food}{gap}",
        limit=_litres(found.limit_ml),
        vessel=sentence(language, "an_before" if vessel.name[:1] in "aeio8" else "a_before", name=vessel.name),
        what=what,
        batches=found.batches or MOST_BATCHES,
    )


def batch_words(found: Filling, batches: int, language: Language) -> str:
    """Return that it takes more than one potful, and of what size; empty for one."""
    if batches == 1:
        return ""
    each = _litres(found.volume.in_batch_ml(batches))
    return sentence(language, "in_least_batches" if found.volume.unknown else "in_batches", batches=batches, each=each)


def unknown_words(volume: FoodVolume, language: Language) -> str:
    """Return whose volume is not in the sum, as a clause; empty where nothing is missing."""
    if not volume.unknown:
        return ""
    more = len(volume.unknown) - _MOST_NAMED
    *names, last = [*volume.unknown[:_MOST_NAMED], *([sentence(language, "more_names", more=more)] if more > 0 else [])]
    listed = sentence(language, "names_and", names=", ".join(names), last=last) if names else last
    return sentence(language, "room_unknown", names=listed)


def _litres(volume_ml: float) -> str:
    return f"{volume_ml / 1000:.1f}\u00a0L" if volume_ml >= 100 else f"{volume_ml:.0f}\u00a0mL"
