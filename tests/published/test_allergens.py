"""The list of allergens against the two laws that publish one."""

from kitchen.domain.allergens import ALLERGENS

# Regulation (EU) No 1169/2011, annex II, items 1 to 14, by their first words.
EUROPEAN_UNION = [
    "cereals containing gluten",
    "crustaceans",
    "eggs",
    "fish",
    "peanuts",
    "soybeans",
    "milk",
    "nuts",
    "celery",
    "mustard",
    "sesame seeds",
    "sulphur dioxide and sulphites",
    "lupin",
    "molluscs",
]
# Food Allergen Labeling and Consumer Protection Act of 2004, section 203 (eight), and FASTER Act of 2021 (sesame).
UNITED_STATES = ["milk", "egg", "fish", "crustacean shellfish", "tree nuts", "wheat", "peanuts", "soybeans", "sesame"]


def test_the_fourteen_of_the_european_union_in_their_order():
    named = [entry.eu.removesuffix(", namely wheat") for entry in ALLERGENS if entry.eu]
    assert list(dict.fromkeys(named)) == EUROPEAN_UNION


def test_the_nine_of_the_united_states():
    assert {entry.us for entry in ALLERGENS if entry.us} == set(UNITED_STATES)


def test_wheat_is_on_both_lists_and_other_gluten_on_the_european_alone():
    by_key = {entry.key: entry for entry in ALLERGENS}
    assert by_key["wheat"].eu.startswith("cereals containing gluten")
    assert (by_key["wheat"].us, by_key["gluten"].us) == ("wheat", None)


def test_what_only_the_european_list_has():
    only = [entry.key for entry in ALLERGENS if entry.us is None]
    assert only == ["gluten", "celery", "mustard", "sulphites", "lupin", "molluscs"]
