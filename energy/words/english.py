"""The sentences of the energy app in English, by the code of what they say."""

from __future__ import annotations

from collections.abc import Mapping

from energy.words.english_pages import PAGES
from energy.words.english_together import TOGETHER
from kitchen.words.english import NOT_WEIGHED

_WRONG: Mapping[str, str] = {
    "counter_fell": "The counter fell from {before_wh:g} to {after_wh:wh} at minute {at_s:minute}: taken as a reset, with "
    "{after_wh:wh} drawn since. Check that reading.",
    "counter_fell_twice": "The counter fell from {before_wh:g} to {after_wh:wh} at minute {at_s:minute}, and once more: "
    "taken as a reset, with {after_wh:wh} drawn since. Check that reading.",
    "counter_fell_often": "The counter fell from {before_wh:g} to {after_wh:wh} at minute {at_s:minute}, and {more:.0f} "
    "more times: taken as a reset, with {after_wh:wh} drawn since. Check that reading.",
    "above_rated": "From minute {start_s:minute} to minute {end_s:minute} the meter shows {energy_wh:wh}, but "
    "{rated_w:watts} can draw at most {most_wh:most_wh} in that time: check the readings.",
    "off_stage_draws": "The {kind} from minute {start_s:minute} to minute {end_s:minute} drew {energy_wh:wh}, although nothing "
    "heats then: does its stage stand in the wrong row?",
    "peak_above_rated": "A reading shows {peak_w:watts}, but the cooker is rated {rated_w:watts}: check the reading, the "
    "cooker and what else hung on the meter.",
    "peak_above_source": "The peak of {peak_w:watts} is more than {name} gives ({limit_w:watts}): check the reading and the "
    "rating.",
    "stage_backward": "Time goes backward: stage {stage:.0f} starts at minute {start_s:minute} and ends at minute "
    "{end_s:minute}. Correct its mark.",
    "stages_overlap": "Time goes backward: stage {stage:.0f} starts before stage {before:.0f} has ended. Correct its mark.",
    "start_unread": "Nothing was read in the first {unread_s:minutes}: what was drawn then is missing, so the energy is at "
    "least {energy_wh:least_wh}.",
    "end_unread": "Nothing was read in the last {unread_s:minutes}: what was drawn then is missing, so the energy is at "
    "least {energy_wh:least_wh}.",
    "gap": "The log has a gap of {span_s:minutes} from minute {from_s:minute} on: what was drawn there is a guess.",
    "hole": "The log tells nothing for {span_s:minutes} from minute {from_s:minute} on: {counted_wh:wh} are counted there, and "
    "it may have been up to {most_wh:wh}.",
    "more_holes": "{places:.0f} shorter holes, {span_s:minutes} together, are in the log too.",
    "counter_faulty": "The counter fell from {before_wh:wh} to {after_wh:wh} at minute {at_s:minute}, which is no reset: what "
    "was drawn up to that reading is not known, up to {hidden_wh:wh}. Correct that reading, or say on it that the counter "
    "was reset.",
    "counter_faulty_often": "In {places:.0f} places, first at minute {at_s:minute} from {before_wh:wh} to {after_wh:wh}, the "
    "counter fell, which is no reset: what was drawn up to those readings is not known. Correct them, or say on them that the "
    "counter was reset.",
    "unit_guessed": "No name tells the unit of “{column}”. It was read as {unit}, {read_wh:wh} in the whole file; as {other} it "
    "would be {other_wh:wh}. Say on this page that it is right, or take the file out and point at the unit.",
    "counter_guessed": "No name tells whether “{column}” is a counter. It was read as one, {read_wh:wh}; as the energies of "
    "intervals it would be {other_wh:wh}. Say on this page that it is right, or take the file out and point at what it is.",
    "intervals_guessed": "No name tells whether “{column}” holds the energies of intervals. It was read so, {read_wh:wh}; as a "
    "counter it would be {other_wh:wh}. Say on this page that it is right, or take the file out and point at what it is.",
    "sent_out_used": "The name of “{column}” says that its energy is sent out, not used. Say on this page that it was drawn, or "
    "take the file out and point at another column.",
    "rows_dropped": "{rows:.0f} rows of the file have the time of the row before, with {dropped_wh:wh} in them that are not "
    "counted ({read_wh:wh} are). Say on this page that it is right, or take the file out.",
    "charge_rose": "The charge rose by {rise_pct:percent} until minute {until_s:minute} while cooking: something was "
    "charging the battery, so its fall says too little.",
    "coarse_log": "The element ticks on and off, but the log has a value only every {interval_s:g}\u00a0s: the energy may "
    "be far off. Log every 10\u00a0s or faster.",
    "rare_watts": "The watts were read only about every {interval_s:minutes}: the energy between them is a guess. Read the "
    "counter too.",
    "counter_against_watts": "The counter says {counter_wh:wh} and the watts add up to {watts_wh:wh}: more apart than "
    "both can be off. One of them is wrong.",
    "heat_above_energy": "Food and pot took about {needed_wh:wh}, more than the {measured_wh:wh} measured: wrong meter "
    "side or end temperature, or a missed stage.",
    "more_heat_above_energy": "Food and pot took at least {needed_wh:least_wh}, more than the {measured_wh:wh} measured: wrong "
    "meter side or end temperature, or a missed stage.",
    "hardly_lost": "The heat that food and pot took is {share_pct:percent} of the energy measured: doubtful, hardly any "
    "cooker is that good.",
    "even_less_lost": "The heat that food and pot took is at least {share_pct:least_percent} of the energy measured: doubtful, "
    "hardly any cooker is that good.",
    "cut_short": "It cooked for {cooking_s:minutes}, less than a third of the {method_s:minutes} in the method: it does not "
    "count until you say why it should.",
    "only_charge": "Only the charge was read: give the battery’s capacity in watt-hours, and the energy can be worked out.",
    "too_few_readings": "Too little was read to work out the energy: it takes at least two readings of the counter, the "
    "watts or the charge.",
}

_MADE: Mapping[str, str] = {
    "by_counter": "Energy from the meter’s counter.",
    "by_held_watts": "Energy from the watts: each value held until the next.",
    "by_sampled_watts": "Energy from evenly sampled watts.",
    "by_charge": "Energy out of the battery, from the fall of its charge.",
    "watts_agree": "The watts add up to {watts_wh:wh}: they agree with the counter.",
    "no_stages": "No stages are marked: all of the time counts as cooking.",
    "reading_outside": "1 reading lies outside the stages; the {energy_wh:wh} it shows there do not count.",
    "readings_outside": "{readings:.0f} readings lie outside the stages; the {energy_wh:wh} they show there do not count.",
    "much_lost": "The heat that food and pot took is only {share_pct:percent} of the energy measured: a slow or open pot, or "
    "did it vent?",
    "paused": "Paused for {span_s:minutes}: in the total time, but neither cooking nor at the pot. What was drawn meanwhile "
    "counts.",
    "nothing_after": "In the {span_s:minutes} that were read after the end nothing more was drawn.",
    "drew_after": "After the end it went on drawing {mean_w:watts}: {energy_wh:wh} in {span_s:minutes}. That is not counted.",
    "device_counter_used": "The device’s counter is used: it climbed {used_wh:wh} while the one typed in climbed "
    "{other_wh:wh} (a cross-check).",
    "typed_counter_used": "The counter as typed in is used: it climbed {used_wh:wh} while the device’s climbed {other_wh:wh} "
    "(a cross-check).",
    "brought_to_socket": "Measured at the battery; what reached the socket is worked out with an inverter of "
    "{efficiency_pct:percent}, give or take {spread_pct:percent}, and {idle_w:watts} for itself.",
}

_NOT_IN_FIGURES: Mapping[str, str] = {
    "left_out_by_cook": "Left out by the cook.",
    "too_little_read": "Too little was read.",
    "on_another_appliance": "Cooked on another appliance than {name}.",
    "for_other_servings": "Cooked for {servings:.0f}; the figures are for {figures:.0f}.",
}

_NO_HEAT: Mapping[str, str] = {
    "never_boils": "No stage brings it to the boil, so there is no heat to compare the energy with.",
    "more_than_heated": "On its way to the boil it was held, baked or reduced, so that the heat alone does not say it.",
    "less_than_needed": "{measured_wh:.0f}\u00a0Wh were measured up to the boil, and food and pot take "
    "{needed_wh:.0f}\u00a0Wh: less than that cannot be, so a temperature, a weight or a reading is wrong.",
    "heater_unknown": "No come-up is marked, and the heater’s watts are not known: heating and holding cannot be told apart.",
    "most_went_elsewhere": "{measured_wh:.0f}\u00a0Wh were measured up to the boil, and food and pot take "
    "{needed_wh:.0f}\u00a0Wh: most of the energy went elsewhere, so the heat of the food does not say what more of it takes.",
    "dry_heat": "Dry heat: the food gives off water and ends at no one temperature, so there is nothing to compare the "
    "energy with.",
    "no_stage_boils": "No stage comes up to the boil or holds it, so there is nothing to compare the energy with.",
    "start_not_noted": "Neither the food’s temperature at the start nor the air’s was noted, so the heat cannot be worked out.",
    "starts_hot": "The food started at {start_c:.0f}\u00a0°C, as hot as it gets here.",
    "nothing_weighed": "Of no line in the recipe is it known what it weighs and that it was in the pot.",
}

_NOT_HEATED: Mapping[str, str] = {
    "the_ice": "the ice",
    "melting_uncounted": "It was below freezing at the start: what melting takes is not counted.",
    "the_pot": "the pot",
    "pot_not_noted": "Its weight or its material is not noted with the appliance.",
    "added_at_end": "Added at the end.",
    "kettle_boils_water": "A kettle boils only the water.",
    "to_taste": "To taste: too little to matter.",
    "optional": "Optional: it may have been left out.",
    "amount_unread": "Its amount could not be read.",
    "no_amount": "It has no amount.",
    "food_unknown": "What it is made of is not known: choose its food, or add the food’s water.",
    "perhaps_hot": "It may have gone in hot, and the food’s temperature at the start was not noted.",
    "goes_in_frozen": "It goes in frozen: its ice takes heat of its own.",
    "drained": "What is left of a tin when it is drained is not known.",
    "drained_in_part": "Drained, it is counted with {counted_pct:percent} of what the tin holds; it may be more.",
    "named_after_boil": "The method names it only after the boil.",
}

_ESTIMATES: Mapping[str, str] = {
    "published_before_balances": "It was published before heat balances were kept; its next edition has one.",
    "far_from_measured": "Far from what was measured ({servings:.0f} servings): take this as a first guess, and measure.",
    "ends_unknown": "From what was measured it cannot be told where the energy went, so other amounts are in plain proportion.",
    "holds_longer": "At {altitude_m:,.0f}\u00a0m an open pot boils less hot and must be held longer than it was measured: meat "
    "in moist heat up to a fourth longer at 1,500\u00a0m (FSIS); for other food no figure is published. So it takes at least "
    "this much.",
    "may_not_get_there": "It may not get there: {need_w:most_watts} may be needed to hold {end_c:.0f} °C, and the cooker has "
    "{power_w:watts}. If it does, it takes at least this much.",
    "does_not_get_there": "This cooker does not get there: it takes {need_w:least_watts} or more to hold {end_c:.0f} °C, and it "
    "has {power_w:watts}. The heat of the food alone is this much.",
}

_ANSWERS: Mapping[str, str] = {
    "back_by_your_panel": "Your {panel_w:watts} panel puts it back in {span} of full sun (taken as "
    "{derate_pct:percent} of its rating, pointed at the sun).",
    "back_by_its_panel": "Its {panel_w:watts} panel puts it back in {span} of full sun (taken as "
    "{derate_pct:percent} of its rating, pointed at the sun).",
    "sun_costs_wear": "From the sun it costs nothing but the battery’s wear, {wear}.",
    "back_by_your_charger": "Your {charger_w:watts} charger puts it back in {span}.",
    "back_by_its_charger": "Its {charger_w:watts} charger puts it back in {span}.",
    "turned_down_unknown": "What it takes when it is turned down to that is not known.",
    "turned_down_stops": "Turned down to {power_w:watts}, if the cooker can be, it does not get there: holding its temperature "
    "takes {need_w:least_watts} or more.",
    "turned_down_may_not": "Turned down to {power_w:watts}, if the cooker can be, it may not get there: holding its temperature "
    "alone may take up to {need_w:most_watts}. If it does get there, it takes at least {least_wh:least_wh} to heat and to hold.",
    "turned_down_boils": "Turned down to {power_w:watts}, if the cooker can be, it reaches its temperature in {span}; heating "
    "and holding take {energy}.",
    "turned_down_boils_each": "Turned down to {power_w:watts}, if the cooker can be, each of the {batches} batches reaches its "
    "temperature in {span}; heating and holding take {energy} for all of them.",
}

_SOURCES: Mapping[str, str] = {
    "your_battery": "your battery",
    "your_inverter": "your inverter",
    "watts_unread": "Whether it runs is not known: the cooker’s watts were not read.",
    "rating_unknown": "Whether it runs is not known: no rating in watts is known for {name}.",
    "inverter_not_said": "Whether it runs is not known: say how many watts your inverter gives.",
    "above_rating": "It will not run: {asked_w:watts} is more than the {limit_w:watts} that {name} gives.",
    "above_surge": "It will not run: its peak of {peak_w:watts} is more than {name} gives even for seconds.",
    "only_by_surge": "Tight: its peak of {peak_w:watts} is covered only by the surge rating of {name}.",
    "near_rating": "Tight: {asked_w:watts} is {share_pct:share} of the {limit_w:watts} that {name} gives. Nothing else "
    "may run beside it.",
    "runs": "It runs: {asked_w:watts} is {share_pct:share} of the {limit_w:watts} that {name} gives.",
    "above_plug_share": "Tight: {asked_w:watts} is {share_pct:percent} of the {limit_w:watts} that {name} gives; where the "
    "80\u00a0% rule of the North American code applies, that is too much for one plug.",
    "turned_up": "At the cooker’s full rated power, {rated_w:watts}, it would not.",
    "rating_for_peak": "No display showed the peak: the cooker’s rated {rated_w:watts} stand for it.",
    "your_battery_assumed": "Your battery: the inverter is taken as {inverter_pct:percent} efficient and drawing "
    "{idle_w:watts} for itself, charging as {charging_pct:percent} efficient, with {reserve_pct:percent} kept in reserve.",
}

_BESIDE: Mapping[str, str] = {
    "beside_unknown": "Beside a cooker of {beside_w:watts}: {peak_w:watts} and {beside_w:watts} make {together_w:watts}. "
    "Whether that runs is not known: no rating in watts is known for {name}.",
    "both_run": "Beside a cooker of {beside_w:watts}: {peak_w:watts} and {beside_w:watts} make {together_w:watts}, "
    "{share_pct:percent} of the {limit_w:watts} that {name} gives: both run at once.",
    "both_tight": "Beside a cooker of {beside_w:watts}: {peak_w:watts} and {beside_w:watts} make {together_w:watts}, "
    "{share_pct:percent} of the {limit_w:watts} that {name} gives: tight.",
    "both_too_much": "Beside a cooker of {beside_w:watts}: {peak_w:watts} and {beside_w:watts} make {together_w:watts}, "
    "{share_pct:percent} of the {limit_w:watts} that {name} gives: too much.",
    "start_other_later": "Start the other one {span_s:minutes} later, when this one comes to “{stage}”: then both have room.",
    "no_room_alone": "The other one has no room even alone.",
    "one_after_other": "Cook one after the other: the element of this one draws its full watts in its last heating stage, too.",
}

_STANDING: Mapping[str, str] = {
    "and": " and ",
    "drawn_at_least": "Estimated, {energy} in all; the least of it: {title}",
    "drawn_estimate": "Estimated, {energy} in all; the middle of it: {title}",
    "one_run": "one run",
    "several_runs": "{runs:.0f} runs",
    "in_batches": ", in {batches:.0f} batches, one after the other",
    "estimated_from_sizes": "estimated from cooks for {sizes}{together}",
    "estimated_by_balance": "estimated by the heat balance from {runs} for {servings:.0f}{together}",
    "estimated_in_proportion": "estimated in proportion from {runs} for {servings:.0f}{together}",
}

_WORKING: Mapping[str, str] = {
    "noted_by_cook": "noted by the cook",
    "taken_from_air": "taken from the air’s temperature",
    "usual_start": "as from a house tap, since nobody noted it",
    "usual_air": "as usual, since nobody noted it; or yours",
    "food_in_pot": "Food in the pot",
    "recipes_weights": "the recipe’s weights",
    "food_at_start": "Food at the start",
    "air": "Air",
    "noted_or_yours": "noted by the cook, or yours",
    "perhaps_noted": "noted by the cook or as usual, which was not kept; or yours",
    "hot_at": "Hot at",
    "heat_of_food": "Heat the food takes",
    "by_composition": "specific heat from composition (Choi and Okos)",
    "heat_of_pot": "Heat the pot takes",
    "pot_in_the_range": "its weight or material is not noted, so it is not counted and the range is wider",
    "by_weight_and_material": "its weight and material, ± 30 %",
    "heater_reaches": "Reaches the pot",
    "heater_band": "the kind of heater, without what the pot loses",
    "end_0": "Least reaches the pot",
    "end_1": "Most reaches the pot",
    "end_2": "Most reaches the pot, and steams",
    "unmarked_0": "Most reaches the pot, nothing is lost",
    "unmarked_1": "Least reaches the pot, losses explain the rest",
    "unmarked_2": "Most reaches the pot, losses explain the rest",
    "pressure_minutes": "Minutes under pressure",
    "manuals": "5 % for each 305 m above 610 m (manuals)",
    "methods_temperature": "the method’s own temperature",
    "water_at_height": "water at {altitude_m:,.0f}\u00a0m (IAPWS-IF97, standard atmosphere)",
    "water_under_pressure": "water at {altitude_m:,.0f}\u00a0m, {pressure_kpa:.0f}\u00a0kPa above the air (IAPWS-IF97, "
    "standard atmosphere)",
    "boils_at": "At {altitude_m:,.0f}\u00a0m it boils at {here} instead of {there}.",
}

_RANGE: Mapping[str, str] = {
    "range_between_ends": "where the energy of the measured climb went",
    "range_repeats": "how much one cook differs from the next",
    "range_vessel_heat": "the vessel’s heat",
    "range_food_heat": "the food’s specific heat",
    "range_meter_class": "the meter’s class",
    "range_meter_step": "the steps of its display",
    "range_food_start": "the food’s temperature at the start",
    "range_food_start_there": "the food’s temperature at the start, as you say it",
    "range_air": "the air’s temperature",
    "range_air_there": "the air’s temperature, as you say it",
    "range_gauge_pressure": "the pressure",
    "range_height": "the height above the sea",
    "range_loss_of_amount": "how much more a fuller pot loses",
    "range_frozen_water": "how much of the food is ice",
    "range_vessel_of_later_batch": "how hot the vessel still is for a later batch",
}

_ASSUMED: Mapping[str, str] = {
    "field_helps": "Nobody noted {what}. Noted, it would narrow an estimate for {servings} on another day most, by up to "
    "{narrower_wh:wh}.",
    "two_more_cooks": "The mean is known to ± {now}; two more cooks would give about ± {then}.",
    "noting_helps": "Noting {what} at the next cook would narrow the range most, by up to {narrower_wh:wh}.",
    "unkept": "Whether {what} was noted was not kept with these figures, so the range allows for both.",
    "assumed_food_start": "The food’s temperature at the start was not noted: taken as {value:.0f} ± {half:.0f} °C, as from a "
    "tap.",
    "assumed_air": "The air’s temperature was not noted: taken as {value:.0f} ± {half:.0f} °C.",
    "assumed_gauge_pressure": "The cooker’s pressure is not noted: taken as {value:.0f} ± {half:.0f} kPa above the air.",
    "assumed_height": "The height above the sea was not noted: taken as {value:.0f} ± {half:.0f} m.",
}

_COMPARED: Mapping[str, str] = {
    "same": "the same",
    "same_to_the_meters": "the same within what the meters can tell",
    "more": "{energy} more",
    "less": "{energy} less",
    "longer": "{span_s:minutes} longer",
    "shorter": "{span_s:minutes} shorter",
    "fuel_caution": "Never burn a stove, a barbecue or a lantern inside a tent, an awning or a vehicle, not even with a "
    "window open: carbon monoxide has no smell and kills. An alarm is no substitute.",
}

_PRICES: Mapping[str, str] = {
    "tariff_ended": "the tariff {name} ended on {on:day}",
    "tariff_begins": "the tariff {name} begins on {on:day}",
    "charged_from": "charged from {clock}",
    "cooked_at": "cooked at {clock}",
}

SENTENCES: Mapping[str, str] = {
    **_WRONG,
    **_MADE,
    **_NOT_IN_FIGURES,
    **_NO_HEAT,
    **_NOT_HEATED,
    **_ESTIMATES,
    **_ANSWERS,
    **_SOURCES,
    **_BESIDE,
    **_STANDING,
    **_WORKING,
    **_RANGE,
    **_ASSUMED,
    **_COMPARED,
    **_PRICES,
    **NOT_WEIGHED,
    **PAGES,
    **TOGETHER,
}
