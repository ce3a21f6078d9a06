"""Every remark of the kitchen as a reader sees it."""

import ast

import pytest

from kitchen.domain.portions import CannotScale
from kitchen.domain.remark import Refused, Remark, remark
from kitchen.templatetags.kitchen_words import all_in_words, in_words
from kitchen.words import ENGLISH, refusal_words, words_of
from kitchen.words.english import SENTENCES
from tests.house.tree import TOP, parsed, python_files

DOUBTS = [
    (remark("parts_above_100_g", sum_g=127.2), "Water, protein, fat, carbohydrate and ash come to 127 g of 100 g."),
    (
        remark("parts_below_100_g", sum_g=67.2),
        "Water, protein, fat, carbohydrate and ash come to 67 g of 100 g. Is the rest alcohol or acid?",
    ),
    (
        remark("fibre_above_carbohydrate", part_g=60, whole_g=49.4),
        "Fibre (60 g) is part of carbohydrate (49.4 g), so it cannot be more.",
    ),
    (
        remark("sugars_above_carbohydrate", part_g=51, whole_g=49.4),
        "Sugars (51 g) is part of carbohydrate (49.4 g), so it cannot be more.",
    ),
    (
        remark("saturates_above_fat", part_g=5, whole_g=3.3),
        "Saturated fat (5 g) is part of fat (3.3 g), so it cannot be more.",
    ),
    (
        remark("energy_above_fat", energy_kcal=1113),
        "1113 kcal is more than pure fat holds (about 900 kcal). Is it in kJ? Divide by 4.184.",
    ),
    (
        remark("energy_unlike_parts", energy_kcal=100, low_kcal=262.9, high_kcal=262.9),
        "100 kcal does not fit protein, fat and carbohydrate, which make about 263 kcal.",
    ),
    (
        remark("energy_outside_parts", energy_kcal=20, low_kcal=65.3, high_kcal=262.9),
        "20 kcal does not fit protein, fat and carbohydrate, which make 65 to 263 kcal.",
    ),
    (
        remark("weights_differ", low_g_per_ml=0.507, high_g_per_ml=2.029),
        "The weights by volume differ much: from 0.51 to 2.03 g a millilitre. Is one of them of another measure?",
    ),
    (
        remark("heavier_than_food", g_per_ml=12.5, cup_g=2957.35),
        "12.5 g a millilitre is heavier than any food: a cup of it would weigh about 2957 g.",
    ),
    (
        remark("lighter_than_grain", g_per_ml=0.01, cup_g=2.366),
        "0.01 g a millilitre is lighter than puffed grain: a cup of it would weigh about 2.4 g.",
    ),
]

UNDONE = [
    (remark("step_removed", number=3), "Step 3 was removed."),
    (remark("part_removed", number=1), "Part 1 was removed."),
    (remark("step_moved", was=3, now=2), "Step 3 is number 2 now."),
    (remark("part_moved", was=1, now=2), "Part 1 is number 2 now."),
    (remark("parts_joined", below=2, above=1), "Part 2 was joined to part 1."),
    (remark("one_step_made", steps=1), "One step was made."),
    (remark("steps_made", steps=12), "12 steps were made."),
]

NUTRITION = [
    (remark("not_linked", name="cloud"), "cloud: not linked to a food"),
    (remark("holding_unknown", name="my loaf", food="star loaf"), "my loaf: what star loaf holds is not known"),
    (remark("amount_missing", name="oats"), "oats: no amount"),
    (remark("uptake_unknown", name="oil"), "oil: how much of it the food takes up is not known"),
    (remark("eaten_share_unknown", name="apple"), "apple: how much of it is eaten is not known"),
    (remark("weight_unknown", name="oats"), "oats: its weight is not known"),
    (remark("for_greasing", name="oil"), "oil (for greasing)"),
    (remark("with_its_water", name="salt"), "salt (goes away with its water)"),
    (remark("left_out_optional", name="oil"), "oil (optional)"),
    (remark("left_out_to_taste", name="salt"), "salt (to taste)"),
    (remark("left_out_little", name="thyme"), "thyme (a little, not weighed)"),
    (remark("left_out_zest", name="lemon"), "lemon (zest: a little, not weighed)"),
    (remark("zest_beside_juice", name="lemon"), "zest of the lemon (a little, not weighed)"),
    (
        remark("fibre_in_carbohydrate", foods="rolled oats, rye"),
        "Carbohydrate still holds fibre that is not known: rolled oats, rye.",
    ),
    (remark("liquid_in_pack", foods="tinned beans"), "Counted with the liquid in the pack: tinned beans."),
]

SCALED = [
    (remark("taste_each_batch"), "taste each batch"),
    (remark("start_with", amount="1½ tsp"), "start with 1½ tsp, taste"),
    (remark("greases_one_pan"), "stays the same: greases one pan"),
    (remark("lines_one_pan"), "stays the same: lines one pan"),
    (remark("stays_the_same"), "stays the same"),
    (remark("once_for_each_of", batches=2), "once for each of 2 batches"),
    (remark("once_for_each_batch"), "stays the same: once for each batch"),
    (remark("boils_down"), "boils down: add more only if it needs it"),
    (remark("boils_off_in_batch", amount="250 mL"), "250 mL boils off in each batch"),
    (remark("boils_off_in_pan", amount="1 cup 1 tbsp"), "1 cup 1 tbsp boils off in each pan"),
    (remark("least_liquid"), "the least liquid that the appliance needs"),
    (remark("as_written", words="or 2 small"), "“or 2 small” as written, not scaled"),
    (remark("rounded_from", exact="¾ to 1½"), "rounded from ¾ to 1½"),
]

PORTIONS = [
    (remark("group_out_of_reach", most=500, heads=501), "A group has 1 to 500 people; these are 501."),
    (remark("portion_out_of_reach"), "A serving can be from a tenth of the written size to ten times as large."),
    (remark("too_many_servings", servings=1200, most=500), "That makes 1,200 servings; 500 are the most."),
    (remark("too_little_for_one"), "That is less than a tenth of one serving."),
    (remark("line_without_amount", name="salt"), "“salt” has no amount to compare with. Choose another line."),
    (
        remark("line_not_in_step", name="salt"),
        "“salt” does not grow in step with the rest, so it cannot set the amounts. Choose another line.",
    ),
    (remark("no_amount_held", typed="some"), "“some” holds no amount. Type a number with its unit, such as 700 g or 2 cups."),
    (
        remark("neither_unit_nor_food", typed="carrots"),
        "“carrots” is neither a unit nor this line’s food. Type an amount such as 700 g or 2 cups.",
    ),
    (remark("weight_not_known"), "Its weight is not known."),
    (remark("larger_by_half"), "larger by half"),
    (remark("half_the_size"), "half the size"),
    (remark("twice_as_large"), "twice as large"),
    (remark("serving_larger", by_pct=5), "5 % larger"),
    (remark("serving_smaller", by_pct=14), "14 % smaller"),
]

CROPS = [
    (remark("crop_1x1"), "for search engines"),
    (remark("crop_4x3"), "the page’s head on a wide screen"),
    (remark("crop_16x9"), "the page’s head on a phone, and the library"),
]

REFUSED = [
    (
        Refused(remark("not_an_amount", typed="some")),
        "“some” is not an amount. Write a number such as 2, 0.5, 1 1/2 or 1½.",
    ),
    (
        CannotScale(remark("written_not_weighed", unit="cups"), remark("weight_not_known")),
        "The recipe’s own amount cannot be weighed. Its weight is not known. Here, type cups, as the line has it.",
    ),
    (
        CannotScale(remark("held_not_weighed", unit="pieces"), remark("line_not_linked")),
        "What you have cannot be weighed. The line is not linked to a food, so its weight is not known. Here, type pieces, "
        "as the line has it.",
    ),
]

CHANGED = [
    (remark("title_instead", before="Pot", after="Stew"), "The title was “Pot”; it is “Stew” now."),
    (remark("summary_rewritten"), "The one-line summary was rewritten."),
    (remark("tags_now", tags="pot, camp"), "The tags are pot, camp now."),
    (remark("tags_gone"), "The tags were taken off."),
    (remark("head_photo_other"), "The photo at the head is another one."),
    (remark("head_photo_gone"), "The photo at the head was taken off."),
    (remark("serves_instead", before=6, after=4), "Serves 4 instead of 6."),
    (remark("serving_weighs_instead", before=300, after=350), "The weight of a serving is 350 g instead of 300 g."),
    (remark("serving_weighs_instead_new", after=350), "The weight of a serving is 350 g instead of not given."),
    (remark("serving_weighs_instead_gone", before=350), "The weight of a serving is not given instead of 350 g."),
    (remark("line_became", before="2 eggs", after="3 eggs"), "“2 eggs” became “3 eggs”."),
    (remark("line_new", line="1 lemon, juice."), "New: “1 lemon, juice”."),
    (remark("line_left_out", line="a" * 70), f"Left out: “{'a' * 59}…”."),
    (remark("line_read_differently", line="salt"), "“salt” is read or scaled differently."),
    (remark("line_moved_to_part", line="1 lemon", part="To finish"), "“1 lemon” moved to “To finish”."),
    (remark("line_moved_to_head", line="1 lemon"), "“1 lemon” moved to the part without a heading."),
    (remark("lines_in_other_order"), "The ingredients stand in another order."),
    (remark("part_new", part="Pot"), "New part: “Pot”."),
    (remark("part_gone", part="Pot"), "The part “Pot” is gone."),
    (remark("allergen_on", names="milk"), "Allergens: milk is on the list now."),
    (remark("allergens_on", names="celery, milk"), "Allergens: celery, milk are on the list now."),
    (remark("allergen_off", names="milk"), "Allergens: milk is off the list now."),
    (remark("allergens_off", names="celery, milk"), "Allergens: celery, milk are off the list now."),
    (remark("step_new", number=3, step="Stir in lemon."), "New step 3: “Stir in lemon”."),
    (remark("step_reworded", number=1), "Step 1 was reworded."),
    (remark("step_was", number=1, before=2), "Step 1 was step 2."),
    (remark("step_left_out", number=1, step="Warm the oil."), "Step 1 was left out: “Warm the oil”."),
    (remark("step_stage", number=1, before="brown", after="bake"), "Step 1: bake instead of brown."),
    (remark("step_stage_new", number=1, after="bake"), "Step 1: bake instead of no stage."),
    (remark("step_stage_gone", number=1, before="brown"), "Step 1: no stage instead of brown."),
    (remark("step_minutes", number=1, before=9, after=10.5), "Step 1: 10.5 min instead of 9 min."),
    (remark("step_minutes_new", number=1, after=10), "Step 1: 10 min instead of no min."),
    (remark("step_minutes_gone", number=1, before=9), "Step 1: no min instead of 9 min."),
    (remark("step_temp", number=1, before=95, after=115), "Step 1: 115 °C instead of 95 °C."),
    (remark("step_temp_new", number=1, after=160), "Step 1: 160 °C instead of no °C."),
    (remark("step_temp_gone", number=1, before=160), "Step 1: no °C instead of 160 °C."),
    (remark("side_new", title="Flatbreads"), "Served with Flatbreads now."),
    (remark("side_gone", title="Flatbreads"), "No longer served with Flatbreads."),
    (remark("side_portions", portions=2, title="Flatbreads"), "2 portions of Flatbreads go with a serving."),
    (remark("cautions_answered"), "Cautions were answered otherwise."),
    (remark("figure_instead", before="40 Wh", after="50 Wh"), "“50 Wh” instead of “40 Wh”."),
    (remark("figure_new", figure="50 Wh"), "“50 Wh” is new."),
    (remark("figure_gone", figure="50 Wh"), "“50 Wh” is no longer there."),
    (remark("cards_newer"), "What stands behind the figures or the cautions is newer."),
    (remark("made_of_revision", revision=5), "It is made of revision 5 now. Readers see the same words and figures."),
    (remark("small_details"), "Small details behind the page differ."),
]

BESIDE = [
    (remark("head_servings", before=4, after=6), "servings 4 → 6"),
    (remark("head_serving_g", before=300, after=350), "weight of a serving 300 g → 350 g"),
    (remark("head_serving_g_new", after=350), "weight of a serving not given → 350 g"),
    (remark("head_serving_g_gone", before=350), "weight of a serving 350 g → not given"),
    (remark("row_new"), "new"),
    (remark("row_left_out"), "left out"),
    (remark("row_reworded"), "reworded"),
    (remark("row_read_differently"), "read or scaled differently"),
    (remark("row_scaled_differently"), "scaled differently"),
    (remark("row_moved"), "moved"),
    (remark("row_moved_to_part", part="To finish"), "moved to “To finish”"),
    (remark("row_moved_to_head"), "moved to the part without a heading"),
    (remark("row_amount", before="2 cups", after="3½ cups", name="stock"), "stock 2 cups → 3½ cups"),
    (remark("row_amount_new", after="1 tsp", name="salt"), "salt no amount → 1 tsp"),
    (remark("row_amount_gone", before="1 tsp", name="salt"), "salt 1 tsp → no amount"),
    (remark("row_words", before="chopped", after="sliced"), "chopped → sliced"),
    (remark("row_words_new", after="sliced"), "now sliced"),
    (remark("row_words_gone", before="sliced"), "no longer sliced"),
    (remark("row_optional_new"), "optional now"),
    (remark("row_optional_gone"), "no longer optional"),
    (remark("row_to_taste_new"), "to taste now"),
    (remark("row_to_taste_gone"), "no longer to taste"),
    (remark("row_stage", before="hold", after="reduce"), "hold → reduce"),
    (remark("row_stage_new", after="hold"), "no stage → hold"),
    (remark("row_stage_gone", before="hold"), "hold → no stage"),
    (remark("row_minutes", before=20, after=25, stage="hold"), "hold 20 min → 25 min"),
    (remark("row_minutes_new", after=25, stage=""), "now 25 min"),
    (remark("row_minutes_gone", before=20, stage=""), "no longer 20 min"),
    (remark("row_temp", before=95, after=115, stage="hold"), "hold 95 °C → 115 °C"),
    (remark("row_temp_new", after=115, stage="hold"), "hold now 115 °C"),
    (remark("row_temp_gone", before=95, stage=""), "no longer 95 °C"),
]

SINCE_COOKED = [
    (remark("more_food", by_g=1250), "1,250 g more food"),
    (remark("less_food", by_g=100), "100 g less food"),
    (remark("liquid", before_ml=500, after_ml=1800), "liquid 500 → 1,800 mL"),
    (remark("stage_added", stage="reduce"), "a “reduce” stage added"),
    (remark("stage_left_out", stage="rest"), "the “rest” stage left out"),
    (remark("stage_minutes", stage="bake", before=30, after=25.5), "bake 30 → 25.5 min"),
    (remark("stage_temp", stage="bake", before=180, after=200), "bake 180 → 200 °C"),
    (remark("figures_low"), "so the figures are low for this one"),
    (remark("figures_high"), "so the figures are high for this one"),
    (remark("figures_off"), "so the figures may be off for this one"),
]

QUANTITIES = {
    *("not_a_number", "a_range", "unknown_unit", "more_than_one_number", "other_kind", "whole_needed", "too_many_places"),
    *("out_of_range", "means_out_of_range", "two_readings"),
}
"""Codes whose sentences hold what a field takes: ``test_quantities`` pins them."""

NOT_WEIGHED = [
    (remark("unit_not_ours", unit="clod"), "“clod” is not one of the kitchen’s units."),
    (remark("line_not_linked"), "The line is not linked to a food, so its weight is not known."),
    (
        remark("volume_not_weighed", unit="cup", food="tofu"),
        "A cup of tofu has no known weight: add its grams per millilitre to the food.",
    ),
    (
        remark("piece_not_weighed", unit="head", food="garlic"),
        "A head of garlic has no known weight: add the grams of one to the food.",
    ),
    (remark("one_not_weighed", food="garlic"), "One garlic has no known weight: add the grams of one to the food."),
]

GAPS = [
    (
        remark("gap_address"),
        "The site’s public address is not set: addresses then carry the name by which they were asked. "
        "Settings, “Public address”.",
    ),
    (remark("gap_supply"), "The electricity: measure a cook."),
]

CHAPTERS = [
    (remark("chapter_line", line="Brown"), "“Brown” is no chapter: type the moment and what begins then, like 1:20 Brown."),
    (remark("chapter_long", line="0:40 x", most=100), "“0:40 x ...” is longer than 100 letters: shorten it."),
    (
        remark("chapter_order", line="0:40 Hold", before="0:40"),
        "“0:40 Hold” is not after 0:40: put the chapters in the order of the film.",
    ),
    (remark("chapters_many", most=60), "More than 60 chapters: leave some out."),
]

MADE = [
    (remark("made_share_unknown", name="vegetable stock"), "vegetable stock: how much of it goes in is not known"),
    (remark("made_holding_unknown", name="vegetable stock"), "vegetable stock: what it holds is not known"),
    (remark("gap_of_made", made="Field stock", gap="salt"), "Field stock: salt"),
]

PINNED = [
    *CHAPTERS,
    *MADE,
    *GAPS,
    *NOT_WEIGHED,
    *SINCE_COOKED,
    *CHANGED,
    *BESIDE,
    *DOUBTS,
    *UNDONE,
    *NUTRITION,
    *SCALED,
    *PORTIONS,
    *CROPS,
]


@pytest.mark.parametrize(("said", "sentence"), PINNED, ids=[said.code for said, _ in PINNED])
def test_a_remark_has_its_sentence(said, sentence):
    assert words_of(said, ENGLISH) == sentence


def codes_in(function: str, place: int) -> set[str]:
    """Every text that stands at a place in a call of a function anywhere in the app, alone or as one of two."""
    modules = [path for path in python_files() if path.relative_to(TOP).parts[0] == "kitchen"]
    calls = [node for path in modules for node in ast.walk(parsed(path)) if isinstance(node, ast.Call)]
    given = [call.args[place] for call in calls if getattr(call.func, "id", "") == function and len(call.args) > place]
    options = [one for choice in given for one in ([choice.body, choice.orelse] if isinstance(choice, ast.IfExp) else [choice])]
    return {one.value for one in options if isinstance(one, ast.Constant)}


BY_ROOM = ("row_", "one_", "more_", "kind_", "thing_", "account_", "gap_", "cite_", "licence_")
"""What the beginnings of codes are that a module puts together."""


def test_every_code_has_a_sentence_and_its_sentence_a_pin():
    pinned = {said.code for said, _ in PINNED} | {refused.said.code for refused, _ in REFUSED}
    assert len(pinned) == len(PINNED) + len(REFUSED)
    pinned |= QUANTITIES
    assert codes_in("remark", 0) <= pinned
    spelled_by_room = {code for code in SENTENCES if code.startswith(BY_ROOM) and code not in pinned}
    assert set(SENTENCES) == pinned | codes_in("sentence", 1) | spelled_by_room


@pytest.mark.parametrize(("refused", "sentence"), REFUSED, ids=[refused.said.code for refused, _ in REFUSED])
def test_a_refusal_says_what_it_comes_from(refused, sentence):
    assert refusal_words(refused, ENGLISH) == sentence


@pytest.mark.parametrize("said", [Remark("spilt"), Remark("not_linked"), Remark("serving_larger", {"by_pct": "much"})])
def test_what_a_newer_program_or_a_stranger_kept_is_named_and_breaks_nothing(said):
    assert words_of(said, ENGLISH) == f"This program has no words for “{said.code}”: update it to read this remark."


def test_a_template_says_one_remark_or_several():
    said = (remark("start_with", amount="1 tsp"), remark("rounded_from", exact="1⅓ tsp"), "As it was {kept}.")
    assert in_words(said[0]) == "start with 1 tsp, taste"
    assert all_in_words(said) == "start with 1 tsp, taste, rounded from 1⅓ tsp, As it was {kept}."
    assert all_in_words(()) == ""
