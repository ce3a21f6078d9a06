"""The energy app deals one card."""

from django.apps import AppConfig


class EnergyConfig(AppConfig):
    """Registers the energy card when the site starts."""

    name = "energy"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Put the energy card and archivist into the kitchen’s registries."""
        from energy.archive import EnergyArchivist
        from energy.cards import EnergyCard
        from kitchen.archivists import register_archivist
        from kitchen.cards import register

        register(EnergyCard())
        register_archivist(EnergyArchivist())
