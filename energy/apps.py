"""The energy app deals two cards: energy, and the cautions of the food."""

from django.apps import AppConfig


class EnergyConfig(AppConfig):
    """Registers the energy card when the site starts."""

    name = "energy"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Put the cards and the archivist into the kitchen’s registries."""
        from energy.archive import EnergyArchivist
        from energy.cards import EnergyCard
        from energy.cards.safety import SafetyCard
        from kitchen.archivists import register_archivist
        from kitchen.cards import register

        register(EnergyCard())
        register(SafetyCard())
        register_archivist(EnergyArchivist())
