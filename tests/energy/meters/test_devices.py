"""The page of a meter's devices: a token is shown once, and can be revoked."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse

from energy.models import DeviceToken, SentReading


@pytest.fixture
def address(meter):
    return reverse("energy:devices", args=[meter.pk])


def make(client, address, name="plug by the hob"):
    return client.post(address, {"name": name})


def test_an_empty_page_says_what_to_do(owner_client, address):
    page = owner_client.get(address).content.decode()
    assert "No device sends for this meter yet" in page
    assert "curl http://testserver/api/v1/readings" in page
    assert "no encryption" in page


def test_a_token_is_shown_once_and_opens(owner_client, client, address, meter, noon):
    page = make(owner_client, address).content.decode()
    token = re.search(r"wf_[\w-]{43}", page).group()
    bearer = {"Authorization": f"Bearer {token}"}
    sent = client.post("/api/v1/readings", '{"w": 700, "wh_total": 1250}', content_type="text/plain", headers=bearer)
    assert sent.json()["accepted"] == 1
    again = owner_client.get(address).content.decode()
    assert token not in again
    assert "700\xa0W" in again.replace("&nbsp;", "\xa0")
    assert SentReading.objects.get().meter == meter


def test_names_of_devices_that_may_send_differ(owner_client, address):
    make(owner_client, address)
    again = make(owner_client, address)
    assert again.status_code == 422
    assert "A device of this name may send already" in again.content.decode()
    assert make(owner_client, address, "").status_code == 422
    assert make(owner_client, address, "x" * 61).status_code == 422
    assert DeviceToken.objects.count() == 1


def test_revoking_asks_first_and_may_be_pressed_twice(owner_client, address):
    make(owner_client, address)
    device = DeviceToken.objects.get()
    revoke = f"{address}{device.pk}/revoke/"
    assert "Revoke it" in owner_client.get(revoke).content.decode()
    assert DeviceToken.objects.get().revoked_at is None
    for _ in range(2):
        assert owner_client.post(revoke).status_code == 302
    assert DeviceToken.objects.get().revoked_at is not None
    assert "revoked on" in owner_client.get(address).content.decode()
    assert make(owner_client, address).status_code == 200


def test_three_people(owner_client, other_client, stranger_client, address, meter):
    make(owner_client, address)
    revoke = f"{address}{DeviceToken.objects.get().pk}/revoke/"
    for page in (address, revoke):
        assert owner_client.get(page).status_code == other_client.get(page).status_code == 200
        assert stranger_client.get(page).status_code == 302
    assert owner_client.get(f"/bench/meters/{meter.pk + 1}/devices/1/revoke/").status_code == 404


def test_more_devices_cost_no_more_queries(owner_client, address, django_assert_max_num_queries):
    for place in range(12):
        make(owner_client, address, f"plug {place}")
    with django_assert_max_num_queries(9):
        owner_client.get(address)
