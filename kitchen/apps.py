"""The kitchen app."""

from django.apps import AppConfig


class KitchenConfig(AppConfig):
    """Brings the kitchen's system checks along."""

    name = "kitchen"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Let the system checks register themselves."""
        from kitchen import checks  # noqa: F401
