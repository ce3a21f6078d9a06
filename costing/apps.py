from django.apps import AppConfig


class CostingConfig(AppConfig):
    name = "costing"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Deal the cost card, and pack what costing keeps."""
        from costing.archive import CostingArchivist
        from costing.cards import CostCard
        from kitchen.archivists import register_archivist
        from kitchen.cards import register

        register(CostCard())
        register_archivist(CostingArchivist())
