"""The energy tables in the tables' own pages, for whoever runs the site."""

from django.contrib import admin

from energy import models
from kitchen.admin import NotedAdmin


@admin.register(models.Appliance)
class ApplianceAdmin(NotedAdmin):
    """Appliances by name."""

    list_display = ("name", "kind", "rated_w")


@admin.register(models.PowerSource)
class PowerSourceAdmin(NotedAdmin):
    """Power sources by name."""

    list_display = ("name", "kind", "capacity_wh", "continuous_w")


@admin.register(models.Meter)
class MeterAdmin(NotedAdmin):
    """Meters by name."""

    list_display = ("name", "place", "resolution_wh", "accuracy_pct")


@admin.register(models.Tariff)
class TariffAdmin(NotedAdmin):
    """Tariffs by name."""

    list_display = ("name", "currency", "price_per_kwh", "valid_from", "valid_to")


@admin.register(models.Run)
class RunAdmin(admin.ModelAdmin):
    """Runs to look at; figures are worked out by the bench pages, so nothing is changed here."""

    list_display = ("revision", "started_at", "appliance", "verdict")
    list_select_related = ("revision__recipe", "appliance")

    def has_add_permission(self, request: object) -> bool:
        """Runs are recorded on the bench."""
        return False

    def has_change_permission(self, request: object, obj: object = None) -> bool:
        """Runs are corrected on the bench."""
        return False
