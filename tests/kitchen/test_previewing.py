"""The bench page that shows what other programs get of a recipe."""

import pytest

from kitchen.models import Site
from kitchen.publish.gaps import ASKED_FOR, gaps_in
from kitchen.words import ENGLISH, words_of
from tests.kitchen.stew import write_stew

PLACE = "/bench/recipes/stew/machines/"


def test_only_its_cook_sees_it(stew, owner_client, other_client, stranger_client):
    assert [client.get(PLACE).status_code for client in (owner_client, other_client, stranger_client)] == [200, 404, 302]


def test_it_lists_what_is_missing_of_the_edition(stew, owner_client):
    page = owner_client.get(PLACE).content.decode()
    for words in ("edition 1", "A photo:", "The electricity:", "public address is not set", "/r/stew/share/"):
        assert words in page
    for there in ("The method.", "A summary,", "The minutes in all"):
        assert there not in page
    Site.objects.update_or_create(pk=1, defaults={"base_url": "https://kitchen.example.org"})
    assert "public address is not set" not in owner_client.get(PLACE).content.decode()


def test_of_a_draft_it_shows_what_would_go_out_and_no_address(no_cards, owner, noon, owner_client):
    write_stew(owner, noon)
    page = owner_client.get(PLACE).content.decode()
    assert "Nothing goes out yet" in page
    assert "/r/stew/share/" not in page
    assert "red lentils" in page


@pytest.mark.parametrize("name", ASKED_FOR)
def test_each_gap_has_words_and_is_told_once(name):
    linked = dict.fromkeys(set(ASKED_FOR) - {name}, "there")
    (gap,) = gaps_in(linked, has_photo=True, has_address=True)
    assert "no words" not in words_of(gap, ENGLISH)
