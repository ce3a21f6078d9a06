"""Let each press say what its row says, where a form has changed the row, and keep where forms put a run's end."""

from datetime import timedelta

from django.db import migrations, models

FIGURES = ("energy_wh", "power_w", "charge_pct")
KINDS = ("reading", "stage", "moment", "pause", "resume", "finish")


def bring_together(apps, schema_editor):
    """Bring presses to their rows: moments that moved, figures that were corrected, readings that were removed."""
    run_model, event_model = apps.get_model("energy", "Run"), apps.get_model("energy", "DeskEvent")
    with_presses = event_model.objects.filter(withdrawn_at=None, kind__in=KINDS, at__isnull=False)
    for run in run_model.objects.filter(pk__in=with_presses.values("run")).iterator():
        events = list(with_presses.filter(run=run))
        shifts = _follow_rows(run, events)
        if len(shifts) == 1:
            _shift(event_model.objects.filter(run=run, kind__in=("begin", "pause", "resume", "finish")), *shifts)
    _keep_typed_ends(run_model, event_model)


def _follow_rows(run, events):
    """Let readings, stages and moments say what their rows say; return by how much those moved that have a row."""
    readings = {row.pk: row for row in run.readings.filter(origin="desk")}
    moments = {row.pk: row for row in run.moments.all()}
    stages = {row.event: row for row in run.stages.exclude(event=None)}
    shifts = set()
    for event in events:
        rows = {"reading": readings, "moment": moments, "stage": stages}.get(event.kind, {})
        row = rows.get(event.pk)
        if row is not None:
            moved = (row.starts_at if event.kind == "stage" else row.at) - event.at
            shifts.add(moved)
            _amend(event, row, moved)
        elif event.kind in ("reading", "moment"):
            event.withdrawn_at = event.received_at
            event.save(update_fields=["withdrawn_at"])
    return shifts


def _amend(event, row, moved):
    now = said = {}
    if event.kind == "reading":
        now = {name: getattr(row, name) for name in FIGURES} | {"note": row.note}
        said = {name: event.said.get(name) for name in FIGURES} | {"note": event.said.get("note", "")}
    elif event.kind == "stage":
        now = {"stage": row.kind, "label": row.label, "attended": row.attended}
        said = {"stage": event.said.get("stage"), "label": event.said.get("label", ""), "attended": row.attended}
    if moved or (now and now != said):
        event.at += moved
        event.amended = now if now != said else {}
        event.save(update_fields=["at", "amended"])


def _shift(events, by):
    if by == timedelta():
        return
    for event in events:
        event.at += by
        event.save(update_fields=["at"])


def _keep_typed_ends(run_model, event_model):
    """Keep the end of each run that no finish at a desk has put where it is."""
    finishes = {}
    for run, at in event_model.objects.filter(withdrawn_at=None, kind="finish").values_list("run", "at"):
        finishes[run] = max(at, finishes.get(run, at))
    for run in run_model.objects.filter(ended_at__isnull=False).iterator():
        finished_at = finishes.get(run.pk)
        if finished_at is None or max(finished_at, run.started_at) < run.ended_at:
            run_model.objects.filter(pk=run.pk).update(typed_end=run.ended_at)
        elif finished_at > run.ended_at:
            event_model.objects.filter(run=run.pk, kind="finish", at__gt=run.ended_at).update(at=run.ended_at)


class Migration(migrations.Migration):
    dependencies = [("energy", "0005_price_tariffs_by_the_clock")]

    operations = [
        migrations.AddField(
            model_name="deskevent",
            name="amended",
            field=models.JSONField(
                blank=True, default=dict, editable=False, help_text="What a form corrected in it since, over what it said."
            ),
        ),
        migrations.AddField(
            model_name="run",
            name="typed_end",
            field=models.DateTimeField(
                editable=False,
                help_text="Where a form or a file put its end; a later finish at a desk is its end.",
                null=True,
            ),
        ),
        migrations.RunPython(bring_together, migrations.RunPython.noop),
    ]
