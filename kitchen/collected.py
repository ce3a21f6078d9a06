"""The tables of collections: recipes in an order of their own, under a name."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q


class Collection(models.Model):
    """Recipes that go together. ``published_at`` is empty while it is its cook's alone, ``withdrawn_at`` once it was taken back.

    ``before`` is how it stood before the last change: ``{"title", "summary", "dishes": [[recipe, servings], ...]}``.
    """

    uid = models.UUIDField(unique=True, default=uuid.uuid4, editable=False, help_text="The same on every site it was packed for.")
    slug = models.SlugField(max_length=80, unique=True)
    title = models.CharField(max_length=120)
    summary = models.CharField(max_length=300, blank=True)
    owner = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="collections")
    before = models.JSONField(default=dict, blank=True, editable=False)
    created_at = models.DateTimeField()
    updated_at = models.DateTimeField()
    published_at = models.DateTimeField(null=True, blank=True, editable=False)
    withdrawn_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        ordering = ["title"]

    def __str__(self) -> str:
        return self.title


class CollectedRecipe(models.Model):
    """A recipe in its place in a collection, which it may have twice; for so many ``servings``, empty as it is written."""

    collection = models.ForeignKey(Collection, on_delete=models.CASCADE, related_name="dishes")
    recipe = models.ForeignKey("kitchen.Recipe", on_delete=models.CASCADE, related_name="collected")
    position = models.PositiveSmallIntegerField()
    servings = models.PositiveSmallIntegerField(null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(500)])

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["collection", "position"], name="collected_position_once"),
            models.CheckConstraint(
                condition=Q(servings__isnull=True) | Q(servings__gte=1, servings__lte=500), name="collected_servings_in_range"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.recipe} in {self.collection}"
