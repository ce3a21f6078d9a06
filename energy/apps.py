from django.apps import AppConfig


class EnergyConfig(AppConfig):
    name = "energy"
    default_auto_field = "django.db.models.BigAutoField"
