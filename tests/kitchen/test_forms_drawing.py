"""Plain inputs are drawn as the framework's own templates draw them, letter for letter."""

import datetime
from decimal import Decimal

import pytest
from django import forms
from django.forms.renderers import DjangoTemplates
from django.utils.safestring import mark_safe

from kitchen.forms.drawing import PlainInputs

HOSTILE = "\"><script>alert('1')</script>&amp;"
VALUES = [None, "", "8", HOSTILE, mark_safe("&amp;"), 0, 1234.5, Decimal("0.30"), True, False, datetime.date(2026, 10, 14)]
KINDS = [
    *(forms.TextInput, forms.NumberInput, forms.EmailInput, forms.URLInput, forms.HiddenInput, forms.SearchInput),
    *(forms.DateInput, forms.TimeInput, forms.DateTimeInput, forms.CheckboxInput),
]
ATTRS = {"id": "id_it", "required": True, "disabled": False, "maxlength": 20, "title": None, "data-x": HOSTILE, "class": "n wide"}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("value", VALUES, ids=repr)
def test_an_input_is_drawn_as_the_framework_draws_it(kind, value):
    for attrs in ({}, ATTRS):
        drawn = [kind().render("a[b]", value, attrs, renderer=renderer) for renderer in (PlainInputs(), DjangoTemplates())]
        assert drawn[0] == drawn[1]
        assert hasattr(drawn[0], "__html__")


def test_what_is_typed_into_a_password_is_not_shown_again():
    assert "secret" not in forms.PasswordInput().render("it", "secret", renderer=PlainInputs())
    shown = forms.PasswordInput(render_value=True)
    assert shown.render("it", HOSTILE, renderer=PlainInputs()) == shown.render("it", HOSTILE, renderer=DjangoTemplates())


def test_every_other_widget_is_the_frameworks():
    choices = [("a", "A"), ("b", HOSTILE)]
    for widget in (forms.Select(choices=choices), forms.Textarea(), forms.RadioSelect(choices=choices), forms.FileInput()):
        drawn = [widget.render("it", "b", {"id": "it"}, renderer=renderer) for renderer in (PlainInputs(), DjangoTemplates())]
        assert drawn[0] == drawn[1]


def test_the_site_draws_its_forms_so():
    assert isinstance(forms.Form().renderer, PlainInputs)
