"""Recipes of ten lines for each kind of cooker and of source: what must stand on the page, what must not, and what comes first.

The sentences that each must bring follow from the published charts and manuals that ``cautions.toml`` names.
"""

from __future__ import annotations

import pytest

from energy.cautions.classes import classes_of
from energy.cautions.ranking import ClassedLine, Situation, choose, topics_of_appliance, topics_of_sources
from energy.kinds import APPLIANCE_KINDS, SOURCE_KINDS

CHILLI = """200 g kidney beans, soaked overnight; 500 g beef mince; 2 onions, minced; 3 cloves garlic, minced
1 tbsp ground cumin; 400 g tin chopped tomatoes; 2 tbsp tomato puree; 500 ml beef stock; 1 tbsp oil
300 g long-grain rice"""
PORRIDGE = """200 g rolled oats; 800 ml whole milk; 400 ml water; 2 apples, grated; 1 tsp cinnamon; 50 g raisins
30 g walnuts; 2 tbsp honey; 1 pinch salt; 100 g cranberries"""
MUSHROOM = """300 g oyster mushrooms; 100 g lamb's lettuce; 2 beef tomatoes; 1 tin kidney beans, drained; 200 g tofu
1 l vegetable stock; 2 tbsp soy sauce; 1 tbsp sesame oil; 2 spring onions; 10 g ginger, minced"""
FISH = """400 g cod fillets; 200 g prawns; 500 g mussels; 1 fennel bulb; 1 onion; 400 g passata; 200 ml white wine
500 ml fish stock; 1 pinch saffron; 4 slices bread"""
BURGERS = """500 g ground chuck; 4 burger buns; 4 slices cheddar; 1 egg; 1 onion; 2 beef tomatoes; 1 lettuce
4 rashers bacon; 1 tbsp oil; mayonnaise"""
ROAST = """1 whole chicken; 1 lemon; 20 g butter; 800 g potatoes; 4 carrots; 2 parsnips; 1 onion; 4 sprigs thyme
100 g stuffing; 200 ml chicken stock"""
FRY = """4 eggs; 8 pork sausages; 6 rashers bacon; 200 g black pudding; 4 tomatoes; 200 g mushrooms; 1 tin baked beans
4 slices bread; 20 g butter; 1 tbsp oil"""
BEANS = """250 g dried borlotti beans; 200 g lardons; 1 ham hock; 2 carrots; 1 onion; 2 ribs celery; 2 bay leaves
1 tin tomatoes; 1 l water; 1 tbsp olive oil"""
TEA = "1 l water; 2 tea bags; 100 ml milk; 4 slices lemon; 1 tbsp sugar; 1 piece ginger; 1 cinnamon stick; 2 cloves; honey; mint"
RICE = """300 g basmati rice; 450 ml water; 4 chicken thighs, diced; 2 eggs; 100 g peas; 1 carrot; 2 tbsp soy sauce
1 tsp sesame oil; 10 g ginger; 2 spring onions"""
MEAT = {"poultry_core", "ground_core", "cuts_core", "fish_core", "shellfish_opaque", "bivalves_open", "egg_core", "ham_reheated"}

BY_APPLIANCE = {
    "pressure_cooker": (
        CHILLI,
        {"bean_toxin", "ground_core", "lid_never_forced", "pressure_filled", "rice_cooled"},
        {"poultry_core"},
    ),
    "induction_plate": (
        FISH,
        {"fish_core", "shellfish_opaque", "bivalves_open", "steam_scalds"},
        {"lid_never_forced", "egg_core"},
    ),
    "rice_cooker": (RICE, {"poultry_core", "egg_core", "rice_cooled", "swelling_filled"}, {"ground_core", "bean_toxin"}),
    "kettle": (TEA, {"kettle_marks"}, {*MEAT, "bean_toxin", "swelling_filled"}),
    "slow_cooker": (BEANS, {"bean_toxin", "bean_toxin_slow", "cuts_core", "ham_reheated"}, {"bean_toxin_high", "ground_core"}),
    "skillet": (FRY, {"ground_core", "cuts_core", "egg_core", "cooked_before", "hot_fat_watched"}, {"bean_toxin", "fish_core"}),
    "griddle": (BURGERS, {"ground_core", "egg_core", "cuts_core", "hot_fat_watched", "surfaces_stay_hot"}, {"bean_toxin"}),
    "air_fryer": (ROAST, {"poultry_core", "stuffing_core", "surfaces_stay_hot"}, {"ground_core", "egg_core"}),
    "oven": (ROAST, {"poultry_core", "stuffing_core", "surfaces_stay_hot"}, {"hot_fat_watched", "lid_never_forced"}),
    "other": (MUSHROOM, {"out_of_the_cold", "manual_first"}, {*MEAT, "bean_toxin", "lid_never_forced"}),
}
BY_SOURCE = {
    "battery_station": (
        {"no_charging_in_frost", "battery_aired", "inverter_uncovered", "no_fuel_inside"},
        {"engine_outdoors", "lead_uncoiled"},
    ),
    "vehicle_inverter": ({"engine_outdoors", "cables_and_fuse", "no_cooker_on_a_lighter_socket"}, {"lead_uncoiled", "few_amps"}),
    "hook_up": ({"lead_uncoiled", "residual_current", "few_amps", "no_fuel_inside"}, {"no_charging_in_frost", "engine_outdoors"}),
    "mains": ({"residual_current"}, {"lead_uncoiled", "no_charging_in_frost", "few_amps"}),
}


def lines_of(recipe):
    found = [line.strip() for row in recipe.splitlines() for line in row.split("; ")]
    assert len(found) == 10
    return tuple(ClassedLine(line, classes_of(line)) for line in found)


def keys(recipe, appliance, source="mains", around=()):
    topics = topics_of_appliance(appliance), topics_of_sources([source])
    return [one.entry.key for one in choose(Situation(lines_of(recipe), *topics, around=frozenset(around)))]


@pytest.mark.parametrize("appliance", [key for key, _ in APPLIANCE_KINDS])
def test_each_cooker(appliance):
    recipe, must, must_not = BY_APPLIANCE[appliance]
    found = set(keys(recipe, appliance))
    assert must <= found
    assert not must_not & found
    assert "manual_first" in found


@pytest.mark.parametrize("source", [key for key, _ in SOURCE_KINDS])
@pytest.mark.parametrize("recipe", [CHILLI, PORRIDGE, MUSHROOM, BURGERS])
def test_each_source(source, recipe):
    must, must_not = BY_SOURCE[source]
    found = set(keys(recipe, "induction_plate", source))
    assert must <= found
    assert not must_not & found


@pytest.mark.parametrize(
    ("recipe", "appliance", "source", "around", "first"),
    [
        (CHILLI, "pressure_cooker", "battery_station", (), {"bean_toxin", "ground_core", "lid_never_forced"}),
        (CHILLI, "slow_cooker", "mains", ("high",), {"bean_toxin", "bean_toxin_slow", "bean_toxin_high", "ground_core"}),
        (PORRIDGE, "pressure_cooker", "mains", (), {"foam_blocks_the_valve", "lid_never_forced", "pressure_filled"}),
        (PORRIDGE, "induction_plate", "battery_station", ("frost",), {"no_charging_in_frost", "no_fuel_inside"}),
        (MUSHROOM, "induction_plate", "vehicle_inverter", (), {"engine_outdoors", "cables_and_fuse"}),
        (RICE, "rice_cooker", "mains", ("group",), {"poultry_core", "rice_cooled", "out_of_the_cold"}),
        (FISH, "induction_plate", "hook_up", (), {"bivalves_open", "fish_core", "shellfish_opaque", "lead_uncoiled"}),
    ],
)
def test_what_matters_stands_among_the_first_four(recipe, appliance, source, around, first):
    assert first <= set(keys(recipe, appliance, source, around)[:4])
