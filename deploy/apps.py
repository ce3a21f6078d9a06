from django.apps import AppConfig

from kitchen.cards import keep_for_owner


class DeployConfig(AppConfig):
    """No tables: the commands that need every app (the demo, the start link) and the middleware live here."""

    name = "deploy"

    def ready(self) -> None:
        """Put the page on backups and health among the kitchen's own."""
        keep_for_owner("Backups and health", "deploy:keeping")
