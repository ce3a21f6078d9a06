"""The terminal names the address, and the one-time link while nobody owns the kitchen."""

from pathlib import Path

import pytest

from deploy.environment import read_environment
from deploy.welcome import site_address, welcome_lines


def environment(**values: str):
    return read_environment(values, Path("/srv/kitchen"))


@pytest.mark.parametrize(
    ("values", "address"),
    [
        ({}, "http://127.0.0.1:8000"),
        ({"WATTFARE_BIND": "[::1]:9000"}, "http://[::1]:9000"),
        ({"WATTFARE_BIND": "0.0.0.0:8000", "WATTFARE_HOSTS": "van.example,10.0.0.2"}, "http://van.example:8000"),
        ({"WATTFARE_HTTPS": "1", "WATTFARE_HOSTS": "recipes.example.org"}, "https://recipes.example.org"),
    ],
)
def test_the_address_is_the_one_that_is_reached(values, address):
    assert site_address(environment(**values)) == address


@pytest.mark.django_db
def test_the_link_is_shown_until_somebody_owns_the_kitchen(client):
    where, link = welcome_lines(environment())
    assert where == "Wattfare is at http://127.0.0.1:8000/ (Ctrl-C stops it)"
    assert client.get(link.rpartition("http://127.0.0.1:8000")[2]).status_code == 200


@pytest.mark.django_db
def test_an_owned_kitchen_shows_no_link(owner):
    assert len(welcome_lines(environment())) == 1
