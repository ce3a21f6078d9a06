"""With the database away, every page that needs it says so in words: 503, and never a mistake of the program's own."""

import re

import pytest
from django.db import InterfaceError, OperationalError
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.backends.utils import CursorWrapper

from tests.house.bench_of_everything import addresses, furnish

NEEDS_NONE = {"kitchen:healthz", "energy:worker", "energy:desk-shell", "energy:offline", "energy:method", "energy:api-session"}
IN_WORDS = re.compile(rb"cannot be reached|away|does not answer")


@pytest.fixture
def away(monkeypatch):
    """A way to take the database away, and to bring it back."""

    def take(error):
        def refuse(*_args, **_more):
            raise error("server closed the connection unexpectedly")

        context = monkeypatch.context()
        patch = context.__enter__()
        patch.setattr(CursorWrapper, "execute", refuse)
        patch.setattr(BaseDatabaseWrapper, "cursor", refuse)
        return context

    return take


def wrong_with(client, door, method):
    """Return what is wrong with an answer, empty where nothing is."""
    answer = getattr(client, method)(door.path)
    if answer.status_code == 503:
        return "" if IN_WORDS.search(answer.content) else f"{door} {method}: without words"
    fine = answer.status_code in (302, 401, 403, 405) or door.name in NEEDS_NONE
    return "" if fine and answer.status_code < 500 else f"{door} {method}: {answer.status_code}"


@pytest.mark.parametrize("error", [OperationalError, InterfaceError])
def test_every_address_says_that_the_database_is_away(
    error, owner, other_cook, owner_client, stranger_client, noon, settings, tmp_path, away
):
    settings.MEDIA_ROOT = tmp_path
    doors = addresses(furnish(owner, other_cook, noon))
    stranger_client.raise_request_exception = owner_client.raise_request_exception = False
    gone = away(error)
    try:
        asked = [
            (client, door, method) for client in (owner_client, stranger_client) for door in doors for method in ("get", "post")
        ]
        wrong = [told for one in asked if (told := wrong_with(*one))]
        nowhere = owner_client.get("/nowhere/").status_code
        alive = owner_client.get("/healthz").content
    finally:
        gone.__exit__(None, None, None)
    assert wrong == []
    assert (nowhere, alive) == (503, b"ok")
