"""The sentences of the costing app in English, by the code of what they say."""

from __future__ import annotations

from collections.abc import Mapping

NUMBERS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve")
"""Numbers as a line begins with them, from nothing on."""

_NO_DENSITY = "add grams per mL for this food"
_NO_PIECE_WEIGHT = "add grams each for this food"
_NO_UNIT_WEIGHT = "the weight of one {missing} is not known; write the line or the price in g"

_NOT_COUNTED: Mapping[str, str] = {
    "no_food": "no food is chosen for this line",
    "no_price": "no price yet",
    "price_in_currencies": "its price is in {currencies:currencies}, which does not add to {currency}",
    "price_over": "its sale price ended on {last_day:day}",
    "no_amount": "no amount is given",
    "needs_cooking_test": "it is sold dry: type what it weighs cooked under Yields",
    "needs_pieces": "say how many of “{unit}” one piece from the shop has",
    "unknown_unit": "“{unit}” is not a unit we know",
    "needs_density": f"cannot be converted from {{own:unit}} to {{base:unit}}: {_NO_DENSITY}",
    "needs_piece_weight": f"cannot be converted from {{own:unit}} to {{base:unit}}: {_NO_PIECE_WEIGHT}",
    "needs_unit_weight": f"cannot be converted from {{own:unit}} to {{base:unit}}: {_NO_UNIT_WEIGHT}",
    "side_in_currency": "its prices are in {own}, which does not add to {currency}",
    "side_unpriced": "none of its ingredients has a price yet",
    "electricity": "electricity",
    "not_measured": "no cook of it has been measured yet",
    "no_kwh_price": "no price for a kilowatt-hour is known",
    "own_price_in_currency": "your price is in {own}, which does not add to {currency}",
    "tariff_in_currency": "its tariff is in {own}, which does not add to {currency}",
    "gap_of_side": "{side}: {what}",
    "made_electricity": "electricity of {made}",
    "made_share_unknown": "how much of {made} goes in is not known: type it in portions, or in g where that recipe says what one "
    "of its servings weighs",
}

_SOURCES: Mapping[str, str] = {
    "quote": "{price} for {pack} at {shop}, {day:day}",
    "quote_typed": "{price} for {pack}, as typed",
    "more_shops": "{more} more",
    "prices_of": "prices of {months}",
    "prices_of_at": "prices of {months} at {shops}",
    "under_one_percent": "under 1 %",
    "percent": "{share_pct} %",
    "pack_for_taxed": "{pack} for {price} and {tax_pct} % tax",
    "quote_taxed": "{price} and {tax_pct} % tax for {pack} at {shop}, {day:day}",
    "own_price": "your own price",
    "tariff": "tariff {name}",
    "refuse_in_table": "refuse in the food table",
    "own_test": "own test",
    "own_test_after": "own test, {preparation}",
    "used": "{share_pct} % of it is used",
    "used_by": "{share_pct} % of it is used ({source})",
    "all_used": "all of it",
    "newest_prices": "Each price is the newest seen by {by:day}.",
    "median_prices": "Each price is the median of the last {detail} seen by {by:day}.",
    "shop_prices": "Each price is the newest at {detail} by {by:day}; where that shop has none, the newest anywhere.",
    "cheapest_prices": "Each price is the cheapest of the shops’ newest seen by {by:day}.",
    "taken_for_pack": "one {unit} is taken for one pack of {amount} {pack_unit}",
    "cooked_share": "{share_pct} % of its weight when cooked",
    "skipped": "{food}: the newer price at {shop}, {day:day}, was not used, {reason}.",
    "month": "{last:%B %Y}",
    "months": "{first:%B} to {last:%B %Y}",
    "months_of_years": "{first:%B %Y} to {last:%B %Y}",
}

_SUMS: Mapping[str, str] = {
    "at_least": "at least {amount}",
    "not_known": "not known",
    "between": "{least} to {most}",
    "per_kilogram": "{price} per kg",
    "per_litre": "{price} per L",
    "a_piece": "{price} a piece",
    "a_unit": "{price} a {unit}",
    "row_each_serving": "each serving",
    "basket_lacks": "has no {foods}",
    "basket_saves": "Buying each thing where it costs least saves {saves} over {shop} alone.",
    "basket_saves_nothing": "Nothing is cheaper elsewhere than at {shop}.",
    "no_whole_basket": "No shop has everything.",
    "prices_drawn": "{number} prices of {food} from {first:day} to {last:day}: {least} to {most}.",
}

_RECEIPT: Mapping[str, str] = {
    "one_serving": "{number} serving",
    "servings": "{number} servings",
    "optional": "optional",
    "electricity_of": "electricity, {energy}",
    "made_before_wh": ", {energy} of it for what was made before",
    "made_before": "made before",
    "made_now": "made in the same cook",
    "made_by": "{title}, edition {edition}",
    "made_batch": "{cost} for {servings}",
    "made_share": "{portions} of {servings}",
    "at_kwh_price": "{price} per kWh, {source}",
    "at_kwh_price_estimated": "{price} per kWh, {source}, estimated",
    "seasoning": "seasoning, {share_pct} % allowance",
    "one_portion": "{side}, {portions} portion",
    "portions": "{side}, {portions} portions",
    "not_added": "not added",
    "with_each_serving": "{each} with each serving",
    "with_each_serving_in_proportion": "{each} with each serving, in proportion to what {servings} of it cost",
    "together": "Together",
    "each_serving": "{each} each serving",
    "each_serving_rounded": "{each} each serving; the exact sum, rounded once",
    "lines_rounded": "The printed lines add up to {lines}: each is rounded by itself. The total, {total}, is the exact sum "
    "rounded once.",
    "middle_of_range": "Costed with the middle of a range: {lines}.",
    "sides_by_portion": "A side is counted by the portion, with its own electricity.",
    "pack_for": "{pack} for {price}",
    "shop_and_day": "{shop}, {day:day}",
    "all_of_it_used": "all of it used",
    "line_to_taste": "To taste, not counted.",
    "line_tap": "From the tap, not counted.",
    "line_apart": "If you like: not in the total.",
    "line_joint": "One {food} gives several things: it is charged once.",
    "coverage": "{counted} of {lines} lines",
    "with_option": "with {line}",
    "with_all_options": "With all of these",
    "option_unpriced": "no price",
    "served_cost": "{day:day}: {made} made, {served} served, {each} a portion that was served, {as_made} as made.",
    "served_too_many": "{day}: more portions were told than the {made} that were made, so what one cost is not known.",
    "served_left": "{portions} left over and kept, worth {cost}.",
    "served_thrown": "{portions} thrown away, {cost}.",
    "served_open": "{portions} nobody accounts for, {cost}.",
    "grams_between": "{least} to {most} g",
    "left_over": "{amount} left over",
    "till_of_meal": "Everything for the meal, sides too, from an empty larder. What dish and sides both take shares its packs.",
    "till_of_dish": "If everything is bought for this dish alone and the larder is empty.",
    "uncooked": "No step is marked as cooking: no electricity is counted.",
}

_CARD: Mapping[str, str] = {
    "on_paper": "{servings} cost {total}{coverage} (prices of {months}).",
    "on_paper_together": "{servings} cost {total}{coverage}; with {sides}, {together} (prices of {months}).",
    "on_paper_coverage": " for {coverage}",
    "cost_in_all": "{total} for {servings}",
    "brief": "a serving",
    "brief_at_least": "a serving, at least",
    "headline": "each serving{energy}, prices of {months}",
    "headline_at_least": "each serving at least{energy}, prices of {months}",
    "energy_estimated": ", energy estimated",
    "lines_priced": "{priced} of {lines} lines have a price",
    "line_unpriced_yet": "1 line has no price yet",
    "lines_unpriced_yet": "{lines} lines have no price yet",
    "line_unpriced": "{recipe}: 1 line has no price.",
    "lines_unpriced": "{recipe}: {lines} lines have no price.",
    "prices_changed": "{recipe}: ingredients of a serving: {then} in edition {edition}, {now} now. Publish it again.",
    "prices_changed_by": "{recipe}: ingredients of a serving: {then} in edition {edition}, {now} now; {moved}. Publish it again.",
    "cause_price": "{what}, {before} then, {after} now: {moved}",
    "cause_yield": "{what}, its yield: {moved}",
    "cause_amount": "{what}, its amount: {moved}",
    "cause_line_new": "{what}, which is new: {moved}",
    "cause_line_gone": "{what}, which is gone: {moved}",
    "cause_coverage_new": "{what}, which is counted now: {moved}",
    "cause_coverage_gone": "{what}, which is not counted any more: {moved}",
    "cause_weight": "{what}, what it weighs: {moved}",
    "cause_link": "{what}, which is another food now: {moved}",
    "cause_item": "{what}, another pack, {before} then, {after} now: {moved}",
    "cause_group": "another number of servings: {moved}",
    "cause_made": "{what}, what it is made of: {moved}",
    "cause_rule": "{what}, by another rule, {before} then, {after} now: {moved}",
    "cause_energy": "watt-hours: {moved}",
    "cause_tariff": "price of a kilowatt-hour: {moved}",
    "cause_electricity_new": "electricity, which is counted now: {moved}",
    "cause_electricity_gone": "electricity, which is not counted any more: {moved}",
    "cause_program": "what the records of that day do not tell, or this program counts in another way: {moved}",
    "cause_allowance": "seasoning: {moved}",
    "cause_shared": "what parts of one thing share: {moved}",
    "more": "{amount} more",
    "less": "{amount} less",
    "no_difference": "the same",
    "under_a_coin": "less than a coin",
    "no_cost": "nothing known",
    "prices_stale": "Prices older than {days} days: {foods}.",
    "more_foods": "{more} more",
}

_SLIP: Mapping[str, str] = {
    "slip_weighed": "weighed: {amount} at {each}",
    "slip_several": "{count} of them",
    "slip_question": "The number may count things: type as the pack what the price bought.",
    "slip_times": "several of one",
    "slip_discount": "discount",
    "slip_deposit": "deposit, outside the cost",
    "slip_rounding": "rounding of the cash, outside the cost",
    "slip_tax_in": "tax that is in the prices",
    "slip_tax_on": "tax on top, outside the cost",
    "slip_subtotal": "subtotal",
    "slip_total": "the total",
    "slip_paid": "how it was paid",
    "slip_after": "behind the total, left alone",
    "slip_no_total": "The lines come to {lines}. The slip names no total to compare it with.",
    "slip_closes": "The lines come to {lines}, as the total says.",
    "slip_more": "The lines come to {lines}, the total on the slip is {total}: {difference} more.",
    "slip_less": "The lines come to {lines}, the total on the slip is {total}: {difference} less.",
}

_PRICE_KEPT: Mapping[str, str] = {
    "price_needs_density": f"It counts for lines in the same unit. In others it cannot be converted: {_NO_DENSITY} ({{food}}).",
    "price_needs_piece_weight": "It counts for lines in the same unit. In others it cannot be converted: "
    f"{_NO_PIECE_WEIGHT} ({{food}}).",
    "price_needs_unit_weight": "It counts for lines in the same unit. In others it cannot be converted: "
    f"{_NO_UNIT_WEIGHT} ({{food}}).",
}

_TOGETHER: Mapping[str, str] = {
    "cost_together": "for all of it, bought as needed",
    "together_uncosted": "{title}: none of its ingredients has a price, so its cost is not in the sum.",
    "together_lacks": "{title}: the cost lacks {what}.",
    "together_in_currency": "{title}: its prices are in {own}, which does not add to {currency}.",
    "together_energy_open": "{title}: its electricity may cost more.",
    "shop_for_all": "Shopping list for all of it",
}

SENTENCES: Mapping[str, str] = {**_NOT_COUNTED, **_SOURCES, **_SUMS, **_RECEIPT, **_CARD, **_SLIP, **_PRICE_KEPT, **_TOGETHER}
"""Everything that the app says as a reader sees it."""
