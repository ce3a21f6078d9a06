"""The tables as they are, for repairs by whoever runs the site."""

from __future__ import annotations

from django.contrib import admin

from costing.models import Item, Quote, SheetRules, Shop, Yield
from kitchen.admin import NotedAdmin


@admin.register(Shop)
class ShopAdmin(NotedAdmin):
    list_display = ("name", "note")
    search_fields = ("name",)


@admin.register(Item)
class ItemAdmin(NotedAdmin):
    list_display = ("food", "brand", "packs", "pack_amount", "pack_unit", "sold")
    list_select_related = ("food",)
    search_fields = ("food__name", "brand")


@admin.register(Quote)
class QuoteAdmin(NotedAdmin):
    list_display = ("item", "price", "currency", "shop", "day", "last_day", "taken_back_at")
    list_select_related = ("item__food", "shop")
    search_fields = ("item__food__name", "shop__name")
    date_hierarchy = "day"


@admin.register(Yield)
class YieldAdmin(NotedAdmin):
    list_display = ("food", "preparation", "percent", "source")
    list_select_related = ("food",)
    search_fields = ("food__name",)


admin.site.register(SheetRules, NotedAdmin)
