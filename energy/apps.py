"""The energy app deals two cards: energy, and the cautions of the food."""

from django.apps import AppConfig


class EnergyConfig(AppConfig):
    """Registers the energy card when the site starts."""

    name = "energy"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Put the cards, the archivist and the shared things into the kitchen’s registries."""
        from energy.archive import EnergyArchivist
        from energy.cards import EnergyCard
        from energy.cards.safety import SafetyCard
        from energy.meters.operations.devices import revoke_devices_of
        from energy.shared import shared_kinds
        from kitchen.archivists import register_archivist
        from kitchen.cards import register
        from kitchen.farewells import register_farewell
        from kitchen.shared import register_shared

        register(EnergyCard())
        register(SafetyCard())
        register_archivist(EnergyArchivist())
        register_farewell(revoke_devices_of)
        for kind in shared_kinds():
            register_shared(kind)
