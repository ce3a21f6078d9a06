"""The kitchen app."""

from django.apps import AppConfig


class KitchenConfig(AppConfig):
    """Brings the kitchen's system checks along."""

    name = "kitchen"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Let the system checks register themselves, pack collections, and name what of the kitchen's own all cooks share."""
        from kitchen import checks  # noqa: F401
        from kitchen.archivists import register_archivist
        from kitchen.operations.foods import shared_foods
        from kitchen.operations.packing_collections import CollectionsArchivist
        from kitchen.shared import register_shared

        register_shared(shared_foods())
        register_archivist(CollectionsArchivist())
