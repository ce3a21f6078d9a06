"""What a log sheet says of a cooker, and how foods are listed in a sentence."""

from energy.cards.cautions import cautions_of_cooker
from energy.facts import ApplianceFacts


def test_a_sheet_has_the_short_sentences_of_its_cooker():
    words = cautions_of_cooker(ApplianceFacts("Pot", "pressure_cooker", 700, fill_limit_pct=60))
    assert words[0] == "Never force the lid; open when the pin has dropped."
    assert any("Fill to 60\u00a0% at most, to half" in sentence for sentence in words)
    assert len(words) == 4
    assert not any("force the lid" in sentence for sentence in cautions_of_cooker(ApplianceFacts("Oven", "oven", 900)))
