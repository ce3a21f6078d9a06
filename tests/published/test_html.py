"""The rules of HTML against examples of what they allow and refuse. Sources: see ``html_rules``."""

import pytest

from tests.published.html_rules import faults_of

_HEAD = "<!doctype html><html lang=en><head><title>x</title></head><body>"


@pytest.mark.parametrize(
    ("markup", "said"),
    [
        ("<p hx-get=/>x</p>", "attribute hx-get on p"),
        ("<p id=a>x</p><p id=a>y</p>", "id 'a' stands 2 times"),
        ("<p><ul><li>x</li></ul></p>", "parse error"),
        ("<span><div>x</div></span>", "div in span"),
        ("<ul><p>x</p></ul>", "p in ul"),
        ("<time datetime='3 May'>x</time>", "time '3 May'"),
        ("<time datetime='2026-13-01'>x</time>", "time '2026-13-01'"),
        ("<label for=none>x</label>", "names 'none', which is not there"),
        ("<label for=a>x</label><p id=a>y</p>", "label for p"),
        ("<img src=x>", "img without alt"),
        ("<a href=/><button>x</button></a>", "button inside a link"),
        ("<input type=hidden autocomplete=off>", "autocomplete of hidden input"),
        ("<input type=checkbox autocomplete=off>", "autocomplete of checkbox"),
        ("<td>x</td>", "parse error"),
        ("<p role=grids>x</p>", "role 'grids'"),
        ("<blink>x</blink>", "no such element"),
    ],
)
def test_the_rules_find_a_fault(markup, said):
    assert any(said in fault for fault in faults_of(_HEAD + markup))


@pytest.mark.parametrize("said", ["2026-12-01", "2026-12-01T18:00:00+02:00", "18:30", "PT1H15M", "P2D", "2026-12", "2026"])
def test_the_rules_know_a_time(said):
    assert faults_of(f"{_HEAD}<p><time datetime='{said}'>x</time></p>") == []
