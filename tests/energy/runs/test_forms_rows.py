"""Minutes, numbers and rows as people type them."""

from decimal import Decimal

import pytest
from django import forms

from energy.form_fields import MinuteField, NumberField, PriceField, ShareField
from energy.runs.domain.sheet import PlannedRow, PlannedStage
from energy.runs.forms.rows import GridRows, raw_rows


def typed(*rows):
    """Return the request of rows given as dicts."""
    data = {"rows": str(len(rows))}
    for n, row in enumerate(rows):
        data |= {f"row{n}-{name}": value for name, value in row.items()}
    return data


@pytest.mark.parametrize(
    ("text", "seconds"),
    [("12", 720), ("12.5", 750), ("12,5", 750), ("1:05", 3900), ("0:12", 720), ("0:12:30", 750), (" 7 min", 420), ("0", 0)],
)
def test_minutes_are_read_in_every_spelling(text, seconds):
    assert MinuteField().clean(text) == seconds


@pytest.mark.parametrize("text", ["-1", "twelve", "1:99", "1e9", "nan", "inf", "🙂", "٣:x"])
def test_a_minute_that_makes_no_sense_is_said(text):
    with pytest.raises(forms.ValidationError):
        MinuteField().clean(text)


def test_numbers_take_a_comma_and_their_unit():
    field = NumberField(low=0, high=5000, unit="W")
    assert field.clean("1 200,5 W") == 1200.5
    assert field.clean("") is None if not field.required else True
    with pytest.raises(forms.ValidationError, match=r"from 0 to 5,000 W"):
        field.clean("-3")
    for text in ("six", "nan", "inf", "1e400"):
        with pytest.raises(forms.ValidationError):
            field.clean(text)


def test_shares_are_typed_in_percent():
    field = ShareField(low=30, high=100)
    assert field.clean("88") == 0.88
    assert field.prepare_value(0.88) == "88"


def test_prices_stay_exact():
    assert str(PriceField().clean("0,2999")) == "0.29990"
    assert PriceField().prepare_value(PriceField().clean("0.3")) == "0.30"
    with pytest.raises(forms.ValidationError):
        PriceField().clean("-0.1")


def test_rows_give_readings_and_stages():
    rows = GridRows(
        typed({"minute": "0", "energy_wh": "0", "stage": "brown"}, {"minute": "10", "energy_wh": "105", "power_w": "640"}, {})
    )
    assert rows.is_valid()
    assert [(one.at_s, one.energy_wh, one.power_w) for one in rows.readings] == [(0, 0, None), (600, 105, 640)]
    assert [(stage.at_s, stage.kind) for stage in rows.stages] == [(0, "brown")]


def test_a_proposed_stage_without_a_minute_is_not_typed():
    rows = GridRows(typed({"stage": "hold", "proposed": "hold"}))
    assert rows.is_valid()
    assert rows.stages == []


def test_a_stage_that_was_picked_needs_its_minute():
    rows = GridRows(typed({"stage": "hold", "proposed": ""}))
    assert not rows.is_valid()
    assert "At which minute?" in rows.forms[0].errors["minute"][0]


def test_rows_out_of_order_are_named_and_can_be_sorted():
    data = typed({"minute": "10", "energy_wh": "105"}, {"minute": "5", "energy_wh": "56"}, {"minute": "x"})
    rows = GridRows({**data, "row2-minute": ""})
    assert not rows.is_valid()
    assert rows.out_of_order
    assert "Row 2 (minute 5) stands after row 1 (minute 10)." in rows.errors
    assert [row["minute"] for row in raw_rows(data, ordered=True)] == ["5", "10", "x"]


def test_a_falling_counter_is_asked_about_and_accepted_with_a_tick():
    data = typed({"minute": "0", "energy_wh": "118"}, {"minute": "5", "energy_wh": "4"})
    rows = GridRows(data)
    assert not rows.is_valid()
    assert "falls here, from 118 to 4 Wh" in rows.forms[1].errors["energy_wh"][0]
    assert rows.forms[1].asks_reset
    rows = GridRows({**data, "row1-reset": "on"})
    assert rows.is_valid()
    assert rows.readings[1].note == "the counter was reset here"


def test_two_readings_at_one_minute_belong_into_one_row():
    rows = GridRows(typed({"minute": "5", "energy_wh": "1"}, {"minute": "5", "power_w": "700"}))
    assert not rows.is_valid()
    assert "both at minute 5" in rows.errors[0]


@pytest.mark.parametrize("count", ["-3", "x", "", "999999999999"])
def test_a_forged_number_of_rows_does_no_harm(count):
    assert len(GridRows({"rows": count}).forms) <= 120


def test_proposals_stand_in_the_first_rows():
    rows = GridRows(plan=[PlannedRow(1, PlannedStage("brown", Decimal(0))), PlannedRow(2, PlannedStage("hold"))])
    assert [form["stage"].value() for form in rows.forms[:2]] == ["brown", "hold"]
    assert rows.forms[0]["minute"].value() == "0"
    assert len(rows.forms) == 8
