from django.apps import AppConfig


class DeployConfig(AppConfig):
    """No tables: the commands that need every app (the demo, the start link) and the middleware live here."""

    name = "deploy"
