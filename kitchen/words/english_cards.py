"""The sentences of printed cards in English, by the code of what they say."""

from __future__ import annotations

from collections.abc import Mapping

CARDS: Mapping[str, str] = {
    "contents_for": "for {servings:.0f}",
    "contents_page": "page",
    "contents_sheet": "sheet",
    "card_for": "For {servings:.0f}",
    "card_continued": "{title}, continued",
    "card_ingredients": "Ingredients",
    "card_method": "Method",
    "card_each_batch_method": "Method, for each batch",
    "card_each_batch_title": "Each batch",
    "card_unnamed": "And {minutes:.0f} min that no step names: warming up, or waiting.",
    "card_serving": "A serving holds, estimated: {holds}.",
    "card_before": "Before",
    "card_then": "Then",
    "card_in_all": "in all",
    "card_each_batch": "a batch",
    "card_about_each_batch": "about, a batch",
    "card_overleaf": "method overleaf",
    "card_of": "card {number:.0f} of {cards:.0f}",
    "card_front": "{card}, front",
    "card_back": "{card}, back",
    "card_title_for": "{title}, for {servings:.0f}",
    "card_cautions": "Before you start",
    "card_more_cautions": "{more:.0f} more at the address on this card.",
    "card_more_cautions_draft": "{more:.0f} more on its page.",
    "card_no_allergens": "No allergens known from these ingredients.",
    "card_some_brands": "Check the label: in some brands {allergens}.",
    "card_unknown_of": "Not known for {lines:.0f} of the lines.",
    "card_unknown": "Not known for: {lines}.",
    "card_cook_says": "The cook says: without {allergens}.",
    "card_sides_apart": "Sides are not counted.",
    "card_pack_decides": "Worked out from the foods named here; the label on the pack decides.",
    "card_optional": "{allergen} (optional)",
    "card_draft": "draft of revision {revision:.0f}, not published",
    "card_edition": "edition {number:.0f}, {day}",
    "card_written_for": "written for {servings:.0f}",
    "card_qr": "QR code: {address}",
}
