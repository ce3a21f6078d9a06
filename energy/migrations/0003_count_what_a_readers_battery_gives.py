"""Give published recipes the figure by which "fits my kit" is answered, from what their editions hold."""

from decimal import Decimal

from django.db import migrations

EFFICIENCY, IDLE_W = 0.88, 10.0


def add_figures(apps, schema_editor):
    """Work out what each measured recipe takes out of a reader's battery of the usual kind."""
    Recipe, Figure = apps.get_model("kitchen", "Recipe"), apps.get_model("kitchen", "Figure")
    for recipe in Recipe.objects.filter(current_edition__isnull=False).select_related("current_edition").iterator(chunk_size=50):
        energy = recipe.current_edition.facts.get("cards", {}).get("energy")
        if energy:
            battery_wh = energy["energy_wh"] / EFFICIENCY + IDLE_W * energy["total_s"] / 3600
            value = Decimal(str(round(battery_wh, 4)))
            Figure.objects.get_or_create(recipe=recipe, name="own_battery_wh", defaults={"value": value})


class Migration(migrations.Migration):
    dependencies = [
        ("energy", "0002_keep_desks_devices_and_files"),
        ("kitchen", "0004_drop_the_old_search_text"),
    ]
    operations = [migrations.RunPython(add_figures, migrations.RunPython.noop)]
