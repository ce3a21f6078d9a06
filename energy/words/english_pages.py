"""The sentences of the energy app's cards, pages and drawings in English, by the code of what they say."""

from __future__ import annotations

from collections.abc import Mapping

_FIGURES: Mapping[str, str] = {
    "nothing": "nothing",
    "up_to": "up to {most}",
    "from_to": "{least} to {most}",
    "at_least": "at least {figure}",
    "at_most": "at most {figure}",
    "about": "about {figure}",
    "under": "under {figure}",
    "moment": "minute {at_s:minute}",
    "day_and_clock": "{day:day}, {clock}",
}

_HOW_SURE: Mapping[str, str] = {
    "measured_one_run": "measured, one run",
    "measured_once": "measured once",
    "measured_twice": "measured twice",
    "measured_often": "measured {runs} times",
    "measured_on_revision": "measured on revision {revision}",
    "estimated": "estimated",
}

_HEADLINES: Mapping[str, str] = {
    "least_energy": "least energy",
    "most_energy": "Energy a serving, at most",
    "lowest_peak": "lowest peak",
    "most_peak": "Peak, at most",
    "each_of_all": "each serving, {total} in all",
    "each_of_all_estimated": "each serving, estimated, {total} in all",
    "at_peak": "at its peak",
    "at_peak_or_more": "at its peak, or more",
    "on_average": "on average",
    "cooking": "{cooking} cooking",
    "cooking_and_attended": "{cooking} cooking, {attended} at the pot",
    "cooking_and_attended_estimated": "estimated, {cooking} cooking, {attended} at the pot",
    "not_attended": "none",
    "mean_power": "{mean_w:watts} mean",
    "element_off": "element off",
}

_KIT: Mapping[str, str] = {
    "kit_question": "What fits my battery?",
    "kit_holds": "your battery, your price and your height",
    "in_own_vessel": "in a {name}",
    "for_your_kit": "for your kit: {things}",
    "kit_battery_wh": "battery {value:wh}",
    "kit_inverter_w": "inverter {value:watts}",
    "kit_price_per_kwh": "your own price",
    "kit_altitude_m": "height {value:,.0f}\u00a0m",
    "kit_ambient_c": "air {value:celsius}",
    "kit_food_start_c": "food {value:celsius}",
}

_LINKS: Mapping[str, str] = {
    "all_runs": "Runs",
    "all_appliances": "Appliances",
    "all_sources": "Power sources",
    "all_meters": "Meters",
    "all_tariffs": "Tariffs",
    "start_cook": "Start a cook",
    "how_start_cook": "at the run desk, by its clock",
    "record_cook": "Record a cook",
    "how_record_cook": "readings of a meter, minute by minute",
    "print_sheet": "Print a log sheet",
    "how_print_sheet": "to fill in by hand, A5 or larger",
    "type_sheet": "Type in a sheet",
    "how_type_sheet": "its rows, by its numbers",
    "recipes_runs": "Runs",
    "how_recipes_runs": "every measured cook of this recipe",
    "nothing_measured": "{title}: nothing measured yet",
    "never_finished": "{title}, run of {day:day}: never finished",
    "sent_waits": "{title}, run of {day:day}: readings that another cook’s device sent ({count:.0f}) wait for your word",
    "sent_taken": "Taken in ({count:.0f}). The run’s figures follow.",
    "sent_refused": "Left out ({count:.0f}). The run’s figures stand without them.",
    "nothing_waits": "Nothing of this device waits here any more.",
    "looks_wrong": "{title}, run of {day:day}: something looks wrong in it",
    "measured_on_day": "measured {day:day}, {energy}",
    "cooked_on_day": "cooked {day:day}",
    "stands_running": "still cooking",
    "stands_counts": "counts",
    "stands_accepted": "counts, accepted with a reason",
    "stands_flagged": "waits for your verdict",
    "stands_left_out": "left out",
}

_MEASURED: Mapping[str, str] = {
    "run_behind": "{day:day}, {energy} for {servings}",
    "run_behind_because": "{day:day}, {energy} for {servings}: {why}",
    "lies_apart": "The cook of {day:day}, {energy}, lies farther from the others than chance explains: look at it.",
    "spread_next": "The next cook may need {spread}.",
    "spread_next_usual": "The next cook may need {spread}: measured once, so this rests on how much cooks usually differ.",
    "in_the_middle": "In the middle of that, and drawn here: {energy}.",
    "least_drawn": "What is drawn here is the least of it.",
    "added_from_watts": "Added up from the watts that the meter showed.",
    "worked_out_from_charge": "Worked out from the fall of the battery’s charge.",
    "measured_in_more_ways": "Measured in more than one way.",
    "more_than_one_counter": "Counters of more than one meter.",
    "counter_at_socket": "Counter at the socket, {step_wh:g}\u00a0Wh steps.",
    "counter_on_battery": "Counter on the battery’s display, {step_wh:g}\u00a0Wh steps.",
    "socket_worked_out": "What reached the socket is worked out from there: {losses}",
    "earlier_changed": "Measured on revision {revision}; the recipe has changed since.",
    "earlier_same": "Measured on revision {revision}, which has the same food, liquid and stages as this one.",
    "earlier_since": "Measured on revision {revision}; since then {changed}.",
    "like_a_laptop": "About what a {laptop_w:watts} laptop uses in {span_s:minutes}.",
    "way_counter": "from the meter’s counter",
    "way_watts": "added up from the watts",
    "way_charge": "from the fall of the battery’s charge",
    "way_none": "too little was read",
    "not_known": "not known",
    "charge_display": "the battery’s charge display",
    "meter_at_socket": "{name}, at the socket",
    "meter_on_battery": "{name}, on the battery’s own display",
    "meter_steps": "{meter}: steps of {step_wh:wh}, good to {accuracy_pct:percent}",
}

_OTHER_MEANS: Mapping[str, str] = {
    "on_yours_unknown": "What it takes on your {cooker} is not known. {why}",
    "no_figure_for_kind": "No published figure for that kind is kept.",
    "on_yours": "On your {cooker} it takes {takes} up to the boil, estimated: {band} reaches the pot ({source}). Holding it is "
    "not in that.",
    "elsewhere": "On {appliance}: {energy} for {servings}, {measured}.",
    "share_of_a_day": "All of it is {share} of what a typical British home uses in a day.",
    "cooker_took": "this cooker took {energy}",
    "cooker_would_take": "this cooker would take {energy}, estimated",
    "burnt": "{least_g:.0f} to {most_g:.0f}\u00a0g",
    "band": "{low_pct:.0f} to {high_pct:.0f}\u00a0%",
    "fuel_source": "{source}; {mj_per_kg:g}\u00a0MJ/kg ({basis})",
}

_PAYING: Mapping[str, str] = {
    "cost_unknown": "What its electricity costs is not known: {why}.",
    "from_the_wall": "{wall} from the wall at {price} a kilowatt-hour.",
    "from_the_wall_yours": "{wall} from the wall at your {price} a kilowatt-hour.",
    "from_the_wall_tariff": "{wall} from the wall at {price} a kilowatt-hour ({tariff}).",
    "carbon": "{grams} of CO₂ ({per_kwh:g}\u00a0g for a kilowatt-hour).",
    "carbon_after": "{grams} of CO₂ ({per_kwh:g}\u00a0g for a kilowatt-hour, {whose}).",
}

_FED: Mapping[str, str] = {
    "kept_in_reserve": "with {reserve_pct:percent} kept in reserve",
    "inverter": "Inverter {efficiency_pct:percent}.",
    "inverter_idle": "Inverter {efficiency_pct:percent}, idle {idle_w:watts}.",
    "fed_one_pot": "1 pot",
    "fed_one_pot_at_most": "at most 1 pot",
    "fed_pots": "{most:,} pots",
    "fed_pots_at_most": "at most {most:,} pots",
    "fed_pots_between": "{fewest:,} to {most:,} pots",
    "fed_one_meal": "1 meal",
    "fed_one_meal_at_most": "at most 1 meal",
    "fed_meals": "{most:,} meals",
    "fed_meals_at_most": "at most {most:,} meals",
    "fed_meals_between": "{fewest:,} to {most:,} meals",
    "beyond_a_charge": "More than one charge: {share} of {capacity}.",
    "of_a_charge": "{share} of {capacity}, {pots} a charge.",
    "no_whole_pot": "{share} of {capacity}: no whole {potful} {reserve}.",
    "one_pot": "pot",
    "one_meal": "meal",
}

_DRAWINGS: Mapping[str, str] = {
    "of_all_batches": "{batches} batches together",
    "batch_number": "batch {number}",
    "in_each_batch": "In each batch: {stages}.",
    "no_room_for_label": "Too narrow for a label: {stages}.",
    "one_minute": "1 minute",
    "minutes": "{minutes:,} minutes",
    "unit_energy": "watt-hours",
    "unit_minutes": "minutes",
    "one_takes": "{stages} takes {part} {unit}.",
    "they_take": "{stages} take {part} {unit}.",
    "part_of": "{part} of {whole}",
    "all_of": "all {whole}",
    "spread_out": "{whole} {unit} over {count} stages, the most of them in one: {stage}, {most}.",
    "one_costs": "{stages} takes {energy_pct:percent} of the energy and {time_pct:percent} of the time.",
    "they_cost": "{stages} take {energy_pct:percent} of the energy and {time_pct:percent} of the time.",
    "nothing_read": "Nothing was read yet.",
    "climbed": "{energy} watt-hours after {span}.",
    "climbed_then_still": "{energy} watt-hours after {span}; nothing more in the {rest} after that.",
    "runs_climb": "{letter} {energy} watt-hours in {span}",
    "peak_at": "The peak is {peak}, {when}{more}.",
    "peak_untold": "The highest watts stand {when}{more}.",
    "from_the_start": "from the start",
    "first_after": "first after {span}",
    "came_on_times": "; the element came on {times} times",
    "unread": "; {span_s:minutes} without a reading",
    "ordinary_week": "An ordinary week in {month}: on Mondays it is cheapest from {windows}.",
    "came_on": "The element came on {times}.",
    "came_on_dots": "The element came on {times}: small dots.",
    "once": "once",
    "twice": "twice",
    "times": "{times:,} times",
    "diamond": "A diamond stands where the counter was set back.",
    "mean_between": "Mean watts between two readings of the counter: what happened between them is not known.",
    "lowest_and_highest": "The lowest and the highest watts of each moment; the shaded area is the energy.",
    "watts_over": "Watts over {span_s:minutes}, {peak_w:watts} at the most.",
    "one_outside": "{where}: that reading is kept and not counted.",
    "some_outside": "{where}: those readings are kept and not counted.",
    "before_start": "{count:,} before the start",
    "after_end": "{count:,} after the end",
}

_RUN: Mapping[str, str] = {
    "peak_or_more": "at its peak or more: no display showed it",
    "figures_from": "From {method}, {place}.",
    "method_counter": "the meter’s counter",
    "method_watts": "the watts over time",
    "method_charge": "the fall of the battery’s charge",
    "at_socket": "at the socket",
    "picture_shows": "{energy} at the socket. {contrast}",
    "out_of_battery": "out of the battery",
    "part_display": "the display’s step",
    "part_accuracy": "the meter’s accuracy",
    "part_marks": "stage marks that fall between two readings",
    "part_holes": "times of which the readings tell nothing",
    "part_edges": "switching between two samples of a ticking element",
    "charge_shown_once": "One cook, metered at the socket and read on the charge display, shows that one per cent of the charge "
    "gives {each} at the socket. Kept, it makes the share of a charge and the meals of one surer than the label does.",
    "charge_shown": "{cooks} cooks, metered at the socket and read on the charge display, show that one per cent of the charge "
    "gives {each} at the socket. Kept, it makes the share of a charge and the meals of one surer than the label does.",
    "charge_kept": "Kept: {each} at the socket for one per cent of the charge. A battery gives less with the years and in the "
    "cold.",
    "both_ends": "Measured at both ends: the charge fell by {fall_pct:percent}, which is {battery_wh:wh}. Of that {reached} "
    "reached the socket; the inverter’s own draw is in it.",
    "clocks_apart": "The clocks of phones and server stood {apart} apart at different moments of this cook: one of them was set, "
    "or a phone’s is wrong. Each press was moved to the server’s time as it was known; look whether its readings are in order.",
    "coverage": "{readings} readings cover {share_pct:percent} of the time; the longest gap is {gap_s:minutes}.",
}

_HEAT: Mapping[str, str] = {
    "roughly_from_water": "Roughly, from the water in it alone: {foods}.",
    "food_and_pot": "food and pot",
    "the_food": "the food",
    "had_taken": "By the end of “{stage}” {what} had taken {heat}; no energy was measured by then.",
    "had_taken_of": "By the end of “{stage}” {what} had taken {heat} of the {measured} measured: {share}.",
    "had_taken_of_rest": "By the end of “{stage}” {what} had taken {heat} of the {measured} measured: {share}; the rest went "
    "into the air and into steam.",
    "had_taken_of_rest_uncounted": "By the end of “{stage}” {what} had taken {heat} of the {measured} measured: {share}; the "
    "rest went into what is not counted here, the air and steam.",
    "food_row": "Food, {mass_kg:.2f}\u00a0kg, from {start_c:.0f} to {end_c:.0f}\u00a0°C",
    "pot_row": "Pot, {mass_kg:.2f}\u00a0kg, from {start_c:.0f} to {end_c:.0f}\u00a0°C",
    "measured_until": "Measured by the end of “{stage}”",
    "efficiency": "Efficiency",
}

_BESIDE_EACH_OTHER: Mapping[str, str] = {
    "took": "{letter} took {difference} than A.",
    "took_each": "{letter} took {difference} than A, each serving.",
    "took_by": "{letter} took {difference} than A ({share_pct:percent}).",
    "took_by_each": "{letter} took {difference} than A ({share_pct:percent}), each serving.",
    "took_both": "{letter} and A took {difference}.",
    "took_both_each": "{letter} and A took {difference}, each serving.",
    "time_in_all": "Time in all",
    "time_cooking": "Cooking",
    "time_at_pot": "At the pot",
    "each_serving": "Each serving",
    "in_all": "In all",
    "peak": "Peak",
    "no_such_stage": "no such stage",
    "from_revision": "From revision {before} to {after}",
    "one_at_battery": "{letters} was measured at the battery. What reached the socket is worked out from there, so that all "
    "stand on one side; its ± has grown by that.",
    "some_at_battery": "{letters} were measured at the battery. What reached the socket is worked out from there, so that all "
    "stand on one side; its ± has grown by that.",
    "condition_revision": "Revision",
    "condition_appliance": "Appliance",
    "condition_source": "Source",
    "condition_meter": "Meter",
    "condition_servings": "Servings",
    "condition_air": "Air",
    "condition_food": "Food at the start",
    "condition_altitude": "Altitude",
    "not_noted": "not noted",
}

_DESK: Mapping[str, str] = {
    "pressed_pause": "paused",
    "pressed_resume": "went on",
    "pressed_finish": "finished",
    "pressed_photo": "a photo",
    "stage_begins": "{stage} begins",
    "stage_of": "stage {number} of {count}",
    "about_minute": "from about minute {minute:f}",
    "planned_minutes": "planned {minutes:f}\u00a0min",
}

_FILES: Mapping[str, str] = {
    "read_into_this": "This very file was read into this run on {day:day}. Its readings are here already.",
    "read_into_other": "This very file was read into the run of {moment} ({title}) already.",
    "no_column_used": "no column is used",
    "column": "column {number}",
    "first_row_is_start": "The first row is the run’s start",
    "where_their_times_are": "Where their own times are",
    "do_not_meet": "The file and the run do not meet: the file goes from {first} to {last}, the run from {start}.",
    "do_not_meet_ended": "The file and the run do not meet: the file goes from {first} to {last}, the run from {start} to {end}.",
    "files_clock_wrong": "The file’s clock is wrong: its first row is the run’s start, {start}",
    "runs_start_wrong": "The run’s start is wrong: move the run, with all it holds, to {first}",
    "after_first_row": "{span_s:minutes} after the first row",
    "which_line": "“{said}” is no line. Type the number of the line that names the columns, 0 where none does.",
    "pasted": "pasted text",
    "rows_read": "{rows:,} rows over {span_s:minutes}, {total_wh:wh} in all.",
    "too_far": "{readings:,} readings lie too far from this cook and are left aside.",
}

_GEAR: Mapping[str, str] = {
    "one_without_price": "1 power source will have no price until you pick another tariff.",
    "some_without_price": "{sources} power sources will have no price until you pick another tariff.",
    "devices_sent_of_it": "“{name}” stays: its devices have sent readings, which would go with it and could not be put back.",
    "one_run_rests": "1 run was measured with “{name}”, and the figures rest on it. Remove it first, or keep it and give it "
    "another name.",
    "some_runs_rest": "{runs} runs were measured with “{name}”, and the figures rest on it. Remove them first, or keep it and "
    "give it another name.",
    "an_appliance": "an appliance",
    "a_source": "a power source",
    "a_meter": "a meter",
    "all_day": "all day",
    "charging": "Charging {name}",
    "cooked_for": "{title}, for {servings}",
    "start_now": "now",
    "start_at": "at {clock}",
}

PAGES: Mapping[str, str] = {
    **_FIGURES,
    **_HOW_SURE,
    **_HEADLINES,
    **_KIT,
    **_LINKS,
    **_MEASURED,
    **_OTHER_MEANS,
    **_PAYING,
    **_FED,
    **_DRAWINGS,
    **_RUN,
    **_HEAT,
    **_BESIDE_EACH_OTHER,
    **_DESK,
    **_FILES,
    **_GEAR,
}
