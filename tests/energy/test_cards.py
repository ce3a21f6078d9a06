"""The energy card: what it collects, what it shows, and that an edition alone is enough."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from django.db import connection
from django.template.loader import render_to_string
from django.test.utils import CaptureQueriesContext

from energy import operations
from energy.cards import EnergyCard
from energy.cards.cautions import rules
from energy.domain.kinds import APPLIANCE_KINDS, SOURCE_KINDS
from energy.models import PowerSource, Tariff
from kitchen.cards import CardRequest
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
    assert form.cleaned_data == {"battery_wh": 512.5, "inverter_w": None, "price_per_kwh": Decimal("0.31")}
    for bad in ({"battery_wh": "-1"}, {"inverter_w": "1e9"}, {"price_per_kwh": "cheap"}):
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
    assert CARD.recipe_links(revision.recipe, revision)[0].url == "/bench/recipes/lentil-pot/runs/new/"


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


def test_a_pot_that_would_be_too_full_is_the_first_caution(facts):
    facts = {**facts, "food_g": 2000.0, "appliance": {**facts["appliance"], "kind": "pressure_cooker", "capacity_l": 4.0}}
    assert "may hold" not in CARD.cautions(facts, ask(4))[0].words
    assert "2 batches" in CARD.cautions(facts, ask(8))[0].words
    assert CARD.cautions(facts, ask(8))[0].on_paper
