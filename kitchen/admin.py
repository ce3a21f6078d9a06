"""The tables as they are, for repairs by whoever runs the site. What was published is shown and not changed."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.db import models
from django.http import HttpRequest

from kitchen.models import Edition, Food, Pairing, PastSlug, Photo, Recipe, Revision, Site

admin.site.site_header = "Tables"


@admin.register(Food)
class FoodAdmin(admin.ModelAdmin):  # type: ignore[type-arg]
    list_display = ("name", "aisle", "sr_number", "kept_by_cook")
    search_fields = ("name", "aisle")


@admin.register(Recipe)
class RecipeAdmin(admin.ModelAdmin):  # type: ignore[type-arg]
    list_display = ("title", "slug", "owner", "updated_at")
    search_fields = ("title", "slug")
    readonly_fields = ("created_at", "updated_at")
    formfield_overrides = {models.URLField: {"assume_scheme": "https"}}


class _ReadOnly(admin.ModelAdmin):  # type: ignore[type-arg]
    """Rows that a repair never touches."""

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


@admin.register(Edition)
class EditionAdmin(_ReadOnly):
    list_display = ("recipe", "number", "published_at")
    list_select_related = ("recipe",)


@admin.register(Revision)
class RevisionAdmin(_ReadOnly):
    list_display = ("recipe", "number", "locked_at")
    list_select_related = ("recipe",)


@admin.register(Site)
class SiteAdmin(admin.ModelAdmin):  # type: ignore[type-arg]
    formfield_overrides = {models.URLField: {"assume_scheme": "https"}}


admin.site.register([PastSlug, Pairing, Photo])
