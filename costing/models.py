"""The costing tables: where food is bought, at what price, and how much of it reaches the pot."""

from __future__ import annotations

from decimal import Decimal

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from kitchen.fields import RationalField
from kitchen.models import Food


class Shop(models.Model):
    """A place where food is bought."""

    name = models.CharField(max_length=80, unique=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Quote(models.Model):
    """A price seen or paid: ``packs`` packs of ``pack_amount`` ``pack_unit`` for ``price`` in all."""

    food = models.ForeignKey(Food, on_delete=models.CASCADE, related_name="quotes")
    shop = models.ForeignKey(Shop, on_delete=models.PROTECT, related_name="quotes")
    day = models.DateField()
    price = models.DecimalField(max_digits=12, decimal_places=4, validators=[MinValueValidator(Decimal(0))])
    currency = models.CharField(max_length=3)
    pack_amount = RationalField()
    pack_unit = models.CharField(max_length=24, blank=True, help_text="A mass, a volume, or empty for pieces.")
    packs = models.PositiveSmallIntegerField(default=1, validators=[MinValueValidator(1), MaxValueValidator(1000)])
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-day", "-pk"]
        indexes = [models.Index(fields=["food", "-day"], name="quote_food_day")]
        constraints = [
            models.CheckConstraint(condition=Q(price__gte=0), name="quote_price_not_negative"),
            models.CheckConstraint(condition=Q(packs__gte=1), name="quote_at_least_one_pack"),
        ]

    def __str__(self) -> str:
        return f"{self.food} at {self.shop}, {self.day:%-d %B %Y}"


class Yield(models.Model):
    """How much of a bought food is edible after a preparation, tested by the owner or taken from a table."""

    food = models.ForeignKey(Food, on_delete=models.CASCADE, related_name="yields")
    preparation = models.CharField(max_length=60, blank=True, help_text="“peeled and diced”; empty for the usual one.")
    percent = models.DecimalField(
        max_digits=5, decimal_places=2, validators=[MinValueValidator(Decimal("0.01")), MaxValueValidator(Decimal(100))]
    )
    source = models.CharField(max_length=160, blank=True)

    class Meta:
        ordering = ["food", "preparation"]
        constraints = [
            models.UniqueConstraint(fields=["food", "preparation"], name="yield_once"),
            models.CheckConstraint(condition=Q(percent__gt=0, percent__lte=100), name="yield_percent_range"),
        ]

    def __str__(self) -> str:
        return f"{self.food} {self.preparation}: {self.percent} %"


QUOTE_RULES = [
    ("newest", "the newest price"),
    ("median", "the median of the last few"),
    ("shop", "one shop's newest price"),
]


class SheetRules(models.Model):
    """The one row that says how this kitchen's cost sheets are made."""

    rule = models.CharField(max_length=8, choices=QUOTE_RULES, default="newest")
    last = models.PositiveSmallIntegerField(default=3, validators=[MinValueValidator(2), MaxValueValidator(20)])
    shop = models.ForeignKey(Shop, null=True, blank=True, on_delete=models.SET_NULL, related_name="+")
    allowance_pct = models.DecimalField(
        max_digits=4, decimal_places=1, default=Decimal(0), validators=[MinValueValidator(0), MaxValueValidator(50)]
    )

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(pk=1), name="sheet_rules_one_row"),
            models.CheckConstraint(condition=Q(allowance_pct__gte=0, allowance_pct__lte=50), name="sheet_rules_allowance_range"),
        ]

    def __str__(self) -> str:
        return self.get_rule_display()
