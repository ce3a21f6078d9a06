"""A pytest plugin for the second database: leaves out every test that uses none, because it has run already."""

import pytest

DATABASE_FIXTURES = {"db", "transactional_db", "django_db_reset_sequences", "live_server"}


def uses_database(item: pytest.Item) -> bool:
    """Whether a test asks for a database, by its mark or through any of its fixtures."""
    return item.get_closest_marker("django_db") is not None or bool(DATABASE_FIXTURES & set(getattr(item, "fixturenames", ())))


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Keep the tests that use a database."""
    left_out = [item for item in items if not uses_database(item)]
    if left_out:
        config.hook.pytest_deselected(items=left_out)
        items[:] = [item for item in items if uses_database(item)]
