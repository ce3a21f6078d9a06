"""Words that have no place in a finished file."""

import re

import pytest

from costing.words import english as costing_words
from energy.words import english as energy_words
from kitchen.words import english as kitchen_words
from tests.house.tree import name_of, project_files

UNWANTED = re.compile(r"\b(TODO|FIXME|XXX|HACK|WIP|issues?|lorem ipsum)\b|/work/|\bshared/")


def test_no_file_holds_an_unfinished_or_foreign_word():
    found = [
        f"{name_of(path)}:{number}: {line.strip()[:80]}"
        for path in project_files()
        if path.name != "test_words.py"
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if UNWANTED.search(line)
    ]
    assert found == []


def test_templates_hold_no_script_or_style_of_their_own():
    inline = re.compile(
        r"<style\b|\sstyle=|<script(?![^>]*\bsrc=)(?![^>]*application/ld\+json)[^>]*>|\son[a-z]+=[\"']|javascript:"
    )
    templates = [path for path in project_files() if path.suffix == ".html"]
    assert templates
    assert [name_of(path) for path in templates if inline.search(path.read_text("utf-8"))] == []


@pytest.mark.parametrize("app", [kitchen_words, energy_words, costing_words])
def test_no_sentence_has_a_typewriters_apostrophe(app):
    assert {code: words for code, words in app.SENTENCES.items() if "'" in words} == {}
