"""The energy tables: what cooks, what feeds it, what measures it, and the runs that were measured."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q

from energy.kinds import METER_PLACES, appliance_choices, source_choices
from kitchen.domain.stages import STAGE_CHOICES
from kitchen.models import Photo, Revision

_NOT_BELOW_0 = [MinValueValidator(0)]
VERDICTS = [
    ("counts", "counts towards the figures"),
    ("accepted", "flagged, accepted with a reason"),
    ("left_out", "left out of the figures"),
]

EVENT_KINDS = [
    ("begin", "begun"),
    ("reading", "a reading"),
    ("stage", "a stage begins"),
    ("moment", "a note or a photo"),
    ("pause", "paused"),
    ("resume", "went on"),
    ("finish", "finished"),
    ("photo", "a picture came"),
]

READING_ORIGINS = [("typed", "typed in"), ("desk", "logged at the run desk"), ("file", "from a file")]


class Appliance(models.Model):
    """A cooker, as its plate and its manual describe it."""

    name = models.CharField(max_length=80, unique=True)
    kind = models.CharField(max_length=20, choices=appliance_choices)
    rated_w = models.FloatField(validators=[MinValueValidator(1), MaxValueValidator(20000)])
    capacity_l = models.FloatField(null=True, blank=True, validators=[MinValueValidator(0.1), MaxValueValidator(200)])
    vessel_kg = models.FloatField(null=True, blank=True, validators=[MinValueValidator(0.01), MaxValueValidator(50)])
    vessel_material = models.CharField(max_length=24, blank=True)
    fill_limit_pct = models.FloatField(default=67, validators=[MinValueValidator(1), MaxValueValidator(100)])
    foam_fill_limit_pct = models.FloatField(default=50, validators=[MinValueValidator(1), MaxValueValidator(100)])
    min_liquid_ml = models.FloatField(null=True, blank=True, validators=[MinValueValidator(0)])
    pressure_kpa = models.FloatField(null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(200)])
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [models.CheckConstraint(condition=Q(rated_w__gt=0), name="appliance_rated_positive")]

    def __str__(self) -> str:
        return self.name


class Tariff(models.Model):
    """A price for a kilowatt-hour, in force from a day to a day."""

    name = models.CharField(max_length=80, unique=True)
    currency = models.CharField(max_length=3)
    price_per_kwh = models.DecimalField(max_digits=10, decimal_places=5, validators=[MinValueValidator(0)])
    valid_from = models.DateField()
    valid_to = models.DateField(null=True, blank=True)
    prices = models.JSONField(default=dict, blank=True, editable=False, help_text="A TariffRecord; empty: one flat price.")
    co2_g_per_kwh = models.FloatField(null=True, blank=True, validators=[MinValueValidator(0), MaxValueValidator(3000)])
    co2_source = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(condition=Q(price_per_kwh__gte=0), name="tariff_price_not_negative"),
            models.CheckConstraint(
                condition=Q(valid_to__isnull=True) | Q(valid_to__gte=F("valid_from")), name="tariff_ends_after_start"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class PowerSource(models.Model):
    """What the cooker is plugged into. Capacity and charging are empty for a hook-up or house mains."""

    name = models.CharField(max_length=80, unique=True)
    kind = models.CharField(max_length=20, choices=source_choices)
    capacity_wh = models.FloatField(null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(1e6)])
    continuous_w = models.FloatField(null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(1e5)])
    surge_w = models.FloatField(null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(1e5)])
    inverter_efficiency = models.FloatField(default=1, validators=[MinValueValidator(0.3), MaxValueValidator(1)])
    idle_w = models.FloatField(default=0, validators=[MinValueValidator(0), MaxValueValidator(500)])
    charge_efficiency = models.FloatField(default=1, validators=[MinValueValidator(0.3), MaxValueValidator(1)])
    wh_per_pct = models.FloatField(null=True, editable=False, help_text="What one per cent of its charge gave at the socket.")
    wh_per_pct_uncertainty = models.FloatField(default=0, editable=False)
    reserve_pct = models.FloatField(default=10, validators=[MinValueValidator(0), MaxValueValidator(90)])
    display_step_pct = models.FloatField(default=1, validators=[MinValueValidator(0.01), MaxValueValidator(25)])
    volts = models.FloatField(null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(500)])
    amps = models.FloatField(null=True, blank=True, validators=[MinValueValidator(0.1), MaxValueValidator(200)])
    charge_w = models.FloatField(null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(1e5)])
    panel_w = models.FloatField(null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(1e5)])
    battery_price = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(0)])
    battery_cycles = models.PositiveIntegerField(
        null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(100_000)]
    )
    charged_from = models.TimeField(null=True, blank=True)
    tariff = models.ForeignKey(Tariff, null=True, blank=True, on_delete=models.SET_NULL, related_name="sources")
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(inverter_efficiency__gt=0, inverter_efficiency__lte=1), name="source_inverter_efficiency_range"
            ),
            models.CheckConstraint(
                condition=Q(charge_efficiency__gt=0, charge_efficiency__lte=1), name="source_charge_efficiency_range"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Meter(models.Model):
    """What shows the watt-hours: its smallest step, its accuracy class and where it sits."""

    name = models.CharField(max_length=80, unique=True)
    place = models.CharField(max_length=12, choices=METER_PLACES, default="socket")
    resolution_wh = models.FloatField(default=1, validators=[MinValueValidator(0.001), MaxValueValidator(1000)])
    accuracy_pct = models.FloatField(default=2, validators=[MinValueValidator(0), MaxValueValidator(20)])
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Run(models.Model):
    """One measured cook of one revision."""

    revision = models.ForeignKey(Revision, on_delete=models.PROTECT, related_name="runs")
    appliance = models.ForeignKey(Appliance, on_delete=models.PROTECT, related_name="runs")
    source = models.ForeignKey(PowerSource, on_delete=models.PROTECT, related_name="runs")
    meter = models.ForeignKey(Meter, on_delete=models.PROTECT, related_name="runs")
    started_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)
    typed_end = models.DateTimeField(
        null=True, editable=False, help_text="Where a form or a file put its end; a later finish at a desk is its end."
    )
    servings = models.PositiveSmallIntegerField(validators=[MinValueValidator(1), MaxValueValidator(500)])
    ambient_c = models.FloatField(null=True, blank=True, validators=[MinValueValidator(-40), MaxValueValidator(55)])
    food_start_c = models.FloatField(null=True, blank=True, validators=[MinValueValidator(-30), MaxValueValidator(100)])
    altitude_m = models.IntegerField(default=0, validators=[MinValueValidator(-430), MaxValueValidator(5500)])
    portions_served = models.DecimalField(null=True, blank=True, max_digits=5, decimal_places=2, validators=_NOT_BELOW_0)
    portions_left = models.DecimalField(null=True, blank=True, max_digits=5, decimal_places=2, validators=_NOT_BELOW_0)
    portions_thrown = models.DecimalField(null=True, blank=True, max_digits=5, decimal_places=2, validators=_NOT_BELOW_0)
    note = models.TextField(blank=True)
    operator = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="runs")
    verdict = models.CharField(max_length=12, choices=VERDICTS, default="counts")
    verdict_reason = models.CharField(max_length=300, blank=True)
    verdict_at = models.DateTimeField(null=True, blank=True, help_text="When the owner last said whether it counts.")
    pauses = models.JSONField(
        default=list, blank=True, editable=False, help_text="Pairs of instants, RFC 3339; the second is null while it is paused."
    )
    flags = models.JSONField(default=list, blank=True, editable=False, help_text="What looks wrong, as last worked out.")
    summary = models.JSONField(default=dict, blank=True, editable=False, help_text="The run's figures, as last worked out.")
    summed_at = models.DateTimeField(null=True, editable=False, help_text="When a press last worked the figures out.")
    behind = models.BooleanField(default=False, editable=False, help_text="Something came since the figures were worked out.")
    recorded_at = models.DateTimeField()
    once = models.UUIDField(
        null=True, unique=True, editable=False, help_text="The form that recorded it, so that sending it twice keeps one run."
    )

    class Meta:
        ordering = ["-started_at"]
        indexes = [models.Index(fields=["revision", "-started_at"], name="run_revision_started")]
        constraints = [
            models.CheckConstraint(
                condition=Q(ended_at__isnull=True) | Q(ended_at__gte=F("started_at")), name="run_ends_after_start"
            )
        ]

    def __str__(self) -> str:
        return f"{self.revision} on {self.started_at:%d %B %Y}"


class Stage(models.Model):
    """One stage of a run; it lasts until the next one starts, the last one until the run ends."""

    run = models.ForeignKey(Run, on_delete=models.CASCADE, related_name="stages")
    position = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=12, choices=STAGE_CHOICES)
    label = models.CharField(max_length=60, blank=True)
    starts_at = models.DateTimeField()
    attended = models.BooleanField(default=False)
    event = models.UUIDField(null=True, blank=True, editable=False, help_text="The press on the run desk that began it.")

    class Meta:
        ordering = ["position"]
        constraints = [models.UniqueConstraint(fields=["run", "position"], name="stage_position_once")]

    def __str__(self) -> str:
        return self.label or self.get_kind_display()


class Reading(models.Model):
    """What the displays showed at one instant: any of counter, power and charge."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    run = models.ForeignKey(Run, on_delete=models.CASCADE, related_name="readings")
    at = models.DateTimeField()
    energy_wh = models.FloatField(null=True, blank=True)
    power_w = models.FloatField(null=True, blank=True)
    charge_pct = models.FloatField(null=True, blank=True)
    note = models.CharField(max_length=200, blank=True)
    origin = models.CharField(max_length=8, default="typed", choices=READING_ORIGINS)
    loaded = models.ForeignKey("LoadedFile", null=True, blank=True, on_delete=models.CASCADE, related_name="readings")

    class Meta:
        ordering = ["at"]
        indexes = [models.Index(fields=["run", "at"], name="reading_run_at")]
        constraints = [
            models.CheckConstraint(
                condition=Q(energy_wh__isnull=False) | Q(power_w__isnull=False) | Q(charge_pct__isnull=False),
                name="reading_shows_something",
            ),
            models.CheckConstraint(
                condition=Q(energy_wh__isnull=True) | Q(energy_wh__gte=0), name="reading_counter_not_negative"
            ),
            models.CheckConstraint(condition=Q(power_w__isnull=True) | Q(power_w__gte=0), name="reading_power_not_negative"),
            models.CheckConstraint(
                condition=Q(charge_pct__isnull=True) | Q(charge_pct__gte=0, charge_pct__lte=100), name="reading_charge_in_range"
            ),
        ]

    def __str__(self) -> str:
        return f"reading at {self.at:%H:%M:%S}"


class LoadedFile(models.Model):
    """A meter's file that was read into a run; removing it takes its readings out again.

    ``before`` is what the run said before: ``{"started_at", "ended_at"}``, RFC 3339, where reading the file moved them.
    """

    run = models.ForeignKey(Run, on_delete=models.CASCADE, related_name="files")
    name = models.CharField(max_length=200)
    digest = models.CharField(max_length=64, help_text="SHA-256 of the file's bytes, hexadecimal.")
    shape = models.JSONField(default=dict, blank=True, help_text="How its columns were read.")
    words = models.TextField(blank=True, help_text="What was told of the reading, a sentence a line.")
    rows = models.PositiveIntegerField(default=0)
    loaded_at = models.DateTimeField()
    loaded_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    before = models.JSONField(default=dict, blank=True)
    came = models.JSONField(
        default=dict,
        blank=True,
        help_text="How it came: held or sampled, its interval, its holes as pairs of instants, and what is in doubt.",
    )
    confirmed = models.BooleanField(default=False, help_text="Whether a cook said that what is in doubt was read rightly.")

    class Meta:
        ordering = ["loaded_at"]

    def __str__(self) -> str:
        return self.name


class FileShape(models.Model):
    """A way of reading a meter's file that a cook has named, to be used again."""

    name = models.CharField(max_length=80, unique=True)
    shape = models.JSONField(default=dict, blank=True)
    made_at = models.DateTimeField()

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Moment(models.Model):
    """A note or a photo at an instant of a run."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    run = models.ForeignKey(Run, on_delete=models.CASCADE, related_name="moments")
    at = models.DateTimeField()
    text = models.CharField(max_length=500, blank=True)
    photo = models.ForeignKey(Photo, null=True, blank=True, on_delete=models.SET_NULL, related_name="+")

    class Meta:
        ordering = ["at"]

    def __str__(self) -> str:
        return self.text or f"photo at {self.at:%H:%M:%S}"


class DeskEvent(models.Model):
    """One press on the run desk, kept as it was said under the name that the phone gave it.

    A press that was taken back stays as a gravestone (``withdrawn_at``), so that a late copy of it changes nothing; one that was
    taken back before it arrived has an empty ``said``. Readings, stages, moments, pauses and the end of a run follow from the
    presses that stand, in whatever order they came. ``at`` moves along with the start of its run; ``said`` stays as it came.
    """

    id = models.UUIDField(primary_key=True, editable=False)
    run = models.ForeignKey(Run, on_delete=models.CASCADE, related_name="events")
    kind = models.CharField(max_length=10, choices=EVENT_KINDS, blank=True)
    at = models.DateTimeField(null=True, blank=True)
    said = models.JSONField(default=dict, blank=True)
    amended = models.JSONField(
        default=dict, blank=True, editable=False, help_text="What a form corrected in it since, over what it said."
    )
    skew_s = models.FloatField(null=True, blank=True, help_text="How far the phone's clock stood ahead of the server's.")
    received_at = models.DateTimeField()
    said_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["at"]
        indexes = [models.Index(fields=["run", "at"], name="event_run_at")]

    def __str__(self) -> str:
        return f"{self.kind or 'taken back'} {self.id}"


class DeviceToken(models.Model):
    """What lets a device send one meter's readings. Only a digest of it is kept; it is shown once."""

    meter = models.ForeignKey(Meter, on_delete=models.CASCADE, related_name="devices")
    name = models.CharField(max_length=60)
    digest = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    last_seen_at = models.DateTimeField(null=True, blank=True)
    revoked_at = models.DateTimeField(null=True, blank=True)
    minute = models.DateTimeField(null=True, blank=True, help_text="The minute in which ``requests`` were counted.")
    requests = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["meter", "made_at"]

    def __str__(self) -> str:
        return self.name


class SentReading(models.Model):
    """What a device sent of a meter at one instant, whatever was cooking then. A run looks at those inside its time."""

    meter = models.ForeignKey(Meter, on_delete=models.CASCADE, related_name="sent")
    at = models.DateTimeField()
    energy_wh = models.FloatField(null=True, blank=True)
    power_w = models.FloatField(null=True, blank=True)
    charge_pct = models.FloatField(null=True, blank=True)
    device = models.ForeignKey(DeviceToken, null=True, on_delete=models.SET_NULL, related_name="sent", db_index=False)

    class Meta:
        ordering = ["at"]
        indexes = [models.Index(fields=["device", "at"], name="sent_device_at")]
        constraints = [
            models.UniqueConstraint(fields=["meter", "at"], name="sent_once_a_moment"),
            models.CheckConstraint(
                condition=Q(energy_wh__isnull=False) | Q(power_w__isnull=False) | Q(charge_pct__isnull=False),
                name="sent_shows_something",
            ),
        ]

    def __str__(self) -> str:
        return f"sent at {self.at:%H:%M:%S}"


class WaitingReading(models.Model):
    """What one cook's device sent into the ended run of another: it changes nothing until a cook of that run says so.

    ``taken`` is null while nobody has decided. What was decided stays, so that sending again asks nobody again.
    """

    run = models.ForeignKey(Run, on_delete=models.CASCADE, related_name="waiting")
    device = models.ForeignKey(DeviceToken, on_delete=models.CASCADE, related_name="waiting")
    at = models.DateTimeField()
    energy_wh = models.FloatField(null=True, blank=True)
    power_w = models.FloatField(null=True, blank=True)
    charge_pct = models.FloatField(null=True, blank=True)
    taken = models.BooleanField(null=True, blank=True)
    decided_at = models.DateTimeField(null=True, blank=True)
    decided_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")

    class Meta:
        ordering = ["at"]
        constraints = [models.UniqueConstraint(fields=["device", "at"], name="waits_once_a_moment")]

    def __str__(self) -> str:
        return f"waits at {self.at:%H:%M:%S}"
