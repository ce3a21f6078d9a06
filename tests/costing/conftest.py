"""Shared by the costing tests: the site and a small stew with prices."""

import pytest

from kitchen.models import Recipe
from tests.costing.kitchen_of_prices import set_site, write_stew


@pytest.fixture
def site(db):
    """A kitchen that counts in euros."""
    return set_site()


@pytest.fixture
def stew(owner, site, noon) -> Recipe:
    """Four lines for four: two with a price, cumin without one, salt to taste."""
    return write_stew(owner, noon)
