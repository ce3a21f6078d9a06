from django.apps import AppConfig


class KitchenConfig(AppConfig):
    name = "kitchen"
    default_auto_field = "django.db.models.BigAutoField"
