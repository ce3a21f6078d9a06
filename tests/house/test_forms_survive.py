"""Nonsense typed into any field of any bench form is answered in a page, never by an error, and stays in its field."""

from __future__ import annotations

import html as markup
import re
from collections import Counter

import pytest
from django.db import connection, transaction
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.house.bench_of_everything import PageForm, addresses, forms_of, furnish

HOSTILE = (
    *("\0", "a\0b", "١٢", "１２", "𝟙𝟚", "²", "½", "1/0", "1_0", "ß" * 3, "ﬃ" * 150, "é" * 400, "x" * 5000, "😀" * 200),
    *("1e400", "-1e400", "nan", "sNaN", "inf", "-1", "9" * 30, "1" + "0" * 1000, "9" * 5000, "0." + "0" * 300 + "1"),
    *("1e-999999", "1e999999", "999999999 999999998/999999999", "0001-01-01", "9999-12-31", "0000-00-00", "24:00"),
    *("\u202etxet", "</script><script>alert(1)</script>", "\r\nX-Injected: yes", "\n" * 300, "' OR 1=1 --", "{{ 7 }}{% x %}"),
    *("%s %(value)s %", "//elsewhere.example", "javascript:alert(1)", "http://[", "[" * 2000, "\x1b[31m\x07", "\ufffd\ufeff"),
)
NOT_SENT = {"csrfmiddlewaretoken"}
ROWS_ALIKE = 2


@pytest.fixture
def bench(owner, other_cook, noon, owner_client, settings, tmp_path):
    """Every form that the bench shows, once each, and the owner's browser."""
    settings.MEDIA_ROOT = tmp_path
    kitchen = furnish(owner, other_cook, noon)
    owner_client.raise_request_exception = False
    found: dict[tuple[str, tuple[str, ...]], PageForm] = {}
    for address in addresses(kitchen):
        page = owner_client.get(address.path)
        if page.status_code == 200 and page.headers["Content-Type"].startswith("text/html"):
            for form in forms_of(page.content.decode(), address.path):
                found.setdefault((form.action, tuple(form.values)), form)
    for form in shown_after_a_first_answer(owner_client):
        found.setdefault((form.action, tuple(form.values)), form)
    return owner_client, [form for form in found.values() if form.typed or form.chosen]


def shown_after_a_first_answer(client):
    """Return the forms that no address shows by itself: a recipe that was read and waits to become a draft."""
    where = reverse("kitchen:recipe-import")
    text = "Barley soup\n\n150 g pearl barley\n2 leeks\n\n1. Soften the leeks.\n2. Serve."
    read = client.post(where, {"do": "read", "text": text}).content.decode()
    found = [form for form in forms_of(read, where) if "ingredients" in form.typed]
    for form in found:
        form.values["do"] = "make"
    return found


def send(client, form, changed):
    """Post a form and take back whatever it did."""
    with transaction.atomic():
        sent = {name: value for name, value in {**form.values, **changed}.items() if name not in NOT_SENT}
        answer = client.post(form.action, sent)
        if not answer.streaming:
            transaction.set_rollback(True)
    return answer


def wrong_with(form, field, text, answer):
    """Return what is wrong with the answer to a form; empty where nothing is."""
    shown = f"{form.action} {field}={text[:40]!r}: {answer.status_code}"
    if answer.status_code >= 500:
        return f"{shown} {answer.exc_info[1]!r}"[:300]
    back = answer.status_code in (200, 422) and answer.content and field in form.typed
    if back and markup.escape(text.replace("\0", "").replace("\r\n", "\n")).strip() not in _plain(answer):
        return f"{shown}, and the page has lost what was typed"
    return ""


def _plain(answer):
    return answer.content.decode().replace("\0", "").replace("\r\n", "\n")


def fields_of(form):
    """Return the names of a form's fields; of rows that are all alike those of the first two."""
    fields, alike = [], Counter()
    for name in dict.fromkeys([*form.typed, *form.chosen]):
        kind = re.sub(r"\d+", "", name)
        alike[kind] += 1
        if alike[kind] <= ROWS_ALIKE and name not in NOT_SENT:
            fields.append(name)
    return fields


def test_nonsense_in_any_one_field_is_answered_in_a_page_that_keeps_it(bench):
    """One word in each field, going on from field to field, so that every word is tried; another one on the other database."""
    client, forms = bench
    assert len(forms) > 30, "the bench shows fewer forms than it has"
    wrong, turn = [], 0 if connection.vendor == "sqlite" else len(HOSTILE) // 2
    for form in forms:
        for field in fields_of(form):
            text = HOSTILE[turn % len(HOSTILE)]
            turn += 1
            wrong.append(wrong_with(form, field, text, send(client, form, {field: text})))
    assert not list(filter(None, wrong)), "\n".join(filter(None, wrong))


@settings(max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow], derandomize=True)
@given(text=st.one_of(st.sampled_from(HOSTILE), st.text(max_size=400)))
def test_the_same_nonsense_in_every_field_is_answered_in_a_page(bench, text):
    client, forms = bench
    for form in forms:
        answer = send(client, form, {name: text for name in form.typed if name not in NOT_SENT})
        assert answer.status_code < 500, f"{form.action} with {text[:40]!r}: {answer.exc_info[1]!r}"


@pytest.mark.any_engine
def test_a_form_that_comes_in_pieces_is_answered_in_a_page(bench):
    """Each field once missing, once sent twice with another value: no error, whatever the page makes of it."""
    client, forms = bench
    assert any(form.action == reverse("kitchen:recipe-import") and "ingredients" in form.typed for form in forms)
    wrong = []
    for form in forms:
        fields = {name: value for name, value in form.values.items() if name not in NOT_SENT}
        for name in fields_of(form):
            without = {other: value for other, value in fields.items() if other != name}
            for sent in (without, {**fields, name: [fields.get(name, ""), "7"]}):
                with transaction.atomic():
                    answer = client.post(form.action, sent)
                    if not answer.streaming:
                        transaction.set_rollback(True)
                if answer.status_code >= 500:
                    wrong.append(f"{form.action} {name}: {answer.exc_info[1]!r}"[:300])
    assert not wrong, "\n".join(wrong)
