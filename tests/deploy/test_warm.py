"""Warming up asks for real pages, and does no harm where there is none yet."""

import pytest
from django.core.wsgi import get_wsgi_application
from django.db import connection

from deploy import warm
from deploy.demo.load import load_demo
from energy.meters.files.columns.shape import in_base
from kitchen.domain.typed_quantity import Expected, read_quantity
from kitchen.domain.units import by_pint

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def connection_stays(monkeypatch):
    """The test's own connection outlives the requests that are made without a test client."""
    monkeypatch.setattr(warm.connections, "close_all", lambda: None)
    monkeypatch.setattr(connection, "close_if_unusable_or_obsolete", lambda: None)


def test_a_visit_reads_a_page():
    assert warm.visit(get_wsgi_application(), "/") == "200 OK"


def test_a_visit_under_https_is_not_sent_away(settings):
    settings.SECURE_SSL_REDIRECT = True
    assert warm.visit(get_wsgi_application(), "/") == "200 OK"


def test_a_worker_never_loads_pint_itself():
    warm.warm_up(get_wsgi_application())
    loaded = by_pint.cache_info().misses
    for typed, unit in (
        ("6 qt", "L"),
        ("40 °F", "°C"),
        ("10 psi", "kPa"),
        ("12 V x 64 Ah", "Wh"),
        ("1 h 20", "min"),
        ("6500 ft", "m"),
    ):
        assert read_quantity(typed, Expected(unit, -1e6, 1e6)).words
    assert in_base("energy_total", "MJ") == pytest.approx(277.8, abs=0.1)
    assert by_pint.cache_info().misses == loaded


def test_an_empty_kitchen_sets_a_specimen(monkeypatch):
    printed = []
    monkeypatch.setattr(warm, "print_frame", lambda markup, *_: printed.append(markup))
    warm.warm_up(get_wsgi_application())
    assert printed == [warm.SPECIMEN]


def test_a_kitchen_with_recipes_looks_at_one(monkeypatch):
    load_demo()
    seen = []
    monkeypatch.setattr(warm, "visit", lambda _application, address: seen.append(address))
    warm.warm_up(get_wsgi_application())
    assert seen[0] == "/"
    assert seen[2] == f"{seen[1]}card.pdf"
