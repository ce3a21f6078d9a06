"""Preparing twice changes nothing; the example comes on the first start alone."""

import errno
import io

import pytest
from django.core.management import CommandError, call_command
from django.db import OperationalError

from deploy.management.commands import prepare
from kitchen.models import Food, Recipe, Site

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def collected_elsewhere(settings, tmp_path):
    settings.STATIC_ROOT = tmp_path / "static"


def prepared(*arguments: str) -> list[str]:
    said = io.StringIO()
    call_command("prepare", *arguments, stdout=said)
    return said.getvalue().splitlines()


def test_the_first_start_brings_foods_styles_and_the_example(settings):
    said = prepared()
    assert Recipe.objects.exists()
    assert Food.objects.count() > 100
    assert (settings.STATIC_ROOT / "css" / "app.css").exists()
    assert [line.partition(":")[0] for line in said[:2]] == ["Foods", "Example"]


def test_the_second_start_finds_everything_done():
    prepared()
    assert prepared() == []


def test_without_the_example_none_comes_later_either():
    prepared("--no-demo")
    prepared()
    assert Site.objects.count() == 1
    assert not Recipe.objects.exists()


def test_a_changed_style_is_collected_again(settings, tmp_path):
    prepared("--no-demo")
    extra = tmp_path / "more"
    extra.mkdir()
    settings.STATICFILES_DIRS = [*settings.STATICFILES_DIRS, extra]
    (extra / "new.css").write_text("")
    assert prepared() == ["Styles: collecting and compressing"]
    assert (settings.STATIC_ROOT / "new.css").exists()


def test_a_database_that_cannot_be_used_is_told_in_one_sentence(monkeypatch):
    def unreachable():
        raise OperationalError("connection failed: Connection refused\n\tIs the server running?")

    monkeypatch.setattr(prepare, "pending_migrations", unreachable)
    with pytest.raises(CommandError, match=r"cannot be (used|reached) .*\(connection failed: Connection refused\)\.$"):
        prepared()


def test_styles_that_do_not_fit_are_told_in_one_sentence(monkeypatch):
    def no_room(*_args, **_kwargs):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(prepare.Command, "collect_styles", no_room)
    with pytest.raises(CommandError, match="The disk is full: not everything fits into"):
        prepared("--no-demo")


@pytest.mark.parametrize("said", ["database or disk is full", "could not extend file: disk full"])
def test_a_full_disk_is_called_full(said):
    assert prepare.why_unusable(OperationalError(said)).startswith("The disk is full")
