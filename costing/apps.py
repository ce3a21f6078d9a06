from django.apps import AppConfig


class CostingConfig(AppConfig):
    name = "costing"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Deal the cost card, pack what costing keeps, and tell of what is shared."""
        from costing.archive import CostingArchivist
        from costing.cards import CostCard
        from costing.shared import shared_kinds
        from kitchen.archivists import register_archivist
        from kitchen.cards import register
        from kitchen.shared import register_shared

        register(CostCard())
        register_archivist(CostingArchivist())
        for kind in shared_kinds():
            register_shared(kind)
