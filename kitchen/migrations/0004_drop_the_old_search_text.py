"""The old column of words goes, in a migration of its own: PostgreSQL alters no table that has rows waiting for a check."""

from django.db import migrations


class Migration(migrations.Migration):

    dependencies = [("kitchen", "0003_index_the_shelf")]

    operations = [migrations.RemoveField("recipe", "search_text")]
