"""A recipe's public addresses, tried by its owner, by another cook and by a stranger."""

from datetime import timedelta

import pytest
from django.test import Client

from kitchen.models import PastSlug, Photo, Site
from kitchen.operations import publish_recipe, withdraw_recipe
from tests.kitchen.stew import next_revision, write_stew

HTMX = {"HTTP_HX_REQUEST": "true"}


@pytest.fixture(params=["owner_client", "other_client", "stranger_client"])
def anybody(request):
    """Each of the three people in turn: what is public is public to all."""
    return request.getfixturevalue(request.param)


def test_everybody_reads_a_published_recipe(stew, anybody):
    answer = anybody.get("/r/stew/")
    assert answer.status_code == 200
    for words in ("Red lentil and squash pot", "red lentils", "Warm the oil", "measured 3 times", "To finish", "edition 1"):
        assert words in answer.content.decode()


def test_nobody_reads_an_unpublished_recipe_here(no_cards, owner, noon, anybody):
    write_stew(owner, noon)
    for place in ("", "for-8/", "card.pdf", "editions/"):
        assert anybody.get(f"/r/stew/{place}").status_code == 404


def test_a_draft_changes_nothing_for_readers(stew, noon, anybody):
    next_revision(stew, noon, text="350 g black beans")
    assert "black beans" not in anybody.get("/r/stew/").content.decode()


def test_an_old_address_leads_to_the_new_one(stew, anybody):
    PastSlug.objects.create(slug="pot", recipe=stew)
    for place in ("", "for-8/", "card.pdf", "editions/"):
        answer = anybody.get(f"/r/pot/{place}?measures=metric")
        assert (answer.status_code, answer["Location"]) == (301, f"/r/stew/{place}?measures=metric")


def test_an_old_address_of_an_unpublished_recipe_gives_nothing_away(no_cards, owner, noon, stranger_client):
    PastSlug.objects.create(slug="pot", recipe=write_stew(owner, noon))
    assert stranger_client.get("/r/pot/").status_code == 404


def test_a_withdrawn_recipe_is_gone_in_words(stew, noon, anybody):
    withdraw_recipe(recipe=stew, at=noon)
    for place in ("", "for-8/", "card.pdf", "editions/"):
        answer = anybody.get(f"/r/stew/{place}")
        assert answer.status_code == 410
        assert "taken back" in answer.content.decode()


def test_the_page_reads_one_edition_row(stew, stranger_client, django_assert_max_num_queries):
    with django_assert_max_num_queries(7):
        stranger_client.get("/r/stew/")
    with django_assert_max_num_queries(7):
        stranger_client.get("/r/stew/for-8/")


def test_the_page_costs_no_more_with_ten_more_rows(stew, owner, noon, stranger_client, django_assert_max_num_queries):
    part = next_revision(stew, noon).parts.get()
    for position in range(2, 12):
        part.lines.create(position=position, text=f"{position} g salt", name="salt", unit="g", low=position, high=position)
    publish_recipe(recipe=stew, revision=part.revision, by=owner, at=noon + timedelta(days=1))
    with django_assert_max_num_queries(7):
        answer = stranger_client.get("/r/stew/")
    assert answer.content.decode().count("salt") >= 10


def test_the_number_field_leads_to_the_scaled_page(stew, stranger_client):
    answer = stranger_client.get("/r/stew/", {"for": "8", "measures": "metric"})
    assert (answer.status_code, answer["Location"]) == (302, "/r/stew/for-8/?measures=metric")
    assert stranger_client.get("/r/stew/", {"for": "6"})["Location"] == "/r/stew/"


@pytest.mark.parametrize(("asked", "place"), [("6", "/r/stew/"), ("08", "/r/stew/for-8/")])
def test_each_number_of_servings_has_one_address(stew, stranger_client, asked, place):
    assert stranger_client.get(f"/r/stew/for-{asked}/")["Location"] == place


def test_a_scaled_page_scales_and_stays_out_of_search_engines(stew, stranger_client):
    answer = stranger_client.get("/r/stew/for-12/")
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "600 g" in page
    assert '<meta name="robots" content="noindex">' in page
    assert '<link rel="canonical" href="http://testserver/r/stew/">' in page
    assert "written for 6" in page
    assert 'content="noindex"' not in stranger_client.get("/r/stew/").content.decode()


@pytest.mark.parametrize("typed", ["0", "-1", "1e9", "1000000000", "six", "", "6.5", "501", "🍲", "<b>"])
def test_a_number_that_makes_no_sense_is_said_beside_the_field(stew, stranger_client, typed):
    answer = stranger_client.get("/r/stew/", {"for": typed})
    page = answer.content.decode()
    assert answer.status_code == 400
    assert "Type a whole number of servings from 1 to 500." in page
    assert f'value="{typed.replace("<", "&lt;").replace(">", "&gt;")}"' in page
    assert "300 g" in page


def test_nonsense_in_the_address_itself_is_said_too(stew, stranger_client):
    answer = stranger_client.get("/r/stew/for-six/")
    assert answer.status_code == 400
    assert 'value="six"' in answer.content.decode()


def test_the_ends_of_the_stepper_have_no_link(stew, stranger_client):
    assert 'id="servings-less"' not in stranger_client.get("/r/stew/for-1/").content.decode()
    assert 'id="servings-more"' not in stranger_client.get("/r/stew/for-500/").content.decode()


def test_htmx_takes_its_part_of_the_page_that_everybody_gets(stew, stranger_client):
    whole = stranger_client.get("/r/stew/for-8/")
    asked = stranger_client.get("/r/stew/for-8/", **HTMX)
    assert asked.content == whole.content
    assert asked["ETag"] == whole["ETag"]
    assert whole.content.decode().count('data-hx-target="#main" data-hx-select="#main &gt; *"') > 4
    assert "HX-Request" not in whole["Vary"]


def test_a_page_that_did_not_change_is_not_sent_again(stew, stranger_client):
    first = stranger_client.get("/r/stew/")
    again = stranger_client.get("/r/stew/", HTTP_IF_NONE_MATCH=first["ETag"])
    assert again.status_code == 304
    assert stranger_client.get("/r/stew/for-8/", HTTP_IF_NONE_MATCH=first["ETag"]).status_code == 200
    assert first["Vary"] == "Accept-Encoding"


def test_the_kit_is_remembered_and_forgotten(stew, stranger_client):
    place = "/r/stew/for-8/?measures=metric"
    assert f'name="to" value="{place}"' in stranger_client.get(place).content.decode()
    kept = stranger_client.get("/kit/", {"battery_wh": "512", "kit": "keep", "to": place})
    assert (kept.status_code, kept["Location"]) == (302, f"{place}&battery_wh=512")
    page = stranger_client.get(kept["Location"]).content.decode()
    assert "of your 512 Wh" in page
    assert 'value="512"' in page
    assert 'href="/r/stew/for-9/?measures=metric&amp;battery_wh=512"' in page
    assert "of your" not in stranger_client.get(place).content.decode()
    used = stranger_client.get("/kit/", {"kit": "use", "to": place})
    assert used["Location"] == kept["Location"]
    forgotten = stranger_client.get("/kit/", {"kit": "forget", "to": kept["Location"]})
    assert (forgotten["Location"], forgotten.cookies["kit"].value) == (place, "")


def test_the_number_field_hands_the_kit_on(stew, stranger_client):
    answer = stranger_client.get("/r/stew/", {"for": "8", "battery_wh": "512"})
    assert answer["Location"] == "/r/stew/for-8/?battery_wh=512"
    assert "of your 512 Wh" in stranger_client.get(answer["Location"]).content.decode()


def test_a_kit_that_makes_no_sense_is_said_beside_its_field_and_not_kept(stew, stranger_client):
    for place in ("/r/stew/", "/kit/"):
        answer = stranger_client.get(place, {"battery_wh": "big", "kit": "keep", "to": "/r/stew/"})
        assert answer.status_code == 400
        assert "Type the battery&#x27;s size in Wh, such as 512." in answer.content.decode()
        assert 'value="big"' in answer.content.decode()
        assert "kit" not in answer.cookies


def test_measures_are_plain_links(stew, stranger_client):
    page = stranger_client.get("/r/stew/for-8/?measures=us").content.decode()
    assert 'href="/r/stew/for-8/?measures=metric"' in page
    assert stranger_client.get("/r/stew/?measures=furlongs").status_code == 200


def test_editions_tell_what_changed(stew, owner, noon, anybody):
    publish_recipe(recipe=stew, revision=next_revision(stew, noon), by=owner, note="Thicker.", at=noon + timedelta(days=2))
    page = anybody.get("/r/stew/editions/").content.decode()
    for words in ("Edition 2", "Edition 1", "Thicker.", "16 October 2026", "350 g red lentils", "First cooked in October."):
        assert words in page


def test_a_figure_brought_up_to_date_is_told_as_such(stew, tally, owner, noon, stranger_client):
    tally.tally = 250
    publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon + timedelta(days=2))
    assert "figures were brought up to date" in stranger_client.get("/r/stew/editions/").content.decode()


@pytest.fixture
def second(stew, owner, noon):
    """A second edition of the stew: 350 g of lentils where the first had 300 g."""
    return publish_recipe(recipe=stew, revision=next_revision(stew, noon), by=owner, at=noon + timedelta(days=2))


def test_an_older_edition_can_still_be_read(second, anybody):
    assert 'href="/r/stew/editions/1/"' in anybody.get("/r/stew/editions/").content.decode()
    answer = anybody.get("/r/stew/editions/1/")
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "This is edition 1, as it was published on 14 October 2026." in page
    assert 'The current one is <a href="/r/stew/">edition 2</a>.' in page
    assert "300 g" in page
    assert "350 g" not in page


def test_an_older_edition_stays_out_of_search_engines_and_off_paper(second, stranger_client):
    page = stranger_client.get("/r/stew/editions/1/").content.decode()
    assert '<meta name="robots" content="noindex">' in page
    assert "application/ld+json" not in page
    assert "card.pdf" not in page
    assert "edition 1" in page[page.index("<title>") : page.index("</title>")]


def test_an_older_edition_scales_at_its_own_address(second, stranger_client):
    page = stranger_client.get("/r/stew/editions/1/?for=12").content.decode()
    assert "600 g" in page
    assert 'href="/r/stew/editions/1/?for=13"' in page
    assert stranger_client.get("/r/stew/editions/1/?for=six").status_code == 400


def test_the_current_edition_is_at_the_recipes_own_address(second, stranger_client):
    assert stranger_client.get("/r/stew/editions/2/")["Location"] == "/r/stew/"


@pytest.mark.parametrize("number", ["0", "3", "9" * 30])
def test_an_edition_that_never_was_is_not_found(second, stranger_client, number):
    assert stranger_client.get(f"/r/stew/editions/{number}/").status_code == 404


def test_an_older_edition_is_read_from_its_row(second, stranger_client, django_assert_max_num_queries):
    with django_assert_max_num_queries(8):
        stranger_client.get("/r/stew/editions/1/")


def test_no_edition_of_a_withdrawn_recipe_is_shown(second, stew, noon, stranger_client):
    withdraw_recipe(recipe=stew, at=noon)
    assert stranger_client.get("/r/stew/editions/1/").status_code == 410


def test_editions_cost_no_more_with_ten_more(stew, tally, owner, noon, stranger_client, django_assert_max_num_queries):
    with django_assert_max_num_queries(8):
        stranger_client.get("/r/stew/editions/")
    for more in range(1, 11):
        tally.tally = 250 + more
        publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon + timedelta(days=more))
    with django_assert_max_num_queries(8):
        assert stranger_client.get("/r/stew/editions/").content.decode().count("<section") == 11


def test_markup_in_a_title_stays_words(no_cards, owner, noon, stranger_client):
    recipe = write_stew(owner, noon, title="</script><script>alert(1)</script> & “stew” שלום 🍲")
    publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=noon)
    page = stranger_client.get("/r/stew/").content.decode()
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert(1)" in page
    assert "שלום 🍲" in page


def test_the_lead_photo_stands_on_the_page_the_shelf_and_in_the_linked_data(stew, owner, noon, stranger_client):
    Photo.objects.create(
        recipe=stew, wide="ab/wide.webp", small="ab/small.webp", alt="A mug of stew", width_px=1600, height_px=900,
        digest="0" * 64, added_at=noon, leads=True,
    )  # fmt: skip
    publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon + timedelta(days=1))
    page = stranger_client.get("/r/stew/").content.decode()
    assert '<img src="/photos/ab/wide.webp" alt="A mug of stew"' in page
    assert '"image": ["http://testserver/photos/ab/wide.webp"]' in page
    assert '<img src="/photos/ab/small.webp" alt="A mug of stew"' in stranger_client.get("/").content.decode()


def test_addresses_are_those_of_the_site_where_it_has_a_name(stew, stranger_client):
    Site.objects.create(pk=1, base_url="https://fernhollow.example/")
    page = stranger_client.get("/r/stew/").content.decode()
    assert '<link rel="canonical" href="https://fernhollow.example/r/stew/">' in page


def test_a_fault_of_ours_is_said_in_words(stew, monkeypatch, caplog):
    def fail():
        raise RuntimeError("the pot boiled over")

    monkeypatch.setattr("kitchen.views.public.the_site", fail)
    answer = Client(raise_request_exception=False).get("/r/stew/")
    assert answer.status_code == 500
    assert "Something went wrong on our side" in answer.content.decode()
    assert "boiled over" not in answer.content.decode()


def test_only_reading_is_allowed(stew, stranger_client):
    for place in ("/", "/r/stew/", "/r/stew/for-8/", "/r/stew/card.pdf", "/r/stew/editions/", "/r/stew/editions/1/", "/healthz"):
        assert stranger_client.post(place).status_code == 405


def test_an_address_that_leads_nowhere_says_so_in_words(stranger_client):
    answer = stranger_client.get("/r/no-such-pot/")
    assert answer.status_code == 404
    assert "nothing at this address" in answer.content.decode()


def test_alive_and_ready(stranger_client):
    assert stranger_client.get("/healthz").content == b"ok"
    assert stranger_client.get("/readyz").content == b"ready"


def test_not_ready_while_tables_are_missing(stranger_client, monkeypatch):
    monkeypatch.setattr("kitchen.views.health.MigrationExecutor.migration_plan", lambda self, targets: ["one"])
    answer = stranger_client.get("/readyz")
    assert answer.status_code == 503
    assert b"manage.py migrate" in answer.content
