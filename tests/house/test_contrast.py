"""Text keeps 4.5:1 and lines keep 3:1 on every ground, in the light and the dark theme (WCAG 2.2, 1.4.3 and 1.4.11).

The colours are read out of ``static/css/tokens.css``; OKLCH is turned into linear sRGB with the matrices of CSS Color 4.
"""

import math
import re
from pathlib import Path

import pytest

SHEET = Path(__file__).resolve().parents[2] / "static" / "css" / "tokens.css"
GROUNDS = ["ground", "plate", "ember-wash", "moss-wash", "signal-wash", "sky"]
TEXTS = ["ink", "ink-soft", "rim", "ember", "moss", "signal"]
LINES = ["hair", "rim", "ember", "moss", "signal", "focus"]
LINE_GROUNDS = ["ground", "plate"]
THEMES = ["light", "dark", "plain"]

Linear = tuple[float, float, float]


def linear_from_oklch(lightness: float, chroma: float, hue_deg: float) -> Linear:
    a, b = chroma * math.cos(math.radians(hue_deg)), chroma * math.sin(math.radians(hue_deg))
    long = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3
    medium = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3
    short = (lightness - 0.0894841775 * a - 1.2914855480 * b) ** 3
    channels = (
        4.0767416621 * long - 3.3077115913 * medium + 0.2309699292 * short,
        -1.2684380046 * long + 2.6097574011 * medium - 0.3413193965 * short,
        -0.0041960863 * long - 0.7034186147 * medium + 1.7076147010 * short,
    )
    return tuple(min(1.0, max(0.0, channel)) for channel in channels)


def linear_from_hex(text: str) -> Linear:
    channels = (int(text[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return tuple(value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4 for value in channels)


def luminance(colour: Linear) -> float:
    red, green, blue = colour
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Linear, other: Linear) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def read_tokens() -> dict[str, dict[str, Linear]]:
    """Return every colour by theme: ``plain`` is the hex of browsers without light-dark()."""
    text = SHEET.read_text("utf-8")
    found: dict[str, dict[str, Linear]] = {theme: {} for theme in THEMES}
    for name, value in re.findall(r"--([\w-]+):\s*(#[0-9a-f]{6});", text):
        found["plain"][name] = linear_from_hex(value)
    number = r"([\d.]+)"
    colour = rf"oklch\({number}% {number} {number}\)"
    for name, *values in re.findall(rf"--([\w-]+):\s*light-dark\({colour}, {colour}\);", text):
        for theme, (lightness, chroma, hue) in (("light", values[:3]), ("dark", values[3:])):
            found[theme][name] = linear_from_oklch(float(lightness) / 100, float(chroma), float(hue))
    return found


TOKENS = read_tokens()


def test_black_on_white_is_21_to_1():
    assert contrast(linear_from_hex("#000000"), linear_from_hex("#ffffff")) == pytest.approx(21)


def test_oklch_white_and_a_known_red():
    """CSS Color 4 gives oklch(62.796% 0.25768 29.234) for pure red; kept to what rounding allows."""
    assert linear_from_oklch(1, 0, 0) == pytest.approx((1, 1, 1), abs=1e-4)
    assert linear_from_oklch(0.62796, 0.25768, 29.234) == pytest.approx((1, 0, 0), abs=1e-3)


def test_every_theme_names_the_same_colours():
    assert set(TOKENS["light"]) == set(TOKENS["dark"]) == set(TOKENS["plain"])
    assert {*GROUNDS, *TEXTS, *LINES, "on-rim"} <= set(TOKENS["light"])


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("ground", GROUNDS)
def test_text_can_be_read(theme, text, ground):
    assert contrast(TOKENS[theme][text], TOKENS[theme][ground]) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
def test_text_on_a_button_can_be_read(theme):
    assert contrast(TOKENS[theme]["on-rim"], TOKENS[theme]["rim"]) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("line", LINES)
@pytest.mark.parametrize("ground", LINE_GROUNDS)
def test_lines_can_be_seen(theme, line, ground):
    assert contrast(TOKENS[theme][line], TOKENS[theme][ground]) >= 3
