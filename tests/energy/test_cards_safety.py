"""The cautions of a recipe: there without any run, by classes of its foods, its cooker, its source and where it is cooked."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from energy.cards.safety import SafetyCard
from energy.models import PowerSource
from kitchen.cards import CardRequest
from kitchen.page import present_page, read_facts
from kitchen.queries.collecting import collect_facts

CARD = SafetyCard()
KEPT = Path(__file__).parents[1] / "kitchen" / "kept" / "editions-0.1.0.json"


def page_of(revision, at, **asked):
    return present_page(read_facts(collect_facts(revision, at=at)), CardRequest(asked.pop("servings", 4), 4, **asked))


def add(revision, *lines):
    part = revision.parts.get()
    for place, text in enumerate(lines, start=part.lines.count() + 1):
        part.lines.create(position=place, text=text)


def test_a_recipe_without_runs_has_the_cautions_of_its_foods(revision, noon):
    add(revision, "600 g chicken thighs", "200 g kidney beans, soaked overnight")
    page = page_of(revision, noon)
    assert page.open_cautions[0].words.startswith("Soak dried beans")
    assert page.open_cautions[0].lines == ("200 g kidney beans, soaked overnight",)
    assert "74 °C" in page.open_cautions[1].words
    assert all(caution.source for caution in page.cautions)
    assert not any(caution.newer for caution in page.cautions)
    assert page.cards == () or "safety" not in {plate.slug for plate in page.cards}


def test_facts_keep_keys_and_classes_and_no_sentence(revision, noon):
    add(revision, "600 g chicken thighs")
    facts = CARD.collect(revision, at=noon)
    assert facts["schema"] == 2
    assert facts["cautions"][0] == "poultry_core"
    assert {"line": "600 g chicken thighs", "classes": ["poultry"], "place": 1, "answered": {}} in facts["foods"]
    assert "°C" not in json.dumps(facts, ensure_ascii=False)


def test_four_stand_open_and_the_rest_in_a_fold(run, revision, noon):
    add(revision, "600 g chicken thighs", "500 g beef mince", "4 eggs", "100 g rolled oats")
    page = page_of(revision, noon)
    assert len(page.open_cautions) == 4
    assert len(page.folded_cautions) == len(page.cautions) - 4
    harms = [caution.harm for caution in page.cautions]
    assert harms == sorted(harms, reverse=True)
    assert page.folded_cautions[-1].words.startswith("The appliance’s manual")
    assert page.paper_cautions == page.open_cautions
    assert all(caution.short for caution in page.open_cautions)


def test_the_cookers_limits_and_its_foods_stand_in_the_sentence(run, revision, noon):
    add(revision, "100 g rolled oats")
    words = [caution.words for caution in page_of(revision, noon).cautions]
    assert any(sentence.startswith("Fill to two thirds at most, to half") for sentence in words)
    assert any(sentence.startswith("100 g rolled oats can foam") for sentence in words)


def test_frost_height_and_a_group_count(run, revision, noon):
    def first_with(start, page):
        return next(place for place, caution in enumerate(page.cautions) if caution.words.startswith(start))

    mild, frost = (page_of(revision, noon, kit={"ambient_c": air_c}) for air_c in (12.0, -4.0))
    assert first_with("Never charge a lithium", frost) < first_with("Never charge a lithium", mild)
    high = page_of(revision, noon, kit={"altitude_m": 2000.0})
    assert any("water boils cooler" in caution.words for caution in high.cautions)
    assert not any("water boils cooler" in caution.words for caution in mild.cautions)


def test_other_sources_stay_in_the_fold_and_off_paper(run, revision, noon):
    PowerSource.objects.create(name="Post", kind="hook_up", volts=230, amps=10)
    page = page_of(revision, noon)
    lead = next(caution for caution in page.cautions if caution.words.startswith("Uncoil"))
    assert lead.aside
    assert lead not in page.open_cautions


def test_the_steps_say_on_what_it_is_cooked_where_nobody_measured(revision, noon):
    revision.steps.create(position=9, text="Cook under pressure for 12 minutes.")
    assert any("Never force the lid" in caution.words for caution in page_of(revision, noon).cautions)


def test_an_answered_caution_is_told_with_the_cooks_word(revision, noon):
    add(revision, "200 g kidney beans")
    revision.parts.get().lines.filter(text="200 g kidney beans").update(answered={"state": "tinned", "reason": "two tins"})
    page = page_of(revision, noon)
    beans = next(caution for caution in page.cautions if caution.words.startswith("Soak dried beans"))
    assert beans.settled
    assert beans.answered == (("200 g kidney beans", "tinned, or cooked before: two tins"),)
    assert page.folded_cautions[-1] == beans


def test_the_cooks_own_caution_stands_among_them(revision, noon):
    revision.recipe.own_cautions = "The hut’s stove smokes: open the flue first.\n\nMind the step."
    revision.recipe.save()
    words = {caution.words: caution.source for caution in page_of(revision, noon).open_cautions}
    assert words["The hut’s stove smokes: open the flue first."] == "the cook’s own word"
    assert "Mind the step." in words


@pytest.mark.parametrize("safety", [{"schema": 1, "cautions": ["mince", "two_hours", "gone"]}, None])
def test_an_edition_of_an_earlier_list_shows_its_own_and_todays_as_newer(revision, noon, safety):
    add(revision, "200 g red kidney beans", "500 g beef mince")
    facts = collect_facts(revision, at=noon)
    facts["cards"] = {} if safety is None else {"safety": safety}
    found = {caution.words: caution.newer for caution in present_page(read_facts(facts), CardRequest(4, 4)).cautions}
    assert found[
        "Cook minced meat and sausages through, to 71 °C (74 °C if it is poultry)." if safety else next(iter(found))
    ] is not bool(safety)
    assert next(newer for words, newer in found.items() if words.startswith("Soak dried beans"))


def test_what_0_1_0_published_is_still_read():
    for edition in json.loads(KEPT.read_text(encoding="utf-8")):
        page = present_page(read_facts(edition["facts"]), CardRequest(4, 4))
        for key, words in (("mince", "Cook minced meat and sausages through"), ("two_hours", "Two hours at most")):
            published = key in edition["facts"]["cards"].get("safety", {}).get("cautions", ())
            assert published == any(caution.words.startswith(words) for caution in page.cautions if not caution.newer)


def test_collecting_asks_once(revision, noon, django_assert_num_queries):
    with django_assert_num_queries(1):
        CARD.collect(revision, at=noon)
