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

from energy import operations
from energy.cards import EnergyCard
from energy.cards.cautions import rules
from energy.cards.presenting import the_meal
from energy.cards.source_lines import source_line
from energy.domain.facts import EnergyFacts
from energy.domain.kinds import APPLIANCE_KINDS, SOURCE_KINDS
from energy.models import Meter, PowerSource, Run, Tariff
from kitchen.cards import CardRequest
from kitchen.domain.record import read
from kitchen.models import Revision

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


def shown(facts, request=None):
    return CARD.present(facts, request or ask())["energy"]


def test_nothing_measured_is_no_card(revision, noon):
    assert CARD.collect(revision, at=noon) is None


def test_flagged_and_unfinished_runs_make_no_card(flagged_run, record, revision, noon):
    record(running=True)
    assert CARD.collect(revision, at=noon) is None


def test_one_run_says_that_it_is_one(facts):
    card = shown(facts)
    assert card.standing == "measured"
    assert "one run" in card.badge
    assert plain(card.total) == "213.0 ± 2.6 Wh"
    assert card.runs_url == "/r/lentil-pot/runs/"
    assert plain(card.laptop_words) == "About what a 100 W laptop uses in 2 h 8 min."


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
    assert {headline.standing for headline in CARD.headlines(facts, ask(8)) if headline.key == "energy"} == {"estimated"}


def test_the_battery_gauge_and_the_words(facts):
    card = shown(facts)
    # 213 / 0.9 + 8 W for 31 minutes = 240.8 Wh of 768.
    assert plain(card.source.drawn) == "241 Wh"
    assert plain(card.source.share) == "31 %"
    assert card.source.meals == "2 pots"
    assert card.source.cells == ("used",) * 3 + ("",) * 6 + ("spare",)
    assert card.source.verdict.word == "runs"
    assert plain(card.source.losses) == "Inverter 90 %, idle 8 W."


def test_the_cost_names_price_currency_and_tariff(facts):
    card = shown(facts)
    assert card.cost == "€0.07"
    assert "€0.31 a kilowatt-hour (Club)" in card.cost_words
    dearer = shown(facts, ask(kit={"price_per_kwh": Decimal("1")}))
    assert dearer.cost == "€0.24"
    assert "your €1.00" in dearer.cost_words


def test_a_readers_kit_answers_instead_of_our_sources(facts):
    PowerSource.objects.create(name="Other", kind="battery_station", capacity_wh=500)
    card = shown(facts, ask(kit={"battery_wh": 512.0, "inverter_w": 500.0}))
    assert card.source.own_kit
    assert card.source.verdict.word == "no"
    assert card.others == ()
    assert "From your battery" in render_to_string("energy/card.html", {"energy": card})


def test_other_sources_are_answered_too_and_never_more_than_four(run, revision, noon):
    for n in range(6):
        PowerSource.objects.create(name=f"Battery {n}", kind="battery_station", capacity_wh=200, continuous_w=300 + 100 * n)
    card = shown(CARD.collect(revision, at=noon))
    assert len(card.others) == 4
    assert {one.verdict.word for one in card.others} == {"no"}


def test_an_edited_recipe_still_shows_what_was_measured_before_and_says_so(run, revision, noon):
    newer = Revision.objects.create(recipe=revision.recipe, number=2, servings=4, created_at=noon)
    facts = CARD.collect(newer, at=noon)
    assert facts["earlier_revision"] == 1
    assert "revision 1" in shown(facts).earlier_words
    assert shown(CARD.collect(revision, at=noon)).earlier_words == ""


def test_a_left_out_run_is_told_but_not_counted(run, record, revision, noon):
    bad = record(((0, 0), (31, 350)), later=1)
    operations.judge_run(run=bad, verdict="left_out", reason="The lid was open.")
    facts = CARD.collect(revision, at=noon)
    assert facts["energy_wh"] == pytest.approx(213)
    assert [one["counts"] for one in facts["runs"]] == [True, False]
    assert facts["runs"][1]["verdict_reason"] == "The lid was open."


def test_headlines_and_figures(facts):
    found = {headline.key: headline for headline in CARD.headlines(facts, ask())}
    assert (found["energy"].value, found["energy"].unit) == ("53", "Wh")
    assert plain(found["energy"].words) == "each serving, 213.0 ± 2.6 in all"
    assert (found["minutes"].value, plain(found["minutes"].words)) == ("31", "21 min cooking, 10 min at the pot")
    figures = CARD.figures(facts, ask())
    assert figures["energy_per_serving_wh"] == Decimal("53.25")
    assert (figures["total_min"], figures["runs"]) == (31, 1)


def test_long_cooks_are_headed_in_hours(record, revision, noon):
    record(((0, 0), (330, 600)), ((0, "hold"),))
    headline = next(one for one in CARD.headlines(CARD.collect(revision, at=noon), ask()) if one.key == "minutes")
    assert (plain(headline.value), headline.unit) == ("5 h 30", "min")


def test_stage_marks_follow_the_methods_order(facts):
    marks = CARD.stage_marks(facts, ask(), ["brown", "hold", "come_up", "release"])
    assert [mark and (plain(mark.minutes), mark.heat) for mark in marks] == [
        ("10 min", "on"),
        None,
        ("11 min", "on"),
        ("10 min", "off"),
    ]
    assert CARD.stage_marks(facts, ask(), ["bake"]) is None


def test_cautions_fit_appliance_and_sources_and_end_with_the_manual(facts):
    words = [caution.words for caution in CARD.cautions(facts, ask())]
    assert words[0].startswith("Fill to two thirds at most, to half")
    assert any("pin has dropped" in sentence for sentence in words)
    assert not any("Uncoil" in sentence for sentence in words), "no hook-up here"
    assert words[-1] == "The appliance’s manual, local codes and licensed electricians come first."


def test_cautions_about_other_sources_stay_off_paper(run, revision, noon):
    PowerSource.objects.create(name="Post", kind="hook_up", volts=230, amps=10)
    found = {caution.words: caution.on_paper for caution in CARD.cautions(CARD.collect(revision, at=noon), ask())}
    assert [on_paper for words, on_paper in found.items() if "Uncoil" in words] == [False]
    assert [on_paper for words, on_paper in found.items() if "vents" in words] == [True]


def test_every_condition_of_the_cautions_file_is_a_known_kind():
    appliances, sources = dict(APPLIANCE_KINDS), dict(SOURCE_KINDS)
    for rule in rules():
        assert set(rule.appliances) <= set(appliances)
        assert set(rule.sources) <= set(sources)


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
        render_to_string("energy/card.html", CARD.present(facts, ask()))
        render_to_string("energy/card_print.html", CARD.present(facts, ask()))
        CARD.headlines(facts, ask())
        CARD.cautions(facts, ask())


def test_the_bench_hears_what_waits(flagged_run, record, owner, other_cook, noon, revision):
    from datetime import timedelta

    from kitchen.models import Recipe

    record(running=True)
    Recipe.objects.create(slug="new", title="New", owner=owner, created_at=noon, updated_at=noon)
    with CaptureQueriesContext(connection) as seen:
        found = CARD.attention(owner, at=noon + timedelta(days=2))
    assert len(seen) == 2
    assert {one.kind for one in found} == {"flagged-run", "open-run", "unmeasured"}
    assert CARD.attention(other_cook, at=noon + timedelta(days=2)) == []


def test_links_for_the_bench(revision):
    assert [link.label for link in CARD.bench_sections()] == ["Runs", "Appliances", "Power sources", "Meters", "Tariffs"]
    links = [link.url for link in CARD.recipe_links(revision.recipe, revision)]
    assert links[:2] == ["/bench/recipes/lentil-pot/cook/", "/bench/recipes/lentil-pot/runs/new/"]


def test_more_than_one_charge_is_said_plainly_and_the_gauge_stays_full(facts):
    card = shown(facts, ask(40))
    source = card.source
    assert source.beyond
    assert len(source.cells) == 10
    page = render_to_string("energy/card.html", {"energy": card})
    assert "More than one charge" in page
    assert "a charge with" not in page
    assert "More than one charge" in card.print_line


def test_one_run_does_not_claim_to_know_the_next_cook(facts):
    assert "only once" in shown(facts).range_words
    assert "not known yet" in shown(facts, ask(8)).range_words


def test_an_estimate_is_rounded_where_a_measurement_is_not(facts):
    measured, estimated = shown(facts), shown(facts, ask(8))
    assert plain(measured.source.drawn) == "213 Wh" or "." not in plain(measured.source.drawn)
    assert estimated.source.drawn.startswith("about ")
    assert estimated.source.share.startswith("about ")


def test_the_card_knows_the_vessel_that_was_measured(facts):
    facts = {**facts, "appliance": {**facts["appliance"], "kind": "pressure_cooker", "capacity_l": 4.0, "min_liquid_ml": 250.0}}
    vessel = CARD.vessel(facts, ask(4))
    assert (vessel.capacity_ml, vessel.least_liquid_ml, vessel.closed) == (4000, 250, True)
    assert CARD.vessel({**facts, "appliance": {**facts["appliance"], "kind": "oven"}}, ask(4)) is None


def test_batches_add_up_and_say_so(facts):
    one, three = shown(facts, ask(4)), shown(facts, replace(ask(12), batches=3))
    held = read(EnergyFacts, facts)
    assert the_meal(held, replace(ask(12), batches=3)).load_wh == pytest.approx(3 * held.energy_wh)
    assert one.standing == "measured"
    assert plain(three.how).endswith("in 3 batches, one after the other.")
    assert "in 3 batches." in plain(render_to_string("energy/card.html", {"energy": three}))
    alone, each = (CARD.stage_marks(facts, request, ["come_up"]) for request in (ask(4), replace(ask(12), batches=3)))
    assert each[0].words == alone[0].words, "the method tells one batch"


def test_the_same_food_on_more_plates_is_still_measured(facts):
    meal = the_meal(read(EnergyFacts, facts), replace(ask(8), portion=Fraction(1, 2)))
    assert meal.standing == "measured"
    assert meal.per_serving_wh == pytest.approx(meal.load_wh / 8)


def test_a_stage_that_drew_nothing_says_nothing(facts):
    release = shown(facts).stages[-1]
    assert (release.name, release.energy) == ("release", "nothing")


@pytest.mark.parametrize(("low", "high", "words"), [(0, 0, ""), (0, 1, "1 pot at most"), (2, 3, "2 to 3 pots"), (4, 4, "4 pots")])
def test_the_pots_of_a_charge_are_as_many_as_are_sure(facts, low, high, words):
    meal = replace(the_meal(read(EnergyFacts, facts), ask()), meals_low=low, meals_high=high)
    assert source_line(read(EnergyFacts, facts).source, meal).meals == words


def test_a_reserve_that_leaves_no_whole_pot_is_said_in_a_sentence(facts):
    card = shown({**facts, "source": {**facts["source"], "capacity_wh": 250.0}})
    assert not card.source.beyond
    page = plain(render_to_string("energy/card.html", {"energy": card}))
    assert "<b>no whole pot</b> a charge with 10 % kept in reserve" in page
    assert "no whole pot with 10 % kept in reserve" in plain(card.print_line)


def test_a_cost_below_the_smallest_coin_is_not_printed_as_nothing(facts):
    assert shown(facts, ask(kit={"price_per_kwh": Decimal("0.001")})).cost == "under €0.01"
    assert shown(facts, ask(kit={"price_per_kwh": Decimal("0.001")}, currency="JPY")).cost == "under ¥1"
    assert shown(facts, ask(kit={"price_per_kwh": Decimal(0)})).cost == "€0.00"


def test_the_laptop_is_no_surer_than_the_energy(facts):
    assert plain(shown(facts, ask(500)).laptop_words).endswith("uses in 270 h.")


def test_hours_are_not_printed_as_minutes(facts):
    minutes = {line.key: line for line in CARD.headlines(facts, ask(500))}["minutes"]
    assert minutes.unit == "h"
    assert minutes.value.isdigit()
    assert minutes.words.startswith("estimated, ")


def test_the_energy_each_has_no_digit_that_its_uncertainty_does_not_carry(facts):
    each = {line.key: line for line in CARD.headlines(facts, ask(12))}["energy"]
    meal = the_meal(read(EnergyFacts, facts), ask(12))
    assert each.value == f"{meal.per_serving_wh:.0f}"
    assert "estimated" in each.words


def test_a_battery_display_says_how_the_socket_was_worked_out(record_at_the_battery, revision, noon):
    how = plain(shown(CARD.collect(revision, at=noon)).how)
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
    assert facts["no_price"] == f"the tariff Club ended on {tariff.valid_to.day} {tariff.valid_to:%B %Y}"
    assert shown(facts).cost == ""
    assert facts["no_price"][1:] in shown(facts).cost_words


def test_a_tariff_that_has_not_begun_prices_nothing_yet(run, tariff, revision, noon):
    tariff.valid_from = noon.date() + timedelta(days=1)
    tariff.save()
    assert "begins on" in CARD.collect(revision, at=noon)["no_price"]


def test_a_source_without_a_tariff_is_not_priced_at_another_ones(run, revision, noon):
    Tariff.objects.create(name="Elsewhere", currency="EUR", price_per_kwh=Decimal("0.9"), valid_from=noon.date())
    facts = CARD.collect(revision, at=noon)
    assert (facts["tariff"], shown(facts).cost) == (None, "")


def test_an_accepted_run_of_unknown_energy_does_not_hide_an_earlier_revision(run, record, revision, noon):
    later = Revision.objects.create(recipe=revision.recipe, number=2, servings=4, created_at=noon)
    empty = record(((0, 0),), revision=later, later=1)
    Run.objects.filter(pk=empty.pk).update(verdict="accepted", verdict_reason="Forgot the end.")
    assert CARD.collect(later, at=noon)["earlier_revision"] == 1
