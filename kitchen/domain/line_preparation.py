"""Telling what is done to a food from what is bought: "finely chopped fresh parsley" is fresh parsley, finely chopped."""

from __future__ import annotations

import re

_HOW = frozenset(
    re.findall(
        r"\S+",
        """
        finely roughly coarsely thinly thickly freshly lightly well firmly loosely tightly very fine diagonally
        crosswise lengthwise gently evenly newly neatly
        """,
    )
)
# What is done in any kitchen, whatever the food is sold as.
_DONE = frozenset(
    re.findall(
        r"\S+",
        """
        melted softened sifted beaten trimmed rinsed drained squeezed packed deseeded seeded cored scalded chilled
        cold warm hot lukewarm tepid boiling warmed heated snipped husked deveined washed scrubbed soaked thawed
        defrosted stemmed hulled destemmed zested juiced sieved divided jointed scored unwashed
        spatchcocked heaped heaping rounded level scant cut-up
        room-temperature room-temp cooled toasted pounded smashed bruised julienned reserved leftover left-over
        whisked separated dissolved patted wiped de-seeded de-veined well-drained well-shaken well-beaten well-chilled
        well-washed ice-cold very-cold torn unpeeled piping simmering gutted loosened debearded shaken strained clean
        hand-torn well-packed lightly-packed firmly-packed
        """,
    )
)
# What a packer does as well: "1 can diced tomatoes" is bought so, "1 cup diced onion" is not.
_CUT = frozenset(
    re.findall(
        r"\S+",
        """
        chopped diced sliced minced grated peeled crushed shredded mashed halved quartered cubed crumbled pitted
        cleaned shaved slivered shucked skinned picked trimmed stoned cracked pureed puréed riced segmented spiralized
        sectioned
        """,
    )
)
PREPARED = _DONE | _CUT
_AND = frozenset(("and", "&", "or", "then"))
_KEEPS = frozenset(
    re.findall(
        r"\S+",
        """
        frozen dried instant dehydrated freeze-dried canned tinned preserved pickled candied jarred bottled freeze
        """,
    )
)
DESCRIBES = _KEEPS | frozenset(
    re.findall(
        r"\S+",
        """
        fresh ripe firm free-range organic boneless skinless bone-in skin-on lean extra-lean raw cooked uncooked
        unsalted salted unsweetened sweetened dry plain young tender good-quality red green yellow white black brown
        purple golden light dark low-fat full-fat nonfat fat-free reduced-fat low-sodium kosher coarse whole sweet
        mixed assorted unwaxed smoked roasted ripened extra sharp mild aged day-old stale crusty italian greek french
        english vine baby large medium small flat-leaf curly unpeeled very good quality best-quality high-quality
        unblanched blanched mature tart crisp tinned hard-boiled hard-cooked seedless overripe over-ripe
        """,
    )
)
# Preparations that make another food: crushed tomatoes, hot sauce, toasted sesame oil.
_NAMES = re.compile(
    r"(?:crushed|sieved|strained)\s+tomato|peeled\s+plum\s+tomato|minced\s+(?:beef|lamb|pork|veal|turkey|chicken|meat|"
    r"steak|mutton)|"
    r"hot\s+(?:\w+\s+)?(?:pepper|sauce|chill?i|chile|dog|cocoa|chocolate|paprika|mustard|salsa|curry|sausage|madras|"
    r"roll|italian|fudge|smoked)|"
    r"warm\s+spice|(?:cold|hot)[\s-]smoked|boiling\s+(?:potato|bacon|onion|fowl|chicken)|mashed\s+potato|cold[\s-]pressed|"
    r"shredded\s+(?:wheat|(?:\w+\s+)?coconut|suet)|crushed\s+(?:ice|(?:\w+\s+)?pineapple|"
    r"(?:dried\s+)?(?:red\s+)?(?:pepper|chill?i|chile)|wheat)|"
    r"cracked\s+(?:wheat|pepper|black)|cold\s+(?:cut|brew|smoked)|drained\s+weight|(?:sliced|"
    r"slivered)\s+(?:\w+\s+)?almond|beaten\s+rice|"
    r"toasted\s+(?:sesame\s+oil|pumpkin\s+seed\s+oil)|rice[d]?\s+vinegar|clean\s+|mashed\s+(?:sweet\s+)?potato|"
    r"sliced\s+(?:white\s+|wholemeal\s+|sandwich\s+)?bread|"
    r"strained\s+(?:yogh?urt|greek)|melted\s+cheese|whole\s+peeled|shaved\s+ice|minced\s+(?:onion|garlic)\s+(?:flake|"
    r"powder)|cracked\s+crab|"
    r"leftover\s+(?:turkey|chicken|ham|roast)\s+carcass|chopped\s+(?:liver|ham\s+pork)|level\s+|hot\s+cross|"
    r"packed\s+lunch|crushed\s+tomato|"
    r"beaten\s+biscuit|grated\s+parmesan\s+cheese\s+topping|cubed\s+steak|shredded\s+filo|cold\s+water\s+fish|picked\s+crab",
    re.IGNORECASE,
)
_TOMATOES = re.compile(
    r"(?:chopped|diced|peeled|sliced)\s+(?:plum\s+|cherry\s+|italian\s+|"
    r"roma\s+)?(?:tinned\s+)?tomato",
    re.IGNORECASE,
)
_COMPOUND = re.compile(
    r"(?:fine(?:ly)?|rough(?:ly)?|coarse(?:ly)?|thin(?:ly)?|thick(?:ly)?|fresh(?:ly)?|lightly|well|"
    r"hand|ice)-(?P<done>[a-z]+)$"
)
_AFTER_HOW = re.compile(r"[a-zé-]{3,}ed$|cut$|ground$|torn$|beaten$|sifted$|shaken$|made$|frozen$|brewed$|boiled$|popped$")


def split_before(rest: str, bought: str) -> tuple[str, str]:
    """Return the name without the preparation before it, and the preparation.

    Parameters
    ----------
    rest : str
        The line behind its amount.
    bought : str
        ``"packed"`` for what comes in a can or bag, ``"weighed"`` for a mass, else empty: they decide whether "chopped
        tomatoes" are bought so.

    Examples
    --------
    >>> split_before("finely chopped fresh parsley", ""), split_before("fresh chopped parsley", "")
    (('fresh parsley', 'finely chopped'), ('fresh parsley', 'chopped'))
    >>> split_before("diced tomatoes", "packed"), split_before("diced tomatoes", ""), split_before("hot sauce", "")
    (('diced tomatoes', ''), ('tomatoes', 'diced'), ('hot sauce', ''))
    """
    words = rest.split()
    kept: list[str] = []
    taken: list[str] = []
    place = 0
    while place < len(words) - 1:
        width = _prepared_at(words, place, kept, taken, bought)
        if width:
            taken += words[place : place + width]
            place += width
        elif _describes(words, place, bool(kept) and not taken):
            kept.append(words[place])
            place += 1
        else:
            break
    if not taken or place >= len(words) or (words[place - 1].endswith(",") and _all_done(words[place:])):
        return rest, ""
    if kept and words[len(kept)] == taken[0]:
        kept[-1] = kept[-1].rstrip(",")
    return " ".join([*kept, *words[place:]]), " ".join(taken).strip(" ,").replace(",,", ",")


# What a cook does to a food as well as what a shop sells: it is preparation when joined to another ("cooked and mashed").
_DONE_WHEN_JOINED = frozenset(
    (
        "cooked",
        "roasted",
        "boiled",
        "steamed",
        "blanched",
        "baked",
        "grilled",
        "toasted",
        "parboiled",
        "poached",
        "browned",
        "fried",
    )
)


def _joined(words: list[str], place: int) -> int:
    """Return 3 for "cooked and mashed" and "peeled and roasted", else 0."""
    if place + 3 >= len(words) or words[place + 1].lower() not in ("and", "&", "then"):
        return 0
    pair = {_plain(words[place]), _plain(words[place + 2])}
    return 3 if pair & _DONE_WHEN_JOINED and pair <= _DONE_WHEN_JOINED | PREPARED and not words[place].endswith(",") else 0


def _describes(words: list[str], place: int, joins: bool) -> bool:
    """Say whether the word tells what kind is bought, or joins two that do."""
    word, following = _plain(words[place]), _plain(words[place + 1])
    if word in _AND:
        return joins and following in DESCRIBES
    return word in DESCRIBES and following not in ("of", "or")


def _plain(word: str) -> str:
    return word.lower().rstrip(",")


def _prepared_at(words: list[str], place: int, kept: list[str], taken: list[str], bought: str) -> int:
    """Return how many words from ``place`` on are a preparation."""
    if joined := _joined(words, place):
        return joined
    word, following = _plain(words[place]), _plain(words[place + 1])
    if word in _AND or (word == "," and taken):
        joins = (taken or kept) and _width(words, place + 1, kept, bought)
        return 1 + joins if joins else 0
    if word == "dried" and taken and _plain(words[place - 1]) == "and":
        return 1
    if following in ("of", "and/or") and word not in PREPARED:
        return 0
    return _width(words, place, kept, bought)


def _width(words: list[str], place: int, kept: list[str], bought: str) -> int:
    word = _plain(words[place])
    following = _plain(words[place + 1]) if place + 1 < len(words) else ""
    if word in _HOW and (following in PREPARED or (_AFTER_HOW.search(following) and _how_done(word, following, words, place))):
        return 2
    if word == "very" and following in _HOW | _DONE:
        return 1 + (_width(words, place + 1, kept, bought) or 1)
    if word in ("at", "room") and following in ("room", "temperature"):
        return 2 if word == "room" else 3
    compound = _COMPOUND.match(word)
    if compound and compound["done"] in PREPARED | {"squeezed", "grated", "ground", "cold"}:
        return 1
    if word not in PREPARED:
        return 0
    return 0 if _is_named(words, place, kept, bought) else 1


def _how_done(how: str, done: str, words: list[str], place: int) -> bool:
    """Say whether "lightly salted" is done at home: "freshly ground" is, "lightly salted" and "finely ground cornmeal" "
    "are bought."""
    if how == "freshly":
        return True
    if done == "ground":
        return "pepper" in " ".join(words[place + 2 : place + 5]).lower()
    return how in ("finely", "roughly", "coarsely", "thinly", "thickly", "well") and done not in ("salted", "smoked")


def _is_named(words: list[str], place: int, kept: list[str], bought: str) -> bool:
    """Say whether the word belongs to the food's name here."""
    word = _plain(words[place])
    sold_cut = bought == "packed" or any(_plain(before) in _KEEPS for before in kept if not before.endswith(","))
    if sold_cut and word in _CUT and not words[place].endswith(","):
        return True
    rest = " ".join(words[place : place + 4])
    return bool(_NAMES.match(rest)) or (bought == "weighed" and bool(_TOMATOES.match(rest)))


def _all_done(words: list[str]) -> bool:
    return all(_plain(word) in PREPARED | _HOW | _AND for word in words)


_TRAILING = (
    _HOW
    | _AND
    | frozenset(
        re.findall(
            r"\S+",
            """
        small large thin thick lengthways lengthwise crosswise up off out overnight again slightly quite into about
        across apart open through
        """,
        )
    )
)


# Behind a food these are what was done to it; before one they may say what is bought: split peas, boned shoulder.
_DONE_BEHIND = PREPARED | frozenset(
    re.findall(
        r"\S+",
        """
        split scraped stirred boned pin-boned filleted butterflied flattened trussed floured oiled pressed blended blitzed
        bashed pounded rolled-out pricked slashed kept peeled-off plucked sorted rubbed flaked stripped turned
        """,
    )
)


def split_after(name: str) -> tuple[str, str]:
    """Return the name without preparation that follows it without a comma: "onion finely diced".

    Examples
    --------
    >>> split_after("carrots peeled and sliced"), split_after("half and half"), split_after("chopped")
    (('carrots', 'peeled and sliced'), ('half and half', ''), ('chopped', ''))
    """
    if name.count(" ") == 0:
        return name, ""
    words = name.split()
    place, first = len(words), len(words)
    while place > 1:
        word = _plain(words[place - 1])
        if word in _DONE_BEHIND or _COMPOUND.match(word):
            first = place - 1
        elif word not in _TRAILING:
            break
        place -= 1
    if first == len(words) or not any(_plain(word) in _DONE_BEHIND for word in words[first:]):
        return name, ""
    start = _first_of(words, place, first)
    return " ".join(words[:start]).rstrip(" ,"), " ".join(words[start:])


def _first_of(words: list[str], place: int, first: int) -> int:
    """Step back over "finely" and "and" before the first preparation, but not over a size."""
    start = first
    while start > max(place, 1) and _plain(words[start - 1]) in _HOW | {"and", "&"}:
        start -= 1
    return start
