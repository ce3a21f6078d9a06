"""What is said of several meals together, in English, by the code of what they say."""

from __future__ import annotations

from collections.abc import Mapping

TOGETHER: Mapping[str, str] = {
    "together_energy": "at the socket, for all of it",
    "together_minutes": "one after the other",
    "together_minutes_about": "one after the other, about",
    "together_unmeasured": "{title}: no cook of it has been measured, so its watt-hours are not in the sum.",
    "together_may_be_more": "{title}: it takes at least so much, and may take more.",
    "together_no_minutes": "{title}: how long it takes is not known.",
    "charges_one": "All of it fits on one charge of {capacity} ({name}){reserve}.",
    "charges_sure": "All of it takes {most:,} charges of {capacity} ({name}){reserve}.",
    "charges_between": "All of it takes {fewest:,} to {most:,} charges of {capacity} ({name}){reserve}.",
    "charges_at_least": "All of it takes at least {charges} of {capacity} ({name}){reserve}: not all is known.",
    "charge_single": "1 charge",
    "charge_several": "{many:,} charges",
    "first_beyond": "Cooked in this order, “{title}” is the first that does not fit on the first charge.",
    "first_may_not_fit": "Cooked in this order, “{title}” may be the first that does not fit on the first charge.",
    "first_between": "Cooked in this order, “{may}” may be the first that does not fit on the first charge; “{sure}” does not.",
    "alone_beyond": "More than one charge gives: {titles}.",
    "meal_verdict": "{title}: {verdict}",
    "meal_on_charge": "{share} of a charge, charge {charge:,}",
    "meal_between_charges": "{share} of a charge, charge {earliest:,} to {latest:,}",
    "meal_from_charge": "{share} of a charge, charge {earliest:,} or later",
    "meal_unknown": "not measured, charge not known",
    "reserve_kept": ", {reserve}",
}
