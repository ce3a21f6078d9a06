"""The pictures of editions that are there already are written down: readers go on seeing them."""

import json

from django.db import migrations

from kitchen.domain.pictures import stems_in


def note_pictures(apps, _editor):
    """Write down which pictures the editions show that are there already."""
    edition, picture = apps.get_model("kitchen", "Edition"), apps.get_model("kitchen", "ShownPicture")
    for number, facts in edition.objects.values_list("pk", "facts").iterator(chunk_size=50):
        stems = sorted(stems_in(json.dumps(facts)))
        picture.objects.bulk_create((picture(edition_id=number, stem=stem) for stem in stems), ignore_conflicts=True)


class Migration(migrations.Migration):

    dependencies = [("kitchen", "0011_show_pictures_of_editions")]

    operations = [migrations.RunPython(note_pictures, migrations.RunPython.noop)]
