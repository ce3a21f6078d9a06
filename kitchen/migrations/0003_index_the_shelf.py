"""The library reads its plates from the edition and finds words by an index."""

import django.db.models.deletion
from django.db import migrations, models

from kitchen.domain.search import fold, shelf_words


def index_published(apps, schema_editor):
    """Give every published recipe its words, its place in the order of titles, and its plate."""
    Recipe = apps.get_model("kitchen", "Recipe")
    ShelfWord = apps.get_model("kitchen", "ShelfWord")
    for recipe in Recipe.objects.filter(current_edition__isnull=False).select_related("current_edition").iterator(chunk_size=100):
        edition, shown = recipe.current_edition, recipe.current_edition.facts["recipe"]
        lines = [line["name"] or line["text"] for part in shown["parts"] for line in part["lines"]]
        words = shelf_words([shown["title"], shown["summary"], *shown["tags"], *lines])
        ShelfWord.objects.bulk_create(ShelfWord(recipe=recipe, word=word) for word in words)
        recipe.shelf_title = fold(shown["title"])[:130]
        recipe.save(update_fields=["shelf_title"])
        edition.plate = plate(edition, shown, recipe)
        edition.save(update_fields=["plate"])


def plate(edition, shown, recipe):
    """Return the words of the plate as they stood on the shelf."""
    standings = {headline.get("standing") for headline in edition.headlines if headline.get("tone") == "energy"}
    standing = next((name for name in ("estimated", "measured", "typed") if name in standings), "")
    runs = recipe.figures.filter(name="runs").values_list("value", flat=True).first()
    badge = {"typed": "typed in"}.get(standing, standing)
    if standing == "measured" and runs is not None:
        badge = {1: "measured once", 2: "measured twice"}.get(int(runs), f"measured {int(runs)} times")
    words = {name: shown[name] for name in ("title", "summary", "drawing", "photo")}
    return {**words, "standing": standing, "badge": badge}


class Migration(migrations.Migration):

    dependencies = [("kitchen", "0002_deepen_the_kitchen")]

    operations = [
        migrations.AddField(
            "recipe", "shelf_title", models.CharField(blank=True, db_index=True, editable=False, max_length=130)
        ),
        migrations.AddField(
            "edition",
            "plate",
            models.JSONField(default=dict, help_text="The shelf plate's words and photo, for the same reason."),
        ),
        migrations.CreateModel(
            "ShelfWord",
            [
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("word", models.CharField(max_length=40)),
                (
                    "recipe",
                    models.ForeignKey(
                        db_index=False, on_delete=django.db.models.deletion.CASCADE, related_name="shelf_words", to="kitchen.recipe"
                    ),
                ),
            ],
            options={
                "constraints": [models.UniqueConstraint(fields=["recipe", "word"], name="shelf_word_once")],
                "indexes": [
                    models.Index(fields=["word", "recipe"], name="shelf_by_word", opclasses=["varchar_pattern_ops", "int8_ops"])
                ],
            },
        ),
        migrations.RunPython(index_published, migrations.RunPython.noop, elidable=True),
    ]
