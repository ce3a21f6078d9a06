"""The site says what a comma before three digits means in a number that is typed."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [("kitchen", "0005_ask_the_measures_for_their_choices")]

    operations = [
        migrations.AddField(
            model_name="site",
            name="comma",
            field=models.CharField(
                choices=[
                    ("thousands", "parts thousands: 1,500 is one thousand five hundred"),
                    ("decimal", "is the decimal sign: 1,500 is one and a half"),
                ],
                default="thousands",
                max_length=12,
            ),
        ),
    ]
