"""What the energy card answers for a reader's own kit."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from html import unescape
from urllib.parse import parse_qs

import pytest

from energy.cards import EnergyCard
from energy.models import Appliance, PowerSource
from energy.runs.operations.summing import refresh_summary
from kitchen.cards import CardRequest
from kitchen.models import Food
from kitchen.operations import publish_recipe
from tests.energy.estimates.domain.test_estimating import balanced as open_pot

CARD = EnergyCard()


def ask(servings=4, **more) -> CardRequest:
    return CardRequest(servings, 4, path="/r/lentil-pot/", **more)


def plain(text):
    return text.replace("\u00a0", " ")


def card_of(facts, request):
    """What the card shows under these circumstances."""
    return CARD.present(CARD.prepare(CARD.read(facts), request), request)["energy"]


@pytest.fixture
def facts(run, revision, noon):
    return CARD.collect(revision, at=noon)


@pytest.fixture
def balanced(run, revision, noon):
    """The facts of a cook of 1.5 kg of water, whose temperatures were noted."""
    water = Food.objects.create(name="water", water_g=99.9, ash_g=0.1)
    line = {"low": Fraction(3, 2), "high": Fraction(3, 2), "unit": "kg", "name": "water", "food": water}
    revision.parts.get().lines.create(position=1, text="1.5 kg water", **line)
    run.ambient_c, run.food_start_c = 20.0, 15.0
    run.save()
    refresh_summary(run=run)
    return CARD.collect(revision, at=noon)


def test_a_kit_limits_peak_and_charge_and_an_empty_one_nothing():
    assert CARD.kit_limits({"inverter_w": 300, "battery_wh": 500}) == {"peak_w": Decimal(300), "own_battery_wh": Decimal("450.0")}
    assert CARD.kit_limits({}) == {}
    assert CARD.kit_limits({"battery_wh": None, "price_per_kwh": Decimal(1)}) == {}


HIGH_AND_COLD = {"altitude_m": 2000.0, "ambient_c": -5.0}


def test_the_height_and_the_cold_of_a_reader_make_an_estimate(balanced):
    shown = card_of(balanced, ask(kit=HIGH_AND_COLD))
    assert (shown.badge, shown.estimated.why_plain) == ("estimated", "")
    assert "93" in shown.estimated.boiling
    assert [row.words for row in shown.estimated.working.rows if row.standing == "measured"]


def at_least_so_much(**kit):
    """An open pot that is held longer higher up, nobody knows how much, with what was asked."""
    request = CardRequest(6, 6, kit={"altitude_m": 2000.0, **kit})
    meal = CARD.prepare(open_pot(), request)
    assert meal.estimate.at_least
    return meal, request


def test_what_may_take_longer_passes_no_filter_and_says_at_least():
    meal, request = at_least_so_much()
    known = {name for name, figure in CARD.figures(meal, request).items() if figure is not None}
    assert known == {"runs", "peak_w"}
    energy, *_, minutes = CARD.headlines(meal, request)
    assert (energy.value.startswith("at least "), minutes.value, minutes.unit) == (True, "at least 38", "min")
    assert plain(minutes.words) == "estimated, at least 28 min cooking, at least 9 min at the pot"


def test_what_may_take_more_costs_at_least_so_much():
    meal, request = at_least_so_much(price_per_kwh=Decimal("0.3"), panel_w=200.0, charger_w=100.0)
    tariff = replace(meal.facts.tariff, co2_g_per_kwh=500.0)
    card = CARD.present(replace(meal, facts=replace(meal.facts, tariff=tariff)), request)["energy"]
    assert card.paid.cost == "at least €0.06"
    assert plain(card.paid.cost_words) == "At least 217 Wh from the wall at your €0.30 a kilowatt-hour."
    assert plain(card.paid.co2) == "At least 100 g of CO₂ (500 g for a kilowatt-hour)."
    assert card.told.laptop_words == ""
    assert [" puts it back in at least " in words for words in card.supplied.back] == [True, True]
    assert plain(card.compared.means.day).startswith("All of it is at least 2.3 % of what")
    assert plain(card.compared.means.ours) == "this cooker would take at least 160 Wh, estimated"
    assert plain(card.supplied.print_line).startswith("At least 18 % of 1,024 Wh, at most 4 pots a charge.")


def test_the_stages_of_what_may_take_more_have_no_plus_or_minus():
    card = CARD.present(*at_least_so_much())["energy"]
    assert [plain(stage.energy) for stage in card.figures.stages] == [
        "at least 72 Wh",
        "at least 91 Wh",
        "at least 10 Wh",
        "nothing",
    ]


def test_another_source_feeds_the_same_meal_high_and_cold(run, balanced, revision, noon):
    PowerSource.objects.create(name="Van", kind="battery_station", capacity_wh=1000, continuous_w=1500)
    facts = CARD.collect(revision, at=noon)
    here, high = (card_of(facts, ask(kit=kit)).supplied.others[0].drawn for kit in ({}, HIGH_AND_COLD))
    assert here != high
    assert (" to " in here, " to " in high) == (True, True)


def test_without_a_balance_height_and_cold_change_nothing_and_that_is_said(facts):
    shown = card_of(facts, ask(kit=HIGH_AND_COLD))
    assert shown.badge.startswith("measured")
    assert "cannot be said" in shown.estimated.why_plain


def test_a_panel_and_a_charger_put_it_back(facts):
    kit = {"battery_wh": 500.0, "inverter_w": 2000.0, "panel_w": 200.0, "charger_w": 100.0}
    back = card_of(facts, ask(kit=kit)).supplied.back
    assert ["full sun" in words for words in back] == [True, False]
    assert "75" in back[0]


def test_on_a_hook_up_there_is_nothing_to_put_back(facts):
    assert card_of(facts, ask()).supplied.back == ()


def test_a_weak_inverter_is_told_what_turning_down_would_do(balanced):
    said = card_of(balanced, ask(kit={"inverter_w": 400.0})).supplied.turned_down
    assert "360" in said
    assert "may not get there" in said
    assert "it takes at least" in said


def test_an_inverter_that_is_strong_enough_needs_no_turning_down(balanced):
    assert card_of(balanced, ask(kit={"inverter_w": 4000.0})).supplied.turned_down == ""


def test_a_cooker_beside_it_is_added(facts):
    assert "beside" in card_of(facts, ask(kit={"beside_w": 300.0})).supplied.beside.lower()


def test_other_means_burn_something_and_warn(balanced):
    means = card_of(balanced, ask()).compared.means
    assert any("MJ/kg" in row.source for row in means.rows)
    assert "carbon monoxide" in means.caution


def test_without_a_balance_nothing_is_compared(facts):
    assert card_of(facts, ask()).compared.means is None


def test_another_kind_of_cooker_is_a_published_band_up_to_the_boil(balanced):
    said = card_of(balanced, ask(kit={"cooker": "rice_cooker"})).compared.on_yours
    assert "rice cooker" in said
    assert "up to the boil, estimated" in said
    assert card_of(balanced, ask(kit={"cooker": "pressure_cooker"})).compared.on_yours == ""


def test_without_a_balance_another_kind_of_cooker_is_not_known(facts):
    assert "not known" in card_of(facts, ask(kit={"cooker": "rice_cooker"})).compared.on_yours


def test_the_same_recipe_on_another_cooker_of_the_kitchen_is_told(run, record, revision, noon):
    plate = Appliance.objects.create(name="Plate", kind="induction_plate", rated_w=1300)
    record(later=1, appliance=plate)
    told = card_of(CARD.collect(revision, at=noon), ask()).compared.elsewhere
    assert len(told) == 1
    assert told[0].startswith("On ")


def batches_of(servings, batches, **kit):
    request = CardRequest(servings, 6, batches=batches, kit=kit)
    return CARD.prepare(open_pot(), request), CARD.present(CARD.prepare(open_pot(), request), request)["energy"]


def test_strip_ladder_and_table_have_the_same_parts_and_later_batches_start_warm():
    meal, told = batches_of(12, 2)
    first, second = (sum(stage.energy_wh for stage in batch) for batch in meal.estimate.each_batch)
    assert second < first
    assert first + second == pytest.approx(meal.estimate.energy_wh)
    assert meal.estimate.ladder[-1][1] == pytest.approx(meal.estimate.energy_wh)
    rows = [(row.name, row.energy) for row in told.figures.stages if row.energy != "nothing"]
    strip = told.drawings.strip
    assert [label.text for label in strip.names] + list(strip.omitted) == [row.name for row in told.figures.stages]
    assert [label.text for label in strip.energies] == [energy for _, energy in rows]
    assert len(told.drawings.ladder.points) == 2 * len(rows)
    assert told.drawings.of_all == "2 batches together"
    assert batches_of(12, 1)[1].drawings.of_all == ""


def test_the_method_tells_one_batch_from_the_quickest_to_the_slowest():
    meal, _ = batches_of(12, 2)
    (mark,) = CARD.stage_marks(meal, CardRequest(12, 6), ["come_up"])
    spans = sorted(stage.span_s for batch in meal.estimate.each_batch for stage in batch if stage.kind == "come_up")
    assert plain(mark.minutes) == f"{round(spans[0] / 60)} to {round(spans[1] / 60)} min"


def test_a_stage_at_the_boil_says_how_hot_it_gets_at_the_readers_height():
    high, _ = batches_of(6, 1, altitude_m=2000.0)
    brown, come_up, hold = CARD.stage_marks(high, CardRequest(6, 6), ["brown", "come_up", "hold"])
    assert (brown.hottest_c, come_up.hottest_c, hold.hottest_c) == (
        None,
        pytest.approx(93.3, abs=0.1),
        pytest.approx(93.3, abs=0.1),
    )
    low, _ = batches_of(12, 1)
    assert CARD.stage_marks(low, CardRequest(12, 6), ["hold"])[0].hottest_c is None


def test_the_stages_of_an_estimate_are_ranges_in_table_and_strip():
    _, told = batches_of(12, 1)
    assert all("±" not in row.energy for row in told.figures.stages)
    assert " to " in told.figures.stages[1].energy
    spoken = told.drawings.strip.title
    assert plain(spoken).startswith(f"Estimated, {plain(told.figures.total)} in all; the middle of it: ")


def test_a_peak_that_no_display_showed_passes_a_limit_only_by_the_cookers_plate():
    request = CardRequest(6, 6)
    unseen = replace(open_pot(), peak_w=660.4, peak_seen=False)
    meal = CARD.prepare(unseen, request)
    assert CARD.figures(meal, request)["peak_w"] == Decimal(str(unseen.appliance.rated_w))
    peak = next(one for one in CARD.headlines(meal, request) if one.key == "peak")
    assert (peak.value, peak.words) == ("660", "at its peak, or more")


def test_by_other_means_an_estimate_is_worded_as_one(balanced):
    assert plain(card_of(balanced, ask(4)).compared.means.ours).startswith("this cooker took ")
    assert plain(card_of(balanced, ask(8)).compared.means.ours).startswith("this cooker would take ")
    assert " to " in card_of(balanced, ask(8)).compared.means.ours


def test_a_printed_card_names_the_kit_and_its_code_leads_to_the_same_page(run, revision, noon, client, monkeypatch):
    recipe = revision.recipe
    publish_recipe(recipe=recipe, revision=revision, by=None, at=noon)
    printed = []
    monkeypatch.setattr("kitchen.views.public.print_cards", lambda cards, **_: printed.append(cards.markup()) or b"")
    place = f"/r/{recipe.slug}/card.pdf"
    client.get(place, {"for": "8", "battery_wh": "500", "altitude_m": "6500 ft", "panel_w": "100"})
    assert "for your kit: battery 500 Wh, height 1,981 m" in " ".join(printed[0].split())
    (asked,) = re.findall(r"QR code: ([^<]*)", printed[0])
    place_there, _, query = asked.partition("?")
    assert place_there.endswith(f"/r/{recipe.slug}/for-8/")
    assert parse_qs(unescape(query)) == {"battery_wh": ["500"], "altitude_m": ["6500 ft"], "panel_w": ["100"]}
    client.cookies["kit"] = '{"inverter_w": "600"}'
    client.get(place)
    assert "your kit" not in printed[1]


def test_what_may_take_more_is_spoken_and_multiplied_as_it_is_printed():
    meal, request = at_least_so_much()
    told = CARD.present(meal, request)["energy"]
    whole = float(re.search(r"at least ([\d.]+)", plain(told.figures.total))[1])
    each = float(re.search(r"at least ([\d.]+)", plain(told.figures.per_serving))[1])
    assert whole - 1 < each * meal.servings < whole + 1
    assert f" {whole:.0f} watt-hours" in told.drawings.ladder.title


def figures_in(words):
    return [float(one) for one in re.findall(r"[\d.]+", words.replace(",", ""))]


@pytest.mark.parametrize("servings", [1, 3, 4, 5, 7, 11, 24, 60])
def test_an_estimate_is_rounded_outwards_and_no_finer_than_its_width(servings):
    meal, told = batches_of(servings, 1)
    for words, count in ((told.figures.total, 1), (told.figures.per_serving, servings)):
        (low, high), least, most = figures_in(words), meal.estimate.low_wh / count, meal.estimate.high_wh / count
        room = max((most - least) / 6, 1.0 if least >= 10 else 0.0)
        assert least - room <= low <= least + 1e-9
        assert most - 1e-9 <= high <= most + room
        assert len(f"{high:g}".replace(".", "").rstrip("0")) <= 3
