"""The tables as they are, for repairs by whoever runs the site. What was published is shown and not changed."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.contrib.auth.admin import UserAdmin
from django.contrib.auth.models import User
from django.db import models
from django.http import HttpRequest

from kitchen.models import Change, Edition, Food, Pairing, PastSlug, Photo, Recipe, Revision, Site
from kitchen.operations.journal import note_account, noted
from kitchen.views.doors import hand_of

admin.site.site_header = "Tables"


class NotedAdmin(admin.ModelAdmin):
    """Rows of shared things: what is done to them here is written down as on the bench."""

    def save_model(self, request: HttpRequest, obj: Any, form: Any, change: bool) -> None:
        with noted(obj, hand_of(request)):
            super().save_model(request, obj, form, change)

    def delete_model(self, request: HttpRequest, obj: Any) -> None:
        with noted(obj, hand_of(request)):
            super().delete_model(request, obj)

    def delete_queryset(self, request: HttpRequest, queryset: Any) -> None:
        for obj in queryset:
            self.delete_model(request, obj)


admin.site.unregister(User)


@admin.register(User)
class AccountAdmin(UserAdmin):
    """Accounts: what is done to them here is written down, too."""

    def save_model(self, request: HttpRequest, obj: Any, form: Any, change: bool) -> None:
        super().save_model(request, obj, form, change)
        note_account(obj, "tables", hand_of(request))


@admin.register(Food)
class FoodAdmin(admin.ModelAdmin):
    list_display = ("name", "aisle", "sr_number", "kept_by_cook")
    search_fields = ("name", "aisle")


@admin.register(Recipe)
class RecipeAdmin(admin.ModelAdmin):
    list_display = ("title", "slug", "owner", "updated_at")
    search_fields = ("title", "slug")
    readonly_fields = ("created_at", "updated_at")
    formfield_overrides = {models.URLField: {"assume_scheme": "https"}}


class _ReadOnly(admin.ModelAdmin):
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


@admin.register(Change)
class ChangeAdmin(_ReadOnly):
    list_display = ("at", "by_name", "kind", "name", "done")


@admin.register(Site)
class SiteAdmin(admin.ModelAdmin):
    formfield_overrides = {models.URLField: {"assume_scheme": "https"}}


admin.site.register([PastSlug, Pairing, Photo])
