from django.apps import AppConfig


class CostingConfig(AppConfig):
    name = "costing"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Deal the cost card."""
        from costing.cards import CostCard
        from kitchen.cards import register

        register(CostCard())
