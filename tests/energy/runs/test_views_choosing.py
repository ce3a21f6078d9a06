"""Which runs make the published figure: ticked, reasoned, worked out first, kept together."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse

from energy.models import Run


@pytest.fixture
def address(run):
    return reverse("energy:runs-choose", args=[run.revision.recipe.slug])


def test_the_ticks_stand_as_the_runs_count_now(owner_client, address, run, record):
    other = record(later=1)
    page = owner_client.get(address).content.decode()
    assert f'name="count{run.pk}" checked' in page
    assert f'name="count{other.pk}" checked' in page
    assert "measured twice" in page


def test_working_it_out_keeps_nothing(owner_client, address, run, record):
    record(later=1)
    page = owner_client.post(address, {"do": "look", f"count{run.pk}": "on"}).content.decode()
    assert "measured, one run" in page
    assert set(Run.objects.values_list("verdict", flat=True)) == {"counts"}


def test_what_is_kept_has_its_day(owner_client, address, run, record):
    other = record(later=1)
    said = {"do": "keep", f"count{run.pk}": "on", f"reason{other.pk}": "The lid was open."}
    assert owner_client.post(address, said).status_code == 302
    other.refresh_from_db()
    assert (other.verdict, other.verdict_reason) == ("left_out", "The lid was open.")
    assert other.verdict_at is not None
    run.refresh_from_db()
    assert run.verdict_at is None, "nothing new was said of it"


def test_a_flagged_run_needs_a_reason(owner_client, flagged_run):
    address = reverse("energy:runs-choose", args=[flagged_run.revision.recipe.slug])
    answer = owner_client.post(address, {"do": "keep", f"count{flagged_run.pk}": "on"})
    assert answer.status_code == 422
    assert "say why it counts all the same" in answer.content.decode()
    owner_client.post(address, {"do": "keep", f"count{flagged_run.pk}": "on", f"reason{flagged_run.pk}": "Reset by hand."})
    flagged_run.refresh_from_db()
    assert flagged_run.verdict == "accepted"


def test_without_runs_it_says_what_to_do(owner_client, revision):
    page = owner_client.get(reverse("energy:runs-choose", args=[revision.recipe.slug])).content.decode()
    assert "No finished cook yet" in page


def test_it_is_for_the_recipes_cook_alone(other_client, stranger_client, address):
    assert other_client.get(address).status_code == 404
    assert stranger_client.get(address).status_code == 302


def test_ten_more_runs_cost_no_more_queries(owner_client, address, record, django_assert_max_num_queries):
    for later in range(1, 11):
        record(later=later)
    with django_assert_max_num_queries(9):
        owner_client.get(address)


def test_a_cook_that_lies_apart_is_named(owner_client, address, record):
    for day, energy_wh in enumerate((206, 211, 199, 330), 1):
        other = record(later=day)
        Run.objects.filter(pk=other.pk).update(summary={**other.summary, "energy_wh": energy_wh})
    page = owner_client.get(address).content.decode()
    assert "lies farther from the others than chance explains" in page
    assert page.count("notice--warn") == 1


def test_a_ticked_run_of_another_size_is_said_not_to_be_in_the_mean(owner_client, address, run, record):
    record(later=1, servings=8)
    page = owner_client.get(address).content.decode()
    assert "measured, one run" in page
    told = "Ticked, and yet not in the figure above. Cooked for 8; the figures are for 4."
    assert page.count(told) == 1
    assert owner_client.post(address, {"do": "look", f"count{run.pk}": "on"}).content.decode().count(told) == 0


def test_one_tap_counts_a_cook_or_leaves_it_out_where_it_is_published_and_one_undoes_it(owner_client, other_client, run, record):
    other = record(later=1)
    other.verdict, other.verdict_reason = "left_out", "The lid was open."
    other.save()
    publish = reverse("kitchen:recipe-publish", args=[run.revision.recipe.slug])
    page = owner_client.get(publish).content.decode()
    assert "Left out: The lid was open." in page
    assert page.count('aria-label="Leave out 14 October 2026"') == page.count('aria-label="Count 15 October 2026"') == 1
    tap = reverse("energy:run-count", args=[other.pk])
    assert other_client.post(tap, {"counts": "yes"}).status_code == 404
    answer = owner_client.post(tap, {"counts": "yes"})
    other.refresh_from_db()
    assert (other.verdict, other.verdict_reason) == ("counts", "")
    page = owner_client.get(answer["Location"]).content.decode()
    assert "measured twice" in page
    token = re.search(r'name="undo" value="([^"]+)"', page)[1]
    owner_client.post(tap, {"undo": token})
    other.refresh_from_db()
    assert (other.verdict, other.verdict_reason) == ("left_out", "The lid was open.")


def test_a_flagged_cook_is_looked_at_before_it_counts(owner_client, flagged_run):
    publish = reverse("kitchen:recipe-publish", args=[flagged_run.revision.recipe.slug])
    assert "Look at it" in owner_client.get(publish).content.decode()
    tap = reverse("energy:run-count", args=[flagged_run.pk])
    answer = owner_client.post(tap, {"counts": "yes"}, follow=True)
    assert "counts only when it is accepted with a reason" in answer.content.decode()
    assert not Run.objects.exclude(verdict="counts").exists()
