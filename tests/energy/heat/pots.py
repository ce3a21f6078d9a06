"""Lines of a recipe for the heat tests: what is in the pot and what it is made of."""

from fractions import Fraction

from energy.heat.in_the_pot import CookedLine
from energy.heat.specific_heat import Composition
from kitchen.domain.facts import FoodFacts, LineFacts, StepFacts

WATER = Composition(99.9, ash=0.1)
LENTILS = Composition(7.82, 23.91, 2.17, 63.1, 10.8, 3.0)

METHOD = (
    StepFacts("Brown the onions.", "brown"),
    StepFacts("Add lentils and water, bring to the boil.", "come_up"),
    StepFacts("Let it simmer.", "hold"),
)


def line(text, grams=None, composition=WATER, *, part="", name="", unit="g", food=None, **more):
    """A line of so many grams."""
    amount = None if grams is None else Fraction(grams)
    facts = LineFacts(text, amount, amount, unit, name or text.split()[-1], food=food, **more)
    return CookedLine(facts, part, composition)


def stock(text="1 kg stock"):
    return line(text, 1000, name="stock", food=FoodFacts("vegetable stock", g_per_ml=1.014))
