"""How many charges several meals take, in sentences."""

from __future__ import annotations

from collections.abc import Sequence

from energy.gear.domain.charges import ChargesTaken, Served
from energy.gear.domain.supply import Supply
from energy.words.figure_words import listed
from energy.words.figures import format_wh
from energy.words.remarks import Language, sentence, words_of


def charges_words(found: ChargesTaken, supply: Supply, titles: Sequence[str], language: Language) -> tuple[str, ...]:
    """Return how many charges all take, and which meal is the first that does not fit on the first."""
    large = listed(list(dict.fromkeys(titles[place] for place in found.beyond)), language)
    alone = sentence(language, "alone_beyond", titles=large) if large else ""
    return tuple(filter(None, (_many(found, supply, language), _first(found, titles, language), alone)))


def _many(found: ChargesTaken, supply: Supply, language: Language) -> str:
    kept = sentence(language, "kept_in_reserve", reserve_pct=supply.reserve_pct) if supply.reserve_pct else ""
    said = {
        "capacity": format_wh(supply.capacity_wh or 0.0),
        "name": words_of(supply.name, language),
        "reserve": sentence(language, "reserve_kept", reserve=kept) if kept else "",
    }
    fewest, most = max(found.fewest, 1), found.most
    if most is None:
        charges = sentence(language, "charge_single" if fewest == 1 else "charge_several", many=fewest)
        return sentence(language, "charges_at_least", charges=charges, **said)
    most = max(most, 1)
    code = "charges_between" if fewest < most else "charges_one" if most == 1 else "charges_sure"
    return sentence(language, code, fewest=fewest, most=most, **said)


def _first(found: ChargesTaken, titles: Sequence[str], language: Language) -> str:
    may, sure = found.first_may, found.first_sure
    if may is None:
        return ""
    if sure is None:
        return sentence(language, "first_may_not_fit", title=titles[may])
    if may == sure:
        return sentence(language, "first_beyond", title=titles[sure])
    return sentence(language, "first_between", may=titles[may], sure=titles[sure])


def served_words(served: Served, share: str, language: Language) -> str:
    """Return what a meal takes and on which charge it begins; without a share nothing is known of it.

    Examples
    --------
    >>> served_words(Served(2, 2), "34 %", "en"), served_words(Served(1, None), "", "en")
    ('34 % of a charge, charge 2', 'not measured, charge not known')
    """
    if not share:
        return sentence(language, "meal_unknown")
    if served.latest is None:
        return sentence(language, "meal_from_charge", share=share, earliest=served.earliest)
    if served.latest == served.earliest:
        return sentence(language, "meal_on_charge", share=share, charge=served.earliest)
    return sentence(language, "meal_between_charges", share=share, earliest=served.earliest, latest=served.latest)
