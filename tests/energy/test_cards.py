"""The energy card: what it collects, what it shows, and that an edition alone is enough."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from django.db import connection
from django.template.loader import render_to_string
from django.test.utils import CaptureQueriesContext

from energy.cards import EnergyCard
from energy.cards.source_lines import source_line
from energy.estimates.domain.drawn import Meals
from energy.models import Meter, PowerSource, Run, Tariff
from energy.runs.operations.judging import judge_run
from kitchen.cards import Badge, CardRequest, Vessel
from kitchen.models import Revision
from kitchen.operations import publish_recipe

CARD = EnergyCard()


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def ask(servings=4, **more) -> CardRequest:
    return CardRequest(servings, 4, path="/r/lentil-pot/", **more)


@pytest.fixture
def tariff(source):
    from datetime import date

    source.tariff = Tariff.objects.create(name="Club", currency="EUR", price_per_kwh=Decimal("0.31"), valid_from=date(2026, 1, 1))
    source.save()
    return source.tariff


@pytest.fixture
def facts(run, tariff, revision, noon):
    """The facts as an edition gives them back."""
    return json.loads(json.dumps(CARD.collect(revision, at=noon)))


def prepared(facts, request):
    """What a page hands to every hook of the card."""
    return CARD.prepare(CARD.read(facts), request), request


def shown(facts, request=None):
    return CARD.present(*prepared(facts, request or ask()))["energy"]


def test_nothing_measured_is_no_card(revision, noon):
    assert CARD.collect(revision, at=noon) is None


def test_flagged_and_unfinished_runs_make_no_card(flagged_run, record, revision, noon):
    record(running=True)
    assert CARD.collect(revision, at=noon) is None


def test_one_run_says_that_it_is_one(facts):
    card = shown(facts)
    assert card.standing == "measured"
    assert "one run" in card.badge
    assert plain(card.figures.total) == "213 ± 29 Wh"
    assert card.told.runs_url == "/r/lentil-pot/runs/"
    assert plain(card.told.laptop_words) == "About what a 100 W laptop uses in 2 h 10 min."


def test_repeats_are_averaged(run, record, revision, noon):
    record(((0, 0), (10, 105), (21, 203), (31, 203)), later=1)
    facts = CARD.collect(revision, at=noon)
    assert facts["energy_wh"] == pytest.approx(208)
    assert "twice" in shown(facts).badge


def test_another_number_of_servings_is_an_estimate_and_looks_like_one(facts):
    card = shown(facts, ask(8))
    assert card.standing == card.badge == "estimated"
    page = render_to_string("energy/card.html", {"energy": card})
    assert "badge--estimated" in page
    assert "badge--measured" not in page
    assert {headline.standing for headline in CARD.headlines(*prepared(facts, ask(8))) if headline.key == "energy"} == {
        "estimated"
    }


def test_the_battery_gauge_and_the_words(facts):
    card = shown(facts)
    # 213 / 0.9 + 8 W for 31 minutes = 240.8 Wh of 768; the inverter's 3.5 points and the label's 5 % are in it.
    assert plain(card.supplied.source.drawn) == "200 to 280 Wh"
    assert plain(card.supplied.source.share) == "27 to 36 %"
    assert card.supplied.source.meals == "2 to 3 pots"
    assert card.supplied.source.cells == ("used",) * 3 + ("",) * 6 + ("spare",)
    assert card.supplied.source.verdict.word == "runs"
    assert plain(card.supplied.source.losses) == "Inverter 90 %, idle 8 W."


def test_the_cost_names_price_currency_and_tariff(facts):
    card = shown(facts)
    assert card.paid.cost == "€0.06 to €0.09"
    assert "€0.31 a kilowatt-hour (Club)" in card.paid.cost_words
    dearer = shown(facts, ask(kit={"price_per_kwh": Decimal("1")}))
    assert dearer.paid.cost == "€0.21 to €0.27"
    assert "your €1.00" in dearer.paid.cost_words


def test_a_readers_kit_answers_instead_of_our_sources(facts):
    PowerSource.objects.create(name="Other", kind="battery_station", capacity_wh=500)
    card = shown(facts, ask(kit={"battery_wh": 512.0, "inverter_w": 500.0}))
    assert card.supplied.source.own_kit
    assert card.supplied.source.verdict.word == "no"
    assert card.supplied.others == ()
    assert "From your battery" in render_to_string("energy/card.html", {"energy": card})


def test_other_sources_are_answered_too_and_never_more_than_four(run, revision, noon):
    for n in range(6):
        PowerSource.objects.create(name=f"Battery {n}", kind="battery_station", capacity_wh=200, continuous_w=300 + 100 * n)
    card = shown(CARD.collect(revision, at=noon))
    assert len(card.supplied.others) == 4
    assert {one.verdict.word for one in card.supplied.others} == {"no"}


def test_an_edited_recipe_still_shows_what_was_measured_before_and_says_so(run, revision, noon):
    newer = Revision.objects.create(recipe=revision.recipe, number=2, servings=4, created_at=noon)
    facts = CARD.collect(newer, at=noon)
    assert facts["earlier_revision"] == 1
    assert "revision 1" in shown(facts).told.earlier_words
    assert shown(CARD.collect(revision, at=noon)).told.earlier_words == ""


def test_a_left_out_run_is_told_but_not_counted(run, record, revision, noon):
    bad = record(((0, 0), (31, 350)), later=1)
    judge_run(run=bad, verdict="left_out", reason="The lid was open.")
    facts = CARD.collect(revision, at=noon)
    assert facts["energy_wh"] == pytest.approx(213)
    assert [one["counts"] for one in facts["runs"]] == [True, False]
    assert facts["runs"][1]["verdict_reason"] == "The lid was open."


def test_headlines_and_figures(facts):
    found = {headline.key: headline for headline in CARD.headlines(*prepared(facts, ask()))}
    assert (found["energy"].value, found["energy"].unit) == ("53.2", "Wh")
    assert plain(found["energy"].words) == "each serving, 213 ± 29 in all"
    assert (found["minutes"].value, plain(found["minutes"].words)) == ("31", "21 min cooking, 10 min at the pot")
    figures = CARD.figures(*prepared(facts, ask()))
    assert figures["energy_per_serving_wh"] == Decimal("53.25")
    assert (figures["total_min"], figures["runs"]) == (31, 1)


def test_long_cooks_are_headed_in_hours(record, revision, noon):
    record(((0, 0), (330, 600)), ((0, "hold"),))
    headline = next(one for one in CARD.headlines(*prepared(CARD.collect(revision, at=noon), ask())) if one.key == "minutes")
    assert (plain(headline.value), headline.unit) == ("5 h 30", "min")


def test_stage_marks_follow_the_methods_order(facts):
    marks = CARD.stage_marks(*prepared(facts, ask()), ["brown", "hold", "come_up", "release"])
    assert [mark and (plain(mark.minutes), mark.heat) for mark in marks] == [
        ("10 min", "on"),
        None,
        ("11 min", "on"),
        ("10 min", "off"),
    ]
    assert CARD.stage_marks(*prepared(facts, ask()), ["bake"]) is None


@pytest.mark.parametrize(("runs", "words"), [(1, "measured once"), (2, "measured twice"), (3, "measured 3 times")])
def test_the_badge_says_how_often_it_was_measured(facts, runs, words):
    facts["runs"] = facts["runs"] * runs
    assert CARD.badge(*prepared(facts, ask())) == Badge("measured", words)


def test_the_badge_of_another_number_of_servings_is_an_estimate(facts):
    assert CARD.badge(*prepared(facts, ask(8))) == Badge("estimated", "estimated")


def test_a_printed_card_says_what_it_is_cooked_in(facts):
    assert plain(CARD.cooked_in(*prepared(facts, ask()))) == "in a 4 L pressure cooker"
    pot = Vessel("9 L pot", 9000)
    assert CARD.cooked_in(*prepared(facts, ask(own_vessel=pot))) == "in a 9 L pot"


def test_the_kit_form_has_plain_limits():
    form = CARD.kit_form({"battery_wh": "512,5", "inverter_w": "", "price_per_kwh": "0.31"})
    assert form.is_valid()
    given = {name: value for name, value in form.cleaned_data.items() if value not in (None, "")}
    assert given == {"battery_wh": 512.5, "price_per_kwh": Decimal("0.31")}
    for bad in (
        {"battery_wh": "-1"},
        {"inverter_w": "1e9"},
        {"price_per_kwh": "cheap"},
        {"altitude_m": "9000"},
        {"food_start_c": "hot"},
    ):
        assert not CARD.kit_form(bad).is_valid()


def test_collecting_costs_no_more_with_ten_more_runs(run, record, revision, noon):
    with CaptureQueriesContext(connection) as few:
        CARD.collect(revision, at=noon)
    for later in range(1, 11):
        record(later=later)
    with CaptureQueriesContext(connection) as many:
        CARD.collect(revision, at=noon)
    assert len(many) == len(few)


def test_presenting_asks_the_database_nothing(facts, django_assert_num_queries):
    with django_assert_num_queries(0):
        render_to_string("energy/card.html", CARD.present(*prepared(facts, ask())))
        render_to_string("energy/card_print.html", CARD.present(*prepared(facts, ask())))
        CARD.headlines(*prepared(facts, ask()))


def test_the_bench_hears_what_waits(flagged_run, record, owner, other_cook, noon, revision):
    from datetime import timedelta

    from kitchen.models import Recipe

    record(running=True)
    Recipe.objects.create(slug="new", title="New", owner=owner, created_at=noon, updated_at=noon)
    with CaptureQueriesContext(connection) as seen:
        found = CARD.attention(owner, at=noon + timedelta(days=2))
    assert len(seen) == 3
    assert {one.kind for one in found} == {"flagged-run", "open-run", "unmeasured"}
    assert CARD.attention(other_cook, at=noon + timedelta(days=2)) == []


def test_more_than_one_charge_is_said_plainly_and_the_gauge_stays_full(facts):
    card = shown(facts, ask(40))
    source = card.supplied.source
    assert source.beyond
    assert len(source.cells) == 10
    page = render_to_string("energy/card.html", {"energy": card})
    assert "More than one charge" in page
    assert "a charge with" not in page
    assert "More than one charge" in card.supplied.print_line


def test_one_run_rests_on_how_much_cooks_usually_differ(facts):
    assert "measured once" in shown(facts).told.range_words
    assert shown(facts, ask(8)).told.range_words.startswith("In the middle of that, and drawn here: ")


def test_the_card_knows_the_vessel_that_was_measured(facts):
    facts = {**facts, "appliance": {**facts["appliance"], "kind": "pressure_cooker", "capacity_l": 4.0, "min_liquid_ml": 250.0}}
    vessel = CARD.vessel(CARD.read(facts))
    assert (vessel.capacity_ml, vessel.least_liquid_ml, vessel.closed) == (4000, 250, True)
    assert CARD.vessel(CARD.read({**facts, "appliance": {**facts["appliance"], "kind": "oven"}})) is None


def test_batches_add_up_and_say_so(facts):
    one, three = shown(facts, ask(4)), shown(facts, replace(ask(12), batches=3))
    assert prepared(facts, replace(ask(12), batches=3))[0].estimate.energy_wh == pytest.approx(3 * facts["energy_wh"])
    assert one.standing == "measured"
    assert plain(three.told.how).endswith("in 3 batches, one after the other.")
    assert "in 3 batches." in plain(render_to_string("energy/card.html", {"energy": three}))
    alone, each = (CARD.stage_marks(*prepared(facts, request), ["come_up"]) for request in (ask(4), replace(ask(12), batches=3)))
    assert each[0].words == alone[0].words, "the method tells one batch"


def test_the_same_food_on_more_plates_is_still_measured(facts):
    meal, _ = prepared(facts, replace(ask(8), portion=Fraction(1, 2)))
    assert meal.measured
    assert meal.per_serving_wh == pytest.approx(meal.estimate.energy_wh / 8)


def test_a_stage_that_drew_nothing_says_nothing(facts):
    release = shown(facts).figures.stages[-1]
    assert (release.name, release.energy) == ("release", "nothing")


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [(0, 0, ""), (0, 1, "at most 1 pot"), (0, 2, "at most 2 pots"), (2, 3, "2 to 3 pots"), (4, 4, "4 pots")],
)
def test_the_pots_of_a_charge_are_as_many_as_are_sure(facts, low, high, words):
    meal, _ = prepared(facts, ask())
    assert source_line(meal.facts.source, replace(meal.draw, meals=Meals(low, high)), meal).meals == words


def test_a_reserve_that_leaves_no_whole_pot_is_said_in_a_sentence(facts):
    card = shown({**facts, "source": {**facts["source"], "capacity_wh": 250.0, "reserve_pct": 20.0}})
    assert not card.supplied.source.beyond
    page = plain(render_to_string("energy/card.html", {"energy": card}))
    assert "<b>no whole pot</b> a charge with 20 % kept in reserve" in page
    assert "no whole pot with 20 % kept in reserve" in plain(card.supplied.print_line)


def test_a_cost_below_the_smallest_coin_is_not_printed_as_nothing(facts):
    assert shown(facts, ask(kit={"price_per_kwh": Decimal("0.001")})).paid.cost == "under €0.01"
    assert shown(facts, ask(kit={"price_per_kwh": Decimal("0.001")}, currency="JPY")).paid.cost == "under ¥1"
    assert shown(facts, ask(kit={"price_per_kwh": Decimal(0)})).paid.cost == "€0.00"


def test_the_laptop_is_no_surer_than_the_energy(facts):
    assert plain(shown(facts, ask(500)).told.laptop_words).endswith("uses in 270 h.")


def test_hours_are_not_printed_as_minutes(facts):
    minutes = {line.key: line for line in CARD.headlines(*prepared(facts, ask(500)))}["minutes"]
    assert minutes.unit == "h"
    assert minutes.value.isdigit()
    assert minutes.words.startswith("estimated, ")


def test_the_energy_each_has_no_digit_that_its_uncertainty_does_not_carry(facts):
    each = {line.key: line for line in CARD.headlines(*prepared(facts, ask(12)))}["energy"]
    meal, _ = prepared(facts, ask(12))
    low, high = (float(figure) for figure in each.value.split(" to "))
    least, most = meal.estimate.low_wh / 12, meal.estimate.high_wh / 12
    assert least - (most - least) / 6 <= low <= least
    assert most <= high <= most + (most - least) / 6
    assert "estimated" in each.words


def test_a_battery_display_says_how_the_socket_was_worked_out(record_at_the_battery, revision, noon):
    how = plain(shown(CARD.collect(revision, at=noon)).told.how)
    assert how.startswith("Counter on the battery’s display, 10 Wh steps.")
    assert "worked out from there: inverter 90 %, idle 8 W" in how


@pytest.fixture
def record_at_the_battery(record):
    shunt = Meter.objects.create(name="Shunt", place="battery", resolution_wh=10, accuracy_pct=1)
    return record(((0, 0), (10, 120), (21, 250), (31, 250)), meter=shunt)


def test_an_ended_tariff_prices_nothing_and_says_why(run, tariff, revision, noon):
    tariff.valid_to = noon.date() - timedelta(days=1)
    tariff.save()
    facts = CARD.collect(revision, at=noon)
    assert facts["tariff"] is None
    assert facts["no_price"] == {"code": "tariff_ended", "values": {"name": "Club", "on": tariff.valid_to.isoformat()}}
    assert shown(facts).paid.cost == ""
    sentence = f"the tariff Club ended on {tariff.valid_to.day} {tariff.valid_to:%B %Y}"
    assert sentence in shown(facts).paid.cost_words
    assert sentence in shown({**facts, "schema": 1, "no_price": sentence}).paid.cost_words, "as it was published before"


def test_a_tariff_that_has_not_begun_prices_nothing_yet(run, tariff, revision, noon):
    tariff.valid_from = noon.date() + timedelta(days=1)
    tariff.save()
    assert CARD.collect(revision, at=noon)["no_price"]["code"] == "tariff_begins"


def test_a_source_without_a_tariff_is_not_priced_at_another_ones(run, revision, noon):
    Tariff.objects.create(name="Elsewhere", currency="EUR", price_per_kwh=Decimal("0.9"), valid_from=noon.date())
    facts = CARD.collect(revision, at=noon)
    assert (facts["tariff"], shown(facts).paid.cost) == (None, "")


def test_an_accepted_run_of_unknown_energy_does_not_hide_an_earlier_revision(run, record, revision, noon):
    later = Revision.objects.create(recipe=revision.recipe, number=2, servings=4, created_at=noon)
    empty = record(((0, 0),), revision=later, later=1)
    Run.objects.filter(pk=empty.pk).update(verdict="accepted", verdict_reason="Forgot the end.")
    assert CARD.collect(later, at=noon)["earlier_revision"] == 1


def test_an_estimate_of_an_edition_says_that_it_follows_todays_rules(run, revision, noon, client):
    publish_recipe(recipe=revision.recipe, revision=revision, by=None, at=noon)
    told = "worked out by today’s rules"
    assert told not in client.get("/r/lentil-pot/").content.decode()
    assert told in client.get("/r/lentil-pot/for-8/").content.decode()


def test_before_publishing_the_cook_sees_which_runs_make_the_figures(run, record, revision, owner_client, noon):
    record(later=1, servings=8)
    page = plain(owner_client.get(f"/bench/recipes/{revision.recipe.slug}/publish/").content.decode())
    first, _, other = page.partition("15 Oct 2026")
    assert "14 Oct 2026" in first
    assert "213.0 ± 2.6 Wh" in first
    assert "Cooked for 8; the figures are for 4." in other
    assert "two more cooks would give about ±" in other


def test_what_needs_no_pot_is_counted_in_meals(facts):
    fried = {**facts, "appliance": {**facts["appliance"], "kind": "air_fryer"}}
    meal, _ = prepared(fried, ask())
    assert source_line(meal.facts.source, replace(meal.draw, meals=Meals(1, 1)), meal).meals == "1 meal"
