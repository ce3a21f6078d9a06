"""Runs of a recipe beside each other: who may see them, what is said, what is refused."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from energy.models import Appliance, Meter, PowerSource
from kitchen.models import Part, Revision

ADDRESS = "/bench/recipes/lentil-pot/runs/compare/"


@pytest.fixture
def two(run, record):
    return run, record(((0, 0), (10, 125), (21, 260), (31, 260)), later=1)


def asked(client, *runs):
    return client.get(ADDRESS, {"run": [getattr(run, "pk", run) for run in runs]})


def words(answer):
    text = re.sub(r"<[^>]+>", " ", answer.content.decode()).replace("\u00a0", " ")
    return re.sub(r"\s+", " ", text)


def test_three_people(two, owner_client, other_client, stranger_client):
    assert asked(owner_client, *two).status_code == 200
    assert asked(other_client, *two).status_code == 404
    assert asked(stranger_client, *two).status_code == 302


def test_more_than_the_meters_can_explain_is_told(two, owner_client):
    """213 against 260 Wh: 1 % class and 1 Wh steps leave about 4 Wh between them (invented cooks)."""
    page = words(asked(owner_client, *two))
    assert re.search(r"B took 47 ± \d Wh more than A \(22 %\)\.", page)
    assert "one scale for all" in page


def test_what_the_meters_allow_is_the_same(run, record, owner_client):
    page = words(asked(owner_client, run, record(later=1)))
    assert "B and A took the same within what the meters can tell." in page
    assert "Nothing that was noted: same revision, gear, servings, temperatures and height." in page


def test_the_oldest_run_is_a_whatever_the_order(two, owner_client):
    assert words(asked(owner_client, *two)) == words(asked(owner_client, *reversed(two)))


def test_strips_and_ladders_stand_over_each_other(two, owner_client):
    page = asked(owner_client, *two).content.decode()
    assert page.count('role="img"') == 2 * (2 + 1), "two strips, all ladders in one; wide and narrow"
    assert "A 213 watt-hours in 31 minutes; B 260 watt-hours in 31 minutes." in page


def test_other_servings_are_compared_each_serving(run, record, owner_client):
    page = words(asked(owner_client, run, record(later=1, servings=8)))
    assert ", each serving." in page
    assert re.search(r"Servings 4 8", page)


def test_across_appliances_and_meters_at_the_battery(run, record, owner_client):
    other = Appliance.objects.create(name="Deep skillet", kind="skillet", rated_w=1200)
    mains = PowerSource.objects.create(name="Hook-up", kind="hook_up", inverter_efficiency=0.9, idle_w=8)
    battery = Meter.objects.create(name="Station display", place="battery", resolution_wh=1, accuracy_pct=2)
    page = words(asked(owner_client, run, record(later=1, appliance=other, source=mains, meter=battery)))
    assert "Big pot" in page
    assert "Deep skillet" in page
    assert "B was measured at the battery." in page
    assert "B took" in page, "213 Wh out of a battery are fewer at the socket"


def test_what_changed_in_the_recipe_is_told(run, record, revision, noon, owner_client):
    newer = Revision.objects.create(recipe=revision.recipe, number=2, servings=4, created_at=noon)
    Part.objects.create(revision=newer, position=0).lines.create(position=0, text="400 g lentils")
    page = words(asked(owner_client, run, record(later=1, revision=newer)))
    assert "From revision 1 to 2" in page
    assert "“300 g lentils” became “400 g lentils”." in page


def test_empty_states_say_what_to_do(revision, run, record, owner_client):
    assert "This recipe has one measured cook so far." in words(owner_client.get(ADDRESS))
    second = record(later=1)
    assert "No cook was chosen yet. Tick two to six of them." in words(owner_client.get(ADDRESS))
    alone = asked(owner_client, second)
    assert alone.status_code == 200
    assert "Tick at least one more to hold against it." in words(alone)
    assert f'value="{second.pk}" checked' in alone.content.decode()


def test_a_recipe_without_runs_offers_a_cook(revision, owner_client):
    assert "No finished cook of this recipe has a measured energy yet." in words(owner_client.get(ADDRESS))


@pytest.mark.parametrize("number", ["999999", "-1", "nonsense", "", "9" * 400, "\0", "😀" * 50, "1.0"])
def test_what_is_no_run_is_said_beside_the_list(two, owner_client, number):
    answer = asked(owner_client, two[0], number)
    assert answer.status_code == 400
    assert "is not a finished, measured cook of this recipe: choose from the list." in words(answer)


def test_more_than_six_are_too_many(record, owner_client):
    runs = [record(later=day) for day in range(7)]
    answer = asked(owner_client, *runs)
    assert answer.status_code == 400
    assert "7 cooks were chosen; 6 fit beside each other." in words(answer)
    assert asked(owner_client, *runs[:6]).status_code == 200


def test_a_run_of_which_too_little_was_read_is_not_offered(run, record, owner_client):
    unread = record(((0, 0),), later=1)
    assert f'value="{unread.pk}"' not in owner_client.get(ADDRESS).content.decode()


def test_more_runs_cost_no_more_queries(record, owner_client):
    runs = [record(later=day) for day in range(6)]
    asked(owner_client, *runs[:2])
    counts = []
    for chosen in (runs[:2], runs):
        with CaptureQueriesContext(connection) as seen:
            asked(owner_client, *chosen)
        counts.append(len(seen))
    assert counts[0] == counts[1] <= 8


def test_the_list_of_runs_leads_there(two, owner_client):
    page = owner_client.get("/bench/recipes/lentil-pot/runs/").content.decode()
    assert f'<form method="get" action="{ADDRESS}">' in page
    assert page.count('type="checkbox" name="run"') == 2
    assert 'name="run"' not in owner_client.get("/bench/runs/").content.decode()
