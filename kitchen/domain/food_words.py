"""What the words beside a food's name do to it: describe it, name a part of it, or make another food of it."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from kitchen.domain.nouns import singular

_WORD = re.compile(r"[^\W_]+")
_WHOLEWHEAT = re.compile(r"\bwhole[- ]wheat\b")
_LONGEST = 300
SKIPPED = frozenset({"of", "the", "a", "an", "in", "with", "and", "or", "to", "for", "from", "your", "my", "some", "s", "into"})


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


def _names(words: str) -> tuple[frozenset[str], ...]:
    return tuple(frozenset(name.split()) for name in words.split(","))


# Quality, size, warmth, shape, how it was made ready: the food stays the same.
DESCRIBES = _set(
    """
    fresh freshly raw organic good quality best extra virgin ripe range large small medium big plain whole natural
    pure fine finely coarse coarsely roughly thinly thickly skin skinless on bone boneless bottled peeled cleaned
    prepared uncooked hot cold warm lukewarm tepid boiling chilled cool cooled softened melted room temperature young
    tender firm soft long short thick thin new old floury waxy starchy fluffy baby mini little tiny jumbo giant heaped
    level chopped sliced diced minced crushed grated shredded cubed halved quartered crumbled flaked beaten whisked
    sifted packed heavy lightly loosely firmly rinsed drained washed trimmed pitted stoned seeded deseeded cored
    shelled leftover day unwaxed unsalted unsweetened unbleached sharp mature mild medium strong crisp crunchy smooth
    runny clear set juicy sweet quick cooking active regular standard ordinary everyday basic homemade shop bought
    store free farmed line caught grass fed british english american italian french spanish local seasonal frozen
    thawed defrosted superfine golden light dark pale bright freeze assorted your favourite favorite milled picked
    torn fat flesh part lean leaner heirloom cracked pouring unrefined refined cold pressed filtered still tap
    unsmoked jarred rolled flat pearl few couple mixed thai plump fat sized thumb finger fist bite golf ball cut tail skinned
    creamy stale fragrant flavourful heritage heirloom whipped all purpose uncut unpeeled squeezed strong zesty lump
    free vine branch bruised trimmings hand washed ready eat use wholegrain long grain sodium low reduced salt hulled
    blanched toasted untoasted real
    """
)
# Sorts of one fruit or vegetable, by the trade's names for them.
VARIETIES = _set(
    """
    king edward desiree charlotte jersey royal yukon gold maris piper russet rooster anya fingerling bramley gala
    braeburn fuji granny smith cox golden delicious honeycrisp pink lady conference williams hass cavendish roma san
    marzano campari beefsteak beef cherry vine plum grape baby persian hothouse valencia navel eureka meyer nantes
    chantenay bird eye serrano morello bing victoria lollo
    """
)
# Parts and shapes that may follow the food without changing it.
PARTS = _set(
    """
    leaf clove stick stalk sprig fillet floret piece slice bulb cube head steak strand frond spear tip segment wedge
    chunk kernel rasher half ball rib thread pod kernel granule crystal bunch
    """
)
# These make another food of it, unless the table names that very food.
ALTERS = _set(
    """
    cooked boiled roasted roast fried baked grilled poached steamed mashed pickled preserved candied crystallised
    crystallized glace smoked cured corned clotted puffed pureed fermented sweetened flavoured flavored stuffed
    breaded battered marinated creamed dried dry dehydrated powdered ground tinned canned instant salted sour bitter
    juice zest stewed crispy blackened
    """
)
# With one of these the line means something that only resembles the food.
IMITATES = _set(
    "vegan vegetarian free substitute alternative replacement replacer imitation style mock ice less meatless plant based"
)
# Names of other foods than their words say: none of them is the food that its last word names.
OTHER_FOODS = _names(
    """
    baby corn, thai basil, wild garlic, rice pudding, tortilla chip, root beer, ginger beer, ginger ale, ginger nut,
    ice cream, ice lolly, sea cucumber, star fruit, cream soda, bread fruit, corn dog, hot dog roll, lemon grass, stem
    ginger, aleppo pepper, sichuan pepper, szechuan pepper, pink pepper, lemon pepper, thai curry paste, fennel frond,
    celery leaf, beetroot leaf, carrot top, new zealand spinach, water spinach, sea bean, artichoke heart, jerusalem
    artichoke, palm heart, lemon thyme, lemon balm, lemon curd, lemon verbena, black garlic, black cumin, black salt,
    epsom salt, garlic salt, onion salt, celery salt, palm sugar, jaggery, rice paper, rice bran, rice cracker, rice
    cake, prawn cracker, oat cake, oat milk, hemp milk, hazelnut milk, cocoa butter, shea butter, apple butter, cocoa
    nib, cream cracker, water biscuit, rose water, orange blossom water, tonic water, soda water, coconut water,
    coconut cream, coconut sugar, coconut flour, coconut aminos, potato starch, potato flour, tapioca starch, mustard
    oil, mustard green, mustard cress, chilli oil, chilli jam, garlic oil, garlic butter, garlic bread, garlic
    mayonnaise, basil oil, lime leaf, curry leaf, curry paste, fish paste, anchovy paste, chilli paste, ginger paste,
    garlic paste, tamarind paste, bean paste, vanilla pod, vanilla sugar, gelatine leaf, gelatin leaf, leaf gelatine,
    crab stick, fish stick, fish finger, fish cake, fish ball, meat ball, tuna steak, squid ink, turkey bacon, turkey
    ham, egg wash, egg roll, egg fried rice, egg nog, egg custard, quail egg, duck egg, goose egg, monk fish, sausage
    roll, spring roll wrapper, wonton wrapper, pizza base, pizza dough, bread dough, oyster mushroom, chestnut puree,
    corn husk, wheat beer, malt vinegar, sweet chilli sauce, black bean sauce, mint sauce, bread sauce, apple pie,
    tomato chutney, nutritional yeast, yeast extract, beef extract, almond extract, lemon extract, mint extract,
    clotted cream, ice pop
    """
)
# The same food with less in it: its figures are off, so it is only a guess.
LESS_FAT = frozenset({"low", "reduced", "lower", "half", "free", "less"})
LESSENS = _set("light lite lighter nonfat skim skimmed lowfat half")
FRESH = frozenset({"fresh"})
DRIED = frozenset({"dried", "dry", "dehydrated"})
TINNED = frozenset({"tinned", "canned"})
# Aisles in which everything is dried anyway, so that the word says nothing new; the same for tins.
# These add little to a name that lacks them, but a food that is named with one is hardly meant without it.
TELLS_APART = _set(
    "british english american italian french spanish thai instant condensed powder pearl flat mixed rolled baby wild"
)
# Left unsaid by most, since the food is sold that way.
UNSAID = frozenset({"dried", "dry", "dehydrated", "powdered", "ground", "tinned", "canned", "salted", "sweetened", "roasted"})
# A part of these is a part still: leaves of basil; a leaf of gelatine is another thing than its powder.
PARTED_AISLES = frozenset(
    {
        "vegetables",
        "fruit",
        "fresh herbs",
        "spices",
        "meat",
        "fish",
        "nuts and seeds",
        "bakery",
        "dairy and eggs",
        "dried fruit and vegetables",
    }
)
# A sort of onion is an onion, whatever its name; an oil of a name that nobody knows is another oil.
SORTED_AISLES = frozenset({"vegetables", "fruit", "fish"})
DRY_AISLES = frozenset(
    {"spices", "pulses", "grains and pasta", "baking", "dried stores", "dried fruit and vegetables", "nuts and seeds"}
)
NEVER_TINNED = frozenset(
    {"pulses", "grains and pasta", "fruit", "vegetables", "meat", "fish", "dairy and eggs", "fresh herbs", "spices", "frozen"}
)
SOLD_FRESH_TOO = frozenset({"dried fruit and vegetables", "spices"})
TINNED_AISLES = frozenset({"tins and jars", "stocks and soups", "drinks", "sauces and condiments"})


@lru_cache(maxsize=8192)
def words_of(text: str) -> tuple[str, ...]:
    """Return the folded words of a name: lower case, no accents, singular, without little words.

    Examples
    --------
    >>> words_of("Crème fraîche, of the cows"), words_of("Tomatoes")
    (('creme', 'fraiche', 'cow'), ('tomato',))
    """
    plain = unicodedata.normalize("NFKD", text[:_LONGEST].lower())
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter))
    plain = _WHOLEWHEAT.sub("wholewheat", plain)
    return tuple(singular(word) for word in _WORD.findall(plain) if word not in SKIPPED)


def is_slip(typed: str, meant: str) -> bool:
    """Whether one wrong, missing, added or swapped letter (two in a long word) makes the one of the other.

    Examples
    --------
    >>> is_slip("tumeric", "turmeric"), is_slip("brocolli", "broccoli"), is_slip("onion", "lemon")
    (True, True, False)
    """
    if typed[:1] != meant[:1] or abs(len(typed) - len(meant)) > 1 or len(typed) < 5:
        return False
    return _distance(typed, meant) <= (1 if len(typed) < 8 else 2)


def _distance(one: str, other: str) -> int:
    """Count the letters to change, with two swapped ones as one."""
    before: list[int] = []
    row = list(range(len(other) + 1))
    for place, letter in enumerate(one, start=1):
        earlier, before, row = before, row, [place]
        for at, wanted in enumerate(other, start=1):
            cost = min(before[at] + 1, row[at - 1] + 1, before[at - 1] + (letter != wanted))
            if place > 1 and at > 1 and letter == other[at - 2] and one[place - 2] == wanted:
                cost = min(cost, earlier[at - 2] + 1)
            row.append(cost)
    return row[-1]
