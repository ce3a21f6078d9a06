"""The ledger of what the example made, so that taking it away takes exactly that."""

from __future__ import annotations

from collections import defaultdict
from typing import Any, TypeVar

from django.apps import apps
from django.db import models

from kitchen.models import Site

M = TypeVar("M", bound=models.Model)


class Ledger:
    """Rows by table ("kitchen.recipe") and primary key; kept on the ``Site`` row."""

    def __init__(self, rows: dict[str, list[Any]] | None = None) -> None:
        self.rows: dict[str, list[Any]] = defaultdict(list, rows or {})

    @classmethod
    def kept(cls) -> Ledger:
        """Return the ledger of the example that is loaded, empty where none is."""
        site = Site.objects.filter(pk=1).first()
        return cls(site.demo_rows if site else None)

    def keep(self) -> None:
        """Write the ledger down."""
        Site.objects.filter(pk=1).update(demo_rows=dict(self.rows))

    def add(self, row: M) -> M:
        """Note a row that the example made, and return it."""
        self.rows[row._meta.label_lower].append(str(row.pk))
        return row

    def take(self, model: type[M], **words: Any) -> M:
        """Return the row with these unique words, made and noted where it was not there."""
        defaults = words.pop("defaults", {})
        row, made = model._default_manager.get_or_create(**words, defaults=defaults)
        return self.add(row) if made else row

    def keys(self, label: str) -> list[str]:
        """Return the primary keys noted for a table."""
        return list(self.rows.get(label, []))

    def forget(self, label: str, key: Any) -> None:
        """Strike a row out."""
        self.rows[label] = [kept for kept in self.rows[label] if kept != str(key)]
        if not self.rows[label]:
            del self.rows[label]

    def noted(self, label: str) -> list[models.Model]:
        """Return the noted rows of a table that still exist."""
        return list(apps.get_model(label)._default_manager.filter(pk__in=self.keys(label)))
