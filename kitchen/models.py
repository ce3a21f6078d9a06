"""The kitchen's tables: foods, recipes, their revisions, and the editions that were published."""

from __future__ import annotations

import uuid
from decimal import Decimal

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q

import kitchen.collected  # noqa: F401  (tables of this app, in a module of their own)
from kitchen.domain.licences import licence_choices
from kitchen.domain.pictures import drawing_choices
from kitchen.domain.stages import STAGE_CHOICES
from kitchen.domain.systems import system_choices
from kitchen.fields import RationalField

ROUNDINGS = [
    ("school", "school meals: few, easy measures"),
    ("forces", "armed forces: finer, every spoon told"),
]
COMMAS = [
    ("thousands", "parts thousands: 1,500 is one thousand five hundred"),
    ("decimal", "is the decimal sign: 1,500 is one and a half"),
]
SCALING_RULES = [
    ("proportional", "with the servings"),
    ("fixed", "stays the same"),
    ("batch", "once for each batch"),
    ("seasoning", "seasoning: start low, taste"),
    ("simmer", "simmer liquid in an open pan"),
]


class Site(models.Model):
    """The one row that says whose kitchen this is."""

    name = models.CharField(max_length=80, default="Our kitchen")
    tagline = models.CharField(max_length=160, blank=True)
    currency = models.CharField(max_length=3, default="EUR")
    measures = models.CharField(max_length=12, choices=system_choices, default="written")
    rounding = models.CharField(max_length=12, choices=ROUNDINGS, default="school")
    comma = models.CharField(max_length=12, choices=COMMAS, default="thousands")
    altitude_m = models.IntegerField(default=0, validators=[MinValueValidator(-430), MaxValueValidator(5500)])
    time_zone = models.CharField(max_length=60, blank=True, default="", help_text="By which clocks are read.")
    licence = models.CharField(max_length=20, choices=licence_choices, blank=True, default="", help_text="Of the data.")
    cite_as = models.CharField(max_length=80, blank=True, default="", help_text="Whom to name; a recipe's author where empty.")
    base_url = models.URLField(blank=True, help_text="The public address, for printed cards and QR codes.")
    demo_rows = models.JSONField(default=dict, blank=True, editable=False)

    class Meta:
        constraints = [models.CheckConstraint(condition=Q(pk=1), name="site_is_one_row")]

    def __str__(self) -> str:
        return self.name


class Food(models.Model):
    """A food: its words, its weights and its composition per 100 g edible."""

    name = models.CharField(max_length=120, unique=True)
    aliases = models.JSONField(default=list, blank=True)
    aisle = models.CharField(max_length=40, blank=True)
    sr_number = models.PositiveIntegerField(null=True, blank=True, unique=True, help_text="Row of the reference table.")
    g_per_ml = models.FloatField(null=True, blank=True)
    g_per_each = models.FloatField(null=True, blank=True)
    each_name = models.CharField(max_length=80, blank=True)
    weights = models.JSONField(default=list, blank=True, help_text="Further household weights: [{unit, words, g}].")
    refuse_pct = models.FloatField(default=0)
    refuse_words = models.CharField(max_length=160, blank=True)
    water_g = models.FloatField(null=True, blank=True)
    protein_g = models.FloatField(null=True, blank=True)
    fat_g = models.FloatField(null=True, blank=True)
    carbohydrate_g = models.FloatField(null=True, blank=True)
    fibre_g = models.FloatField(null=True, blank=True)
    ash_g = models.FloatField(null=True, blank=True)
    energy_kcal = models.FloatField(null=True, blank=True)
    sodium_mg = models.FloatField(null=True, blank=True)
    sugars_g = models.FloatField(null=True, blank=True)
    saturated_fat_g = models.FloatField(null=True, blank=True)
    allergens = models.JSONField(default=list, blank=True)
    kept_by_cook = models.BooleanField(
        default=False, editable=False, help_text="A cook changed this row: loading the reference table again leaves it alone."
    )

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(condition=Q(g_per_ml__isnull=True) | Q(g_per_ml__gt=0), name="food_g_per_ml_positive"),
            models.CheckConstraint(condition=Q(g_per_each__isnull=True) | Q(g_per_each__gt=0), name="food_g_per_each_positive"),
            models.CheckConstraint(condition=Q(refuse_pct__gte=0) & Q(refuse_pct__lt=100), name="food_refuse_below_100"),
        ]

    def __str__(self) -> str:
        return self.name


class Recipe(models.Model):
    """What stays the same while revisions and editions come and go: the address, the owner, the shelf it stands on."""

    uid = models.UUIDField(unique=True, default=uuid.uuid4, editable=False, help_text="The same on every site it was packed for.")
    slug = models.SlugField(max_length=80, unique=True)
    title = models.CharField(max_length=120)
    summary = models.CharField(max_length=300, blank=True)
    owner = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="recipes")
    tags = models.JSONField(default=list, blank=True)
    drawing = models.CharField(max_length=12, choices=drawing_choices, default="pot")
    home_url = models.URLField(blank=True, help_text="Where the recipe first appeared, if elsewhere.")
    blog_url = models.URLField(blank=True, default="", help_text="The cook's own page of it, where that is its home.")
    film_url = models.URLField(blank=True, default="", help_text="A film of the cook.")
    film_on = models.DateField(null=True, blank=True, help_text="The day it came out.")
    film_chapters = models.TextField(max_length=4000, blank=True, default="", help_text="Its chapters, one a line.")
    shelf_title = models.CharField(max_length=130, blank=True, db_index=True, editable=False)
    shelved_by = models.PositiveSmallIntegerField(default=0, editable=False, help_text="By which rules.")
    allergens = models.JSONField(default=dict, blank=True, help_text="What the cook added to or took off those of the foods.")
    own_cautions = models.TextField(max_length=1000, blank=True, default="", help_text="The cook's own cautions, one a line.")
    current_edition = models.OneToOneField(
        "Edition", null=True, blank=True, on_delete=models.SET_NULL, related_name="published_as", editable=False
    )
    withdrawn_at = models.DateTimeField(null=True, blank=True, editable=False)
    created_at = models.DateTimeField()
    updated_at = models.DateTimeField()

    class Meta:
        ordering = ["title"]
        indexes = [models.Index(fields=["owner", "-updated_at"], name="recipe_owner_updated")]

    def __str__(self) -> str:
        return self.title


class ShelfWord(models.Model):
    """A word by which the library finds a recipe: folded, of the current edition."""

    recipe = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="shelf_words", db_index=False)
    word = models.CharField(max_length=40)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["recipe", "word"], name="shelf_word_once")]
        # Holds all that a search asks for; its order of words is byte by byte on every engine, so that beginnings lie together.
        indexes = [models.Index(fields=["word", "recipe"], name="shelf_by_word", opclasses=["varchar_pattern_ops", "int8_ops"])]

    def __str__(self) -> str:
        return self.word


class ShelfMark(models.Model):
    """What the library sorts a recipe under, of the current edition: a tag, an allergen, what a card declares."""

    recipe = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="shelf_marks", db_index=False)
    kind = models.CharField(max_length=16)
    value = models.CharField(max_length=60)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["recipe", "kind", "value"], name="shelf_mark_once")]
        indexes = [models.Index(fields=["kind", "value", "recipe"], name="shelf_by_mark")]

    def __str__(self) -> str:
        return f"{self.kind} {self.value}"


class PastSlug(models.Model):
    """An address that a recipe had before; it answers 301."""

    slug = models.SlugField(max_length=80, unique=True)
    recipe = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="past_slugs")

    def __str__(self) -> str:
        return self.slug


class Photo(models.Model):
    """A photo's derivatives; the original is not kept."""

    recipe = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="photos")
    wide = models.CharField(max_length=120, db_index=True)
    small = models.CharField(max_length=120)
    alt = models.CharField(max_length=200)
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    focal_x = models.FloatField(default=0.5)
    focal_y = models.FloatField(default=0.5)
    crops = models.JSONField(default=dict, blank=True, editable=False, help_text="Further files: {name: [width, height]}.")
    digest = models.CharField(max_length=64)
    added_at = models.DateTimeField()
    leads = models.BooleanField(default=False, help_text="Shown at the head of the recipe.")

    class Meta:
        ordering = ["-leads", "added_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(focal_x__gte=0, focal_x__lte=1, focal_y__gte=0, focal_y__lte=1), name="photo_focal_inside"
            ),
            models.UniqueConstraint(fields=["recipe"], condition=Q(leads=True), name="photo_one_lead"),
        ]

    def __str__(self) -> str:
        return self.alt


class Revision(models.Model):
    """What was cooked. Locked once a run was recorded on it or it was published; the next edit opens a copy."""

    recipe = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField()
    servings = models.PositiveSmallIntegerField(default=4, validators=[MinValueValidator(1), MaxValueValidator(500)])
    serving_g = models.FloatField(null=True, blank=True)
    note = models.CharField(max_length=300, blank=True, help_text="Why this revision differs from the one before.")
    copied_from = models.PositiveIntegerField(null=True, blank=True, editable=False, help_text="The number it was copied from.")
    locked_at = models.DateTimeField(null=True, blank=True, editable=False)
    draft_version = models.PositiveIntegerField(default=1, editable=False)
    typed = models.JSONField(default=dict, blank=True, editable=False)
    created_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    created_at = models.DateTimeField()

    class Meta:
        ordering = ["recipe", "-number"]
        constraints = [
            models.UniqueConstraint(fields=["recipe", "number"], name="revision_number_once"),
            models.CheckConstraint(condition=Q(servings__gte=1, servings__lte=500), name="revision_servings_in_range"),
        ]

    def __str__(self) -> str:
        return f"{self.recipe}, revision {self.number}"


class Part(models.Model):
    """A group of lines; the first usually without a title."""

    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="parts")
    position = models.PositiveSmallIntegerField()
    title = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ["position"]
        constraints = [models.UniqueConstraint(fields=["revision", "position"], name="part_position_once")]

    def __str__(self) -> str:
        return self.title or "ingredients"


class Line(models.Model):
    """One ingredient line: the text as typed, and how it was read."""

    part = models.ForeignKey(Part, on_delete=models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField()
    text = models.CharField(max_length=300)
    low = RationalField(null=True, blank=True)
    high = RationalField(null=True, blank=True)
    unit = models.CharField(max_length=24, blank=True)
    name = models.CharField(max_length=160, blank=True)
    note = models.CharField(max_length=200, blank=True)
    size = models.CharField(max_length=60, blank=True)
    also = models.JSONField(default=list, blank=True)
    rule = models.CharField(max_length=16, choices=SCALING_RULES, default="proportional")
    optional = models.BooleanField(default=False)
    to_taste = models.BooleanField(default=False)
    food = models.ForeignKey(Food, null=True, blank=True, on_delete=models.SET_NULL, related_name="lines")
    sure = models.FloatField(null=True, blank=True, help_text="How sure the automatic link to the food is, 0 to 1.")
    evaporated_ml = models.FloatField(null=True, blank=True, help_text="What boils off in one batch, for a simmering liquid.")
    answered = models.JSONField(default=dict, blank=True, help_text="The cook's word to its cautions: {state, reason}.")
    corrected = models.BooleanField(default=False, help_text="The cook changed how it was read.")
    made_of = models.ForeignKey("Edition", null=True, blank=True, on_delete=models.SET_NULL, related_name="+")
    made_now = models.BooleanField(default=False, help_text="Made in the same cook, and not before.")

    class Meta:
        ordering = ["position"]
        constraints = [models.UniqueConstraint(fields=["part", "position"], name="line_position_once")]

    def __str__(self) -> str:
        return self.text


class Step(models.Model):
    """One step of the method; neighbouring steps of one stage kind form a stage."""

    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="steps")
    position = models.PositiveSmallIntegerField()
    text = models.TextField()
    stage = models.CharField(max_length=12, choices=STAGE_CHOICES, blank=True)
    minutes = models.DecimalField(max_digits=6, decimal_places=1, null=True, blank=True)
    temp_c = models.DecimalField(max_digits=5, decimal_places=1, null=True, blank=True)
    photo = models.ForeignKey(Photo, null=True, blank=True, on_delete=models.SET_NULL, related_name="steps")

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["revision", "position"], name="step_position_once"),
            models.CheckConstraint(condition=Q(minutes__isnull=True) | Q(minutes__gte=0), name="step_minutes_not_negative"),
        ]

    def __str__(self) -> str:
        return self.text[:60]


class Pairing(models.Model):
    """A recipe that is served with another; ``portions`` of the side go with one serving of the main dish."""

    main = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="sides")
    side = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="served_with")
    portions = models.DecimalField(max_digits=5, decimal_places=2, default=Decimal(1))

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["main", "side"], name="pairing_once"),
            models.CheckConstraint(condition=~Q(main=F("side")), name="pairing_not_itself"),
            models.CheckConstraint(condition=Q(portions__gt=0), name="pairing_portions_positive"),
        ]

    def __str__(self) -> str:
        return f"{self.main} with {self.side}"


class Edition(models.Model):
    """What was published: facts frozen at a moment. Public pages and paper are made from this row alone."""

    recipe = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="editions")
    revision = models.ForeignKey(Revision, on_delete=models.PROTECT, related_name="editions")
    number = models.PositiveIntegerField()
    published_at = models.DateTimeField()
    published_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    note = models.CharField(max_length=300, blank=True)
    facts = models.JSONField()
    headlines = models.JSONField(default=list, help_text="The shelf plate's figures, so that the library reads no facts.")
    plate = models.JSONField(default=dict, help_text="The shelf plate's words and photo, for the same reason.")
    digest = models.CharField(max_length=64)

    class Meta:
        ordering = ["recipe", "-number"]
        constraints = [models.UniqueConstraint(fields=["recipe", "number"], name="edition_number_once")]

    def __str__(self) -> str:
        return f"{self.recipe}, edition {self.number}"


class ShownPicture(models.Model):
    """A picture that an edition shows, by the stem of its files' names: while readers can see the edition, they may fetch it."""

    edition = models.ForeignKey(Edition, on_delete=models.CASCADE, related_name="pictures")
    stem = models.CharField(max_length=24, db_index=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["edition", "stem"], name="picture_shown_once")]

    def __str__(self) -> str:
        return self.stem


class Figure(models.Model):
    """One number of the current edition, for the library's filters and sorts."""

    recipe = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="figures")
    name = models.CharField(max_length=40)
    value = models.DecimalField(max_digits=14, decimal_places=4)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["recipe", "name"], name="figure_once")]
        indexes = [models.Index(fields=["name", "value"], name="figure_name_value")]

    def __str__(self) -> str:
        return f"{self.name} {self.value}"


class SignInLane(models.Model):
    """Wrong passwords of one account, one address or one known device, so that the next try waits.

    The key is a keyed digest: the table names nobody, and a row goes a day after the last mistake.
    """

    key = models.CharField(max_length=64, primary_key=True)
    kind = models.CharField(max_length=8)
    failures = models.PositiveIntegerField(default=0)
    last_at = models.DateTimeField(db_index=True)

    def __str__(self) -> str:
        return f"{self.failures} for one {self.kind}"


class Change(models.Model):
    """What was done to something that all cooks share, or to an account: by whom, when, and how it stood before and after."""

    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    by_name = models.CharField(max_length=150, blank=True)
    kind = models.CharField(max_length=20)
    number = models.PositiveBigIntegerField()
    name = models.CharField(max_length=200)
    done = models.CharField(max_length=20)
    before = models.JSONField(default=dict, blank=True, help_text="Column by column, as text; empty where there was nothing.")
    after = models.JSONField(default=dict, blank=True)

    class Meta:
        ordering = ["-pk"]
        indexes = [models.Index(fields=["kind", "number", "-id"], name="change_of_thing")]

    def __str__(self) -> str:
        return f"{self.kind} {self.name} {self.done}"
