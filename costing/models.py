"""The costing tables: where food is bought, at what price, and how much of it reaches the pot."""

from __future__ import annotations

from decimal import Decimal
from uuid import uuid4

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from kitchen.fields import RationalField
from kitchen.models import Food


class Shop(models.Model):
    """A place where food is bought."""

    name = models.CharField(max_length=80, unique=True)
    note = models.CharField(max_length=200, blank=True)
    country = models.CharField(max_length=2, blank=True, help_text="ISO 3166-1; how its prices are printed.")

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


SOLD_AS = [("pack", "only as the whole pack"), ("singly", "singly, too"), ("loose", "loose, by weight or measure")]
ITEM_STATES = [
    ("", "nothing was said"),
    ("whole", "whole, with what is trimmed off"),
    ("trimmed", "trimmed, ready for the pot"),
    ("drained", "drained"),
    ("dry", "dry"),
    ("cooked", "cooked"),
]


class Item(models.Model):
    """What lies on a shop's shelf: ``packs`` packs of ``pack_amount`` ``pack_unit`` of a food, sold together for one price.

    ``gives`` are the foods that one pack gives at the same time: [{food_id, amount, unit, share}].
    """

    food = models.ForeignKey(Food, on_delete=models.CASCADE, related_name="items")
    brand = models.CharField(max_length=80, blank=True)
    pack_amount = RationalField()
    pack_unit = models.CharField(max_length=24, blank=True, help_text="A mass, a volume, or empty for pieces.")
    packs = models.PositiveSmallIntegerField(default=1, validators=[MinValueValidator(1), MaxValueValidator(1000)])
    container = models.CharField(max_length=24, blank=True, help_text="The word for one pack: can, jar, bag.")
    sold = models.CharField(max_length=8, choices=SOLD_AS, default="pack")
    state = models.CharField(max_length=8, choices=ITEM_STATES, blank=True)
    drained_g = RationalField(null=True, blank=True, help_text="What of one pack is left without its liquid. [g]")
    pieces = RationalField(null=True, blank=True, help_text="How many pieces one pack holds.")
    gives = models.JSONField(default=list, blank=True)
    tax_pct = models.DecimalField(
        max_digits=4, decimal_places=1, null=True, blank=True, validators=[MinValueValidator(0), MaxValueValidator(50)]
    )

    class Meta:
        ordering = ["food", "brand", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["food", "brand", "pack_amount", "pack_unit", "packs"], condition=Q(sold="loose"), name="item_loose_once"
            ),
            models.UniqueConstraint(
                fields=["food", "brand", "pack_amount", "pack_unit", "packs"], condition=~Q(sold="loose"), name="item_packed_once"
            ),
            models.CheckConstraint(condition=Q(packs__gte=1), name="item_at_least_one_pack"),
        ]

    def __str__(self) -> str:
        return " ".join(filter(None, (str(self.food), self.brand)))


class Receipt(models.Model):
    """A till slip as it was typed or pasted, with what it came to; its prices are quotes of their own."""

    uid = models.UUIDField(default=uuid4, unique=True, editable=False)
    shop = models.ForeignKey(Shop, on_delete=models.PROTECT, related_name="receipts")
    day = models.DateField()
    currency = models.CharField(max_length=3)
    total = models.DecimalField(max_digits=12, decimal_places=4, null=True, blank=True)
    text = models.TextField()
    difference = models.CharField(max_length=80, blank=True, help_text="What lines and total differ by.")
    kept_at = models.DateTimeField()

    class Meta:
        ordering = ["-day", "-pk"]

    def __str__(self) -> str:
        return f"{self.shop}, {self.day:%-d %B %Y}"


class ReceiptPhoto(models.Model):
    """The picture of a till slip: small, for cooks alone, in the tables, so that no file of it lies where photos are served."""

    receipt = models.OneToOneField(Receipt, on_delete=models.CASCADE, related_name="photo")
    picture = models.BinaryField(help_text="WebP, without metadata.")

    def __str__(self) -> str:
        return f"photo of {self.receipt}"


class Learnt(models.Model):
    """What a till prints for a thing on the shelf, learnt from a receipt."""

    shop = models.ForeignKey(Shop, on_delete=models.CASCADE, related_name="learnt")
    words = models.CharField(max_length=120)
    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="learnt")

    class Meta:
        ordering = ["shop", "words"]
        constraints = [models.UniqueConstraint(fields=["shop", "words"], name="learnt_once")]

    def __str__(self) -> str:
        return f"{self.words}: {self.item}"


class Quote(models.Model):
    """A price seen or paid for an item, from ``day`` until ``last_day``, known since ``known_at``.

    No row of the ledger is ever written over: a correction is another row that ``replaces`` it, and what was taken back keeps
    its row with the moment since when it no longer counts.
    """

    item = models.ForeignKey(Item, on_delete=models.CASCADE, related_name="quotes")
    shop = models.ForeignKey(Shop, on_delete=models.PROTECT, related_name="quotes")
    day = models.DateField()
    last_day = models.DateField(null=True, blank=True, help_text="The last day of a sale; empty: until another price.")
    price = models.DecimalField(max_digits=12, decimal_places=4, validators=[MinValueValidator(Decimal(0))])
    currency = models.CharField(max_length=3)
    note = models.CharField(max_length=200, blank=True)
    known_at = models.DateTimeField(help_text="Since when the kitchen knows it.")
    known_guessed = models.BooleanField(default=False, help_text="From before moments were kept: the day it was seen.")
    taken_back_at = models.DateTimeField(null=True, blank=True, help_text="Since when it no longer counts.")
    receipt = models.ForeignKey(Receipt, null=True, blank=True, on_delete=models.SET_NULL, related_name="quotes")
    replaces = models.OneToOneField("self", null=True, blank=True, on_delete=models.SET_NULL, related_name="replaced_by")

    class Meta:
        ordering = ["-day", "-pk"]
        indexes = [
            models.Index(fields=["item", "-day", "-id"], name="quote_standing_item", condition=Q(taken_back_at=None)),
            models.Index(fields=["shop", "-day"], name="quote_standing_shop", condition=Q(taken_back_at=None)),
            models.Index(fields=["-day", "-id"], name="quote_standing_day", condition=Q(taken_back_at=None)),
        ]
        constraints = [
            models.CheckConstraint(condition=Q(price__gte=0), name="quote_price_not_negative"),
            models.CheckConstraint(
                condition=Q(last_day__isnull=True) | Q(last_day__gte=models.F("day")), name="quote_last_day_not_before_day"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item.food} at {self.shop}, {self.day:%-d %B %Y}"

    @property
    def food(self) -> Food:
        """The food that it is a price of."""
        return self.item.food


YIELD_KINDS = [("trim", "trimming: what is left of what was bought"), ("cook", "cooking: what it weighs cooked")]


class Yield(models.Model):
    """How much of a food is left after a preparation, or what it weighs cooked, tested by the owner or taken from a table."""

    food = models.ForeignKey(Food, on_delete=models.CASCADE, related_name="yields")
    process = models.CharField(max_length=4, choices=YIELD_KINDS, default="trim")
    preparation = models.CharField(max_length=60, blank=True, help_text="“peeled and diced”; empty for the usual one.")
    percent = models.DecimalField(
        max_digits=5, decimal_places=2, validators=[MinValueValidator(Decimal("0.01")), MaxValueValidator(Decimal(999))]
    )
    source = models.CharField(max_length=160, blank=True)
    from_day = models.DateField(null=True, blank=True, help_text="From which day on it counts; empty: on any day.")

    class Meta:
        ordering = ["food", "process", "preparation", "from_day"]
        constraints = [
            models.UniqueConstraint(fields=["food", "process", "preparation", "from_day"], name="yield_once_a_day"),
            models.UniqueConstraint(
                fields=["food", "process", "preparation"], condition=Q(from_day__isnull=True), name="yield_once_on_any_day"
            ),
            models.CheckConstraint(
                condition=Q(percent__gt=0, percent__lte=100) | Q(process="cook", percent__gt=0, percent__lte=999),
                name="yield_percent_in_range",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.food} {self.preparation}: {self.percent} %"


QUOTE_RULES = [
    ("newest", "the newest price"),
    ("median", "the median of the last few"),
    ("shop", "one shop's newest price"),
    ("cheapest", "the cheapest price now"),
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
