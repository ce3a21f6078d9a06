"""Three people try every view: an owner, another cook, a stranger."""

import datetime
import logging
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import connection
from django.template.base import Template
from django.test import Client
from django.test.utils import instrumented_test_render
from hypothesis import HealthCheck, settings

from tests.only_database import lies_without, uses_database

# A busy computer makes a test slow, not wrong. Every run draws the same examples, so that what passed once passes again;
# ``--hypothesis-profile=long`` looks further, with others each time. What it finds stays in its test as an ``@example``.
settings.register_profile(
    "patient", max_examples=25, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("long", settings.get_profile("patient"), max_examples=1000, derandomize=False)
settings.load_profile("patient")

AS_SERVED = Template._render
NOON = datetime.datetime(2026, 10, 14, 12, 0, tzinfo=datetime.UTC)


def pytest_configure(config: pytest.Config) -> None:
    """Name the marks by which the second database passes over a test, or over a journey not."""
    config.addinivalue_line("markers", "any_engine: ends the same on every database (tests/only_database.py)")
    config.addinivalue_line("markers", "both_engines: a journey that is walked on every database")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Hold the folders that the second database passes over to what is said of them."""
    wrong = [item.nodeid for item in items if lies_without(item.path, config) and uses_database(item)]
    if wrong:
        raise pytest.UsageError(f"No test in these folders may use a database, but these do: {', '.join(wrong)}")


@pytest.fixture(scope="session", autouse=True)
def as_served(django_test_environment):
    """Pages are drawn as they are served: keeping a copy of all that each template knew takes longer than many a page."""
    Template._render = AS_SERVED


@pytest.fixture(scope="session", autouse=True)
def emptied_by_deleting(django_test_environment):
    """PostgreSQL empties few rows of many tables sooner by deleting them than by giving each table a new file."""

    def deletes(operations: Any, _style: Any, tables: list[str], **_: Any) -> list[str]:
        return [f"DELETE FROM {operations.quote_name(table)};" for table in tables]

    if connection.vendor == "postgresql":
        type(connection.ops).sql_flush = deletes


@pytest.fixture
def contexts(monkeypatch):
    """Answers keep what their templates knew, as ``answer.context``."""
    monkeypatch.setattr(Template, "_render", instrumented_test_render)


@pytest.fixture
def noon() -> datetime.datetime:
    """One instant that the tests agree on: 14 October 2026, 12:00 UTC."""
    return NOON


@pytest.fixture
def owner(db) -> User:
    """The person whose kitchen it is."""
    return User.objects.create_superuser("owner", password="pot-lid-spoon")


@pytest.fixture
def other_cook(db) -> User:
    """A signed-in cook who owns nothing here."""
    return User.objects.create_user("other", password="pan-rim-ladle")


@pytest.fixture
def owner_client(owner) -> Client:
    client = Client()
    client.force_login(owner)
    return client


@pytest.fixture
def other_client(other_cook) -> Client:
    client = Client()
    client.force_login(other_cook)
    return client


@pytest.fixture
def stranger_client(db) -> Client:
    return Client()


class _Listener(logging.Handler):
    def __init__(self):
        super().__init__(logging.WARNING)
        self.said = []

    def emit(self, record):
        self.said.append(record.getMessage())


@pytest.fixture
def no_paper_warnings():
    """Fail on anything that WeasyPrint warns of."""
    listener = _Listener()
    logging.getLogger("weasyprint").addHandler(listener)
    yield listener
    logging.getLogger("weasyprint").removeHandler(listener)
    assert listener.said == []
