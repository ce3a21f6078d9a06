"""Put the bought item between food and price, and date every price: from when, until when, and since when it is known."""

from datetime import UTC, datetime, time
from decimal import Decimal
from fractions import Fraction

import django.core.validators
import django.db.models.deletion
from django.db import migrations, models

import kitchen.fields

_PACK = ("food_id", "pack_amount", "pack_unit", "packs")


def make_items(apps, schema_editor):
    """Give every price the item that its pack makes, and the day it was seen as the moment since when it is known."""
    item_model, quote_model = apps.get_model("costing", "Item"), apps.get_model("costing", "Quote")
    items = {}
    for quote in quote_model.objects.order_by("pk").iterator(chunk_size=2000):
        key = tuple(getattr(quote, name) for name in _PACK)
        if key not in items:
            items[key] = item_model.objects.create(**dict(zip(_PACK, key, strict=True)))
        quote_model.objects.filter(pk=quote.pk).update(item=items[key], known_at=_noon(quote.day), known_guessed=True)
    _rewrite_journal(apps, items)
    schema_editor.connection.check_constraints()  # PostgreSQL alters no table whose references wait to be checked


def _rewrite_journal(apps, items):
    """Let what was noted of prices name their items, so that it can still be put back."""
    item_model, foods = apps.get_model("costing", "Item"), set(apps.get_model("kitchen", "Food").objects.values_list("pk", flat=True))
    change_model = apps.get_model("kitchen", "Change")
    for change in change_model.objects.filter(kind="prices").iterator(chunk_size=500):
        for side in (change.before, change.after):
            if not side or "pack_amount" not in side or int(side["food_id"]) not in foods:
                continue
            key = (int(side.pop("food_id")), Fraction(side.pop("pack_amount")), side.pop("pack_unit"), int(side.pop("packs")))
            if key not in items:
                items[key] = item_model.objects.create(**dict(zip(_PACK, key, strict=True)))
            side["item_id"], side["known_at"] = str(items[key].pk), _noon(datetime.fromisoformat(side["day"]).date()).isoformat()
        change_model.objects.filter(pk=change.pk).update(before=change.before, after=change.after)


def _noon(day):
    return datetime.combine(day, time(12), UTC)


class Migration(migrations.Migration):
    dependencies = [("costing", "0001_initial"), ("kitchen", "0012_note_pictures_of_editions")]

    operations = [
        migrations.CreateModel(
            name='Item',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('brand', models.CharField(blank=True, max_length=80)),
                ('pack_amount', kitchen.fields.RationalField()),
                ('pack_unit', models.CharField(blank=True, help_text='A mass, a volume, or empty for pieces.', max_length=24)),
                ('packs', models.PositiveSmallIntegerField(default=1, validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(1000)])),
                ('container', models.CharField(blank=True, help_text='The word for one pack: can, jar, bag.', max_length=24)),
                ('sold', models.CharField(choices=[('pack', 'only as the whole pack'), ('singly', 'singly, too'), ('loose', 'loose, by weight or measure')], default='pack', max_length=8)),
                ('state', models.CharField(blank=True, choices=[('', 'nothing was said'), ('whole', 'whole, with what is trimmed off'), ('trimmed', 'trimmed, ready for the pot'), ('drained', 'drained'), ('dry', 'dry'), ('cooked', 'cooked')], max_length=8)),
                ('drained_g', kitchen.fields.RationalField(blank=True, help_text='What of one pack is left without its liquid. [g]', null=True)),
                ('pieces', kitchen.fields.RationalField(blank=True, help_text='How many pieces one pack holds.', null=True)),
                ('gives', models.JSONField(blank=True, default=list)),
                ('tax_pct', models.DecimalField(blank=True, decimal_places=1, max_digits=4, null=True, validators=[django.core.validators.MinValueValidator(0), django.core.validators.MaxValueValidator(50)])),
            ],
            options={
                'ordering': ['food', 'brand', 'pk'],
            },
        ),
        migrations.AlterModelOptions(
            name='yield',
            options={'ordering': ['food', 'process', 'preparation']},
        ),
        migrations.RemoveConstraint(
            model_name='yield',
            name='yield_once',
        ),
        migrations.RemoveConstraint(
            model_name='yield',
            name='yield_percent_range',
        ),
        migrations.AddField(
            model_name='quote',
            name='known_at',
            field=models.DateTimeField(null=True, help_text='Since when the kitchen knows it.'),
        ),
        migrations.AddField(
            model_name='quote',
            name='known_guessed',
            field=models.BooleanField(default=False, help_text='From before moments were kept: the day it was seen.'),
        ),
        migrations.AddField(
            model_name='quote',
            name='replaces',
            field=models.OneToOneField(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='replaced_by', to='costing.quote'),
        ),
        migrations.AddField(
            model_name='quote',
            name='taken_back_at',
            field=models.DateTimeField(blank=True, help_text='Since when it no longer counts.', null=True),
        ),
        migrations.AddField(
            model_name='quote',
            name='last_day',
            field=models.DateField(blank=True, help_text='The last day of a sale; empty: until another price.', null=True),
        ),
        migrations.AddField(
            model_name='shop',
            name='country',
            field=models.CharField(blank=True, help_text='ISO 3166-1; how its prices are printed.', max_length=2),
        ),
        migrations.AddField(
            model_name='yield',
            name='process',
            field=models.CharField(choices=[('trim', 'trimming: what is left of what was bought'), ('cook', 'cooking: what it weighs cooked')], default='trim', max_length=4),
        ),
        migrations.AlterField(
            model_name='sheetrules',
            name='rule',
            field=models.CharField(choices=[('newest', 'the newest price'), ('median', 'the median of the last few'), ('shop', "one shop's newest price"), ('cheapest', 'the cheapest price now')], default='newest', max_length=8),
        ),
        migrations.AlterField(
            model_name='yield',
            name='percent',
            field=models.DecimalField(decimal_places=2, max_digits=5, validators=[django.core.validators.MinValueValidator(Decimal('0.01')), django.core.validators.MaxValueValidator(Decimal('999'))]),
        ),
        migrations.AddField(
            model_name='item',
            name='food',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='items', to='kitchen.food'),
        ),
        migrations.AddField(
            model_name='quote',
            name='item',
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.CASCADE, related_name='quotes', to='costing.item'),
        ),
        migrations.RunPython(make_items, migrations.RunPython.noop),
        migrations.RemoveIndex(
            model_name='quote',
            name='quote_food_day',
        ),
        migrations.RemoveConstraint(
            model_name='quote',
            name='quote_at_least_one_pack',
        ),
        migrations.RemoveField(
            model_name='quote',
            name='food',
        ),
        migrations.RemoveField(
            model_name='quote',
            name='pack_amount',
        ),
        migrations.RemoveField(
            model_name='quote',
            name='pack_unit',
        ),
        migrations.RemoveField(
            model_name='quote',
            name='packs',
        ),
        migrations.AlterField(
            model_name='quote',
            name='known_at',
            field=models.DateTimeField(help_text='Since when the kitchen knows it.'),
        ),
        migrations.AlterField(
            model_name='item',
            name='food',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='items', to='kitchen.food'),
        ),
        migrations.AlterField(
            model_name='quote',
            name='item',
            field=models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='quotes', to='costing.item'),
        ),
        migrations.AddConstraint(
            model_name='yield',
            constraint=models.UniqueConstraint(fields=('food', 'process', 'preparation'), name='yield_once_for_process'),
        ),
        migrations.AddConstraint(
            model_name='yield',
            constraint=models.CheckConstraint(condition=models.Q(models.Q(('percent__gt', 0), ('percent__lte', 100)), models.Q(('percent__gt', 0), ('percent__lte', 999), ('process', 'cook')), _connector='OR'), name='yield_percent_in_range'),
        ),
        migrations.AddIndex(
            model_name='quote',
            index=models.Index(fields=['item', '-day'], name='quote_item_day'),
        ),
        migrations.AddIndex(
            model_name='quote',
            index=models.Index(fields=['-day', '-id'], name='quote_day'),
        ),
        migrations.AddConstraint(
            model_name='quote',
            constraint=models.CheckConstraint(condition=models.Q(('last_day__isnull', True), ('last_day__gte', models.F('day')), _connector='OR'), name='quote_last_day_not_before_day'),
        ),
        migrations.AddConstraint(
            model_name='item',
            constraint=models.UniqueConstraint(condition=models.Q(('sold', 'loose')), fields=('food', 'brand', 'pack_amount', 'pack_unit', 'packs'), name='item_loose_once'),
        ),
        migrations.AddConstraint(
            model_name='item',
            constraint=models.UniqueConstraint(condition=models.Q(('sold', 'loose'), _negated=True), fields=('food', 'brand', 'pack_amount', 'pack_unit', 'packs'), name='item_packed_once'),
        ),
        migrations.AddConstraint(
            model_name='item',
            constraint=models.CheckConstraint(condition=models.Q(('packs__gte', 1)), name='item_at_least_one_pack'),
        ),
    ]
