"""A pytest plugin for the second database: leaves out what has run already and would say the same here.

That is every test that uses no database, and every one marked ``any_engine``: it shows what a page, a picture or a paper looks
like, or what a browser does with it, while other tests ask the second database the same queries and write the same rows.
"""

from pathlib import Path

import pytest

DATABASE_FIXTURES = {"db", "transactional_db", "django_db_reset_sequences", "live_server"}


WITHOUT_DATABASE = {"domain", "importers", "files", "published", "charts", "measure"}
"""Folders whose tests use no database, so that they are not even read; ``tests/conftest.py`` holds them to it."""


def lies_without(path: Path, config: pytest.Config) -> bool:
    """Whether a file or folder of the checkout lies where no test uses a database."""
    inside = path.relative_to(config.rootpath).parts if path.is_relative_to(config.rootpath) else ()
    return bool(WITHOUT_DATABASE.intersection(inside))


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """Pass over a folder whose tests use no database."""
    return lies_without(collection_path, config) or None


def uses_database(item: pytest.Item) -> bool:
    """Whether a test asks for a database, by its mark or through any of its fixtures."""
    return item.get_closest_marker("django_db") is not None or bool(DATABASE_FIXTURES & set(getattr(item, "fixturenames", ())))


def depends_on_engine(item: pytest.Item) -> bool:
    """Whether a test may end differently on another database."""
    return uses_database(item) and item.get_closest_marker("any_engine") is None


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Keep the tests that depend on the engine."""
    left_out = [item for item in items if not depends_on_engine(item)]
    if left_out:
        config.hook.pytest_deselected(items=left_out)
        items[:] = [item for item in items if depends_on_engine(item)]
