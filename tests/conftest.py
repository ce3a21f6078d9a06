"""Three people try every view: an owner, another cook, a stranger."""

import datetime

import pytest
from django.contrib.auth.models import User
from django.test import Client
from hypothesis import HealthCheck, settings

# A busy computer makes a test slow, not wrong.
settings.register_profile("patient", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("patient")

NOON = datetime.datetime(2026, 10, 14, 12, 0, tzinfo=datetime.UTC)


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
