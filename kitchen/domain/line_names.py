"""Reading what a line is about, behind its amount: the name of the food, the sizes and the notes."""

from __future__ import annotations

import re

from kitchen.domain.line_kinds import COLOURS, is_kind
from kitchen.domain.line_preparation import DESCRIBES, split_after, split_before
from kitchen.domain.line_words import SIZE_IN_NAME, SIZE_THAT_NAMES, SIZES

_BRACKETS = re.compile(r"\s*[(\[]([^()\[\]]*)(?:[)\]]|$)\s*")
_SPLIT = re.compile(r"\s*[,;]|\s+[-–—]+\s+|\s*[–—]\s*|\s+(?=(?:or|OR)\s+\w)|\s+/\s+(?=[^\W\d])|\.\s+(?=[A-Z])|\s+(?=\+\s)|:\s+")
_SHAPES = (
    r"piece|length|chunk|cube|strip|slice|round|ring|wedge|(?:half-)?moon|matchstick|lardon|dice|baton|ribbon|segment|shaving|"
    r"floret|halve|half|quarter|bundle|layer"
)
# What is done to a food, told behind it: "potatoes scrubbed but not peeled", "lemon pips removed", "onions cut into wedges".
_DONE_TO_IT = (
    r"(?:(?:finely|roughly|thinly|coarsely|lightly|well|freshly)\s+)?(?:halved|quartered|sliced|chopped|diced|cubed|grated|shredded|"
    r"crumbled|mashed|crushed|pounded|bashed|bruised|ground|scrubbed|washed|rinsed|drained|peeled|trimmed|stoned|pitted|skinned|"
    r"boned|jointed|shelled|podded|scored|soaked|whisked|beaten|blended|mixed|dissolved|stirred|warmed|heated|brought|melted|"
    r"softened|thawed|defrosted|cleaned|seasoned|cooked|boiled|steamed|toasted|broken|torn|tied|divided|squeezed|strained|sieved|sifted)\s+"
    r"(?:and|but|in|into|with|to|overnight|until|from|at|on|over|for|of|then|by|through|between|as|together)\b"
    # Any other participle, unless it is how the food is sold: olives stuffed with pimento, tuna packed in oil.
    r"|(?!(?:stuff|fill|flavou?r|infus|pack|cover|coat|marinat|preserv|fortifi|enrich|cur|sweeten|cann|tinn|bottl|pickl|bas|dipp|top|"
    r"bread|smok|salt|dri|lac|spik|blend|\w*se)ed\b)[a-z-]{3,}ed\s+(?:(?:\w+ly|golden|brown|dry|clean|soft|well|again|overnight|up|down|off|out)\s+)?"
    r"(?:in|into|with|to|until|overnight|off|over|under|through|down|against|on|as|from|by|while|when|before|"
    r"after|once|twice|together|away|so|back|first|apart|(?:two|three)\s+times|al\s+dente|and\s+\w+|for\s+(?:\d+|an?|about|at)|\d+)\b"
    r"|(?:hung|let|put|set|stuck|spread|split|spun|kept|stood|made(?:\s+up)?|straight)\s+"
    r"(?:overnight|aside|apart|in|into|down|up|with|to|from|by|through|lengthw\w+|dry)\b"
    rf"|in\s+(?:[\w-]+\s+){{0,3}}(?:{_SHAPES})s?\b|of\s+(?:any|some)\s+(?:kind|sort)\b"
    r"|(?:seeds?|skins?|pips|stones?|bones?|stalks?|stems?|crusts?|rinds?|cores?|tops|ends|fat|shells?|tails?|roots|leaves|zest)\s+"
    r"(?:and\s+\w+\s+)?(?:removed|discarded|reserved|trimmed|separated|intact|scored|slashed|pricked|snapped)\b"
    r"|(?:skins?|sinews?|bases?|eyes|cores?)\s+(?:and\s+\w+\s+)?(?:peeled|cut|scraped|sliced|pulled|trimmed)\b"
    r"|[\w-]+\s+(?:and\s+all|(?:and\s+[\w-]+\s+)?apart|removed|discarded|(?:snapped|sliced|cut|pulled|picked|thrown|taken)\s+(?:off|away|out))\b"
    r"|(?:fresh|ripe|frozen|large|small|organic|homemade|unwaxed)\s+if\b|(?:just|barely)\s+\w+|[\w-]+\s+(?:is|are)\s+(?:fine|ok|okay|good|best)\b|the\s+(?:length|thickness)\b|room[\s-]temperature|covered\s+(?:with|in|by)\s+(?:an?|the|cling|boiling|cold|warm|water|foil)\b"
    r"|(?:leaves|needles|juice|seeds?|zest|heads?|tops?|tails?|stems?|stalks?|flesh|yolks?|whites?|caps?|tips?|fronds?|parts?)\s+only\b"
    r"|(?:skins?|shells?|tails?|heads?|bones?|rinds?|crusts?|stalks?|stems?)\s+(?:still\s+|left\s+)?(?:on|off|in)(?=$|[,;])"
    r"|cut(?=$|,|\s+(?:in|into|to|on|across|from|up|off|out|crosswise|crossways|lengthwise|lengthways|diagonally|thinly|finely|thin|"
    r"thick|small|very|about|each|half|\d|a|and|at|as|so|for|with|or|by|through|chunky|roughly)\b)"
)
_SECOND_MEASURE = (
    r"[\d½¼¾⅓⅔][\d.,/½¼¾⅓⅔]*\s?(?:g|gr|gms?|grams?|kg|kilos?|ml|cl|dl|l|litres?|liters?|oz|ounces?|lbs?|pounds?)\.?$"
)
# Where a note begins without a comma.
_NOTE_BEGINS = re.compile(
    rf"(?<!ready)(?<!easy)\s+(?=(?:{_DONE_TO_IT}|to\s+[a-z]{{2,}}\b|(?:about|approx\.?|approximately|around|roughly|circa|ca\.?|[~/=])?\s*{_SECOND_MEASURE}|such\s+as|at\s+(?:\w+\s+){{0,2}}temp(?:erature)?\b|at\s+least|preferably|weighing|plus|about\s+\d|if\s|ideally|each\b|of\s+(?:your|"
    r"any)\s+choice|"
    r"of\s+choice|broken|torn\s+in|sliced\s+(?:in|on|\d|very)|chopped\s+(?:in|up|very)|from\s+(?:\d|a\b|"
    r"about|one\b|the\b|your\b|yesterday)|with\s+(?:skin|its|their|the|juices?\b|"
    r"liquid|bone|tops|rind|peel|leaves)|removed\b|reserved\b|left\s+(?:whole|over|un\w+|in|on|to|intact)|"
    r"cooked\s+(?:according|until|and|in)|"
    r"according\s+to|without\s+(?:skin|the|bone)|skin\s+(?:on|off|removed)|for\s|like\s|e\.?g\.?\s|i\.e\.|"
    r"(?:white|green|pale)(?:\s+(?:and|or)\s+\w+(?:\s+green)?)?\s+parts?\b|see\s+(?:note|recipe|page|above|below)|"
    r"depending|the\s+size\b|thick\s*\)|until\s|so\s+that|in\s+(?:half|quarters|thin|small|large|\d|bite|chunks|pieces|cubes|strips|"
    r"slices)|into\s|"
    r"well\s+\w+ed\b|then\s|not\s|no\s+need\b|enough\s+to|as\s+(?:well|above|many)|drained\s+weight|total\s+weight|"
    r"very\s+(?:finely|thinly|ripe\s*$)|roughly\s+\d))",
    re.IGNORECASE,
)
_ADJECTIVES = frozenset(
    re.findall(
        r"\S+",
        """
        red white yellow green black brown purple orange golden light dark pale fresh frozen dried canned tinned raw
        cooked toasted roasted salted unsalted sweet dry whole skim skimmed ground smoked hot mild sharp medium large
        small regular plain low-fat full-fat nonfat reduced-fat fat-free sweetened unsweetened semisweet bittersweet
        milk strong thick thin firm extra-firm soft silken creamy crunchy smooth quick-cooking quick old-fashioned
        rolled instant active superfine caster granulated flat-leaf curly italian english persian japanese long-grain
        short-grain medium-grain kosher coarse fine lean extra-lean boneless skinless bone-in baby new waxy floury
        young mature heavy single double whipping lite natural greek savoy italian-style thai chinese spanish french
        mexican chopped minced grated shredded sliced diced crushed homemade store-bought bought good mixed wholemeal
        wholewheat whole-wheat all-purpose bread self-raising self-rising desiccated flaked blanched slivered pitted
        hulled steel-cut low-sodium
        """,
    )
)


# In "milk chocolate" and "bread flour" they describe.
_FOODS_TOO = frozenset(("milk", "bread"))


def read_name(rest: str, *, counted: bool, bought: str) -> tuple[str, str, list[str], str]:
    """Return the name, the size of one, the notes in their order, and the preparation that stood before the name.

    Parameters
    ----------
    rest : str
        The line behind its amount.
    counted : bool
        Whether an amount was given: only then is "large" a size.
    bought : str
        See ``split_before``.

    Examples
    --------
    >>> read_name("large ripe tomatoes (about 1 lb), seeded", counted=True, bought="")
    ('ripe tomatoes', 'large', ['seeded', 'about 1 lb'], '')
    >>> read_name("chicken or vegetable stock", counted=True, bought="")[0]
    'chicken or vegetable stock'
    >>> read_name("butter or oil", counted=True, bought="")[0]
    'butter'
    """
    rest, notes = _without_brackets(rest)
    other = _OR_OTHERS.match(rest) if counted else None
    if other:
        rest, notes = rest[other.end() :], [other.group().strip(), *notes]
    rest, size = _size_before(rest, counted)
    rest, length = _length_inside(rest)
    size = size or length
    rest, done = split_before(rest, bought)
    rest, inner = _size_before(rest, counted and not size)
    size = size or inner
    if rest[:6].lower() == "whole " and not size:
        shorter, size = _size_before(rest[6:], counted)
        rest = rest[:6] + shorter
    if done and inner:
        rest, more = split_before(rest, bought)
        done = ", ".join(filter(None, (done, more)))
    name, tail = _split(rest)
    name, after = split_after(name)
    return name.strip(" ,;:-–—"), size, [*filter(None, [after, *_pieces(tail)]), *notes], done[:1].lower() + done[1:]


def _without_brackets(rest: str) -> tuple[str, list[str]]:
    """Take what stands in brackets out of the name; it becomes a note."""
    if "(" not in rest and "[" not in rest:
        return rest, []
    notes = [inside.strip(" ,;") for inside in _BRACKETS.findall(rest)]
    plain = _BRACKETS.sub(" ", rest)
    plain = re.sub(r"[()\[\]]", " ", plain)
    plain = " ".join(plain.split()).replace(" ,", ",").strip(" ,;:")
    return (plain, [note for note in notes if note]) if plain else (" ".join(notes), [])


_LENGTH_INSIDE = re.compile(
    r"(?<=\w)\s+(\d[\d /.½¼¾]{0,6}(?:-?to-?\s?\d+)?-(?:inch|in\.|cm|ounce|oz\.?|pound|lb\.?))\s+(?=[^\W\d])", re.IGNORECASE
)


def _length_inside(rest: str) -> tuple[str, str]:
    """Take "9-inch" out of "baked 9-inch pie shell"; behind a comma it is about a piece and stays."""
    found = _LENGTH_INSIDE.search(rest) if "-" in rest else None
    if found is None or "," in rest[: found.start()] or " in " in f" {rest[: found.start()]} ":
        return rest, ""
    return f"{rest[: found.start()]} {rest[found.end() :]}", found[1]


def _size_before(rest: str, counted: bool) -> tuple[str, str]:
    """Take "large" off "large eggs"; "baby spinach" keeps its baby."""
    found = SIZES.match(rest) if counted else None
    if found is None or found["size"].lower() in SIZE_THAT_NAMES or SIZE_IN_NAME.match(rest):
        return rest, ""
    return rest[found.end() :], found["size"].lower()


def _split(rest: str) -> tuple[str, str]:
    """Return the name and what is said behind it."""
    place = listed = 0
    while found := _SPLIT.search(rest, place):
        if rest[found.end() : found.end() + 3].lower() == "or " and (end := _shared(rest, found.start())):
            place = end
        elif kinds := _kinds_listed(rest, found):
            place, listed = found.end(), kinds
        elif found.start() == 0 or found.end() < listed or _goes_on(rest[: found.start()], rest[found.end() :], found.group()):
            place = found.end()
        else:
            break
    name, tail = (rest[: found.start()], rest[found.start() :]) if found else (rest, "")
    begins = _NOTE_BEGINS.search(name)
    if begins and not _only_describes(name[: begins.start()]):
        part = _WHICH_PART.search(name[: begins.start()]) if _TAKEN_OFF.match(name, begins.end()) else None
        start = part.start() if part else begins.start()
        return name[:start], name[start:] + tail
    return name, tail


# "lettuces outer leaves discarded": the part of it that goes, with what tells it from the rest.
_TAKEN_OFF = re.compile(r"[\w-]+\s+(?:removed|discarded|\w+\s+(?:off|away|out))\b", re.IGNORECASE)
_WHICH_PART = re.compile(
    r"(?<=\w)(?:\s+(?:outer|inner|woody|tough|central|coarse|hard|thick|dark|green|wilted|papery|stringy|fibrous|white))+$",
    re.IGNORECASE,
)


_LISTED = re.compile(r"\s*(?:(?:[\w-]+,\s*){0,2}[\w-]+,?\s+)?or\s+\w+((?:\s+\w+){1,3})\b")


def _kinds_listed(rest: str, comma: re.Match[str]) -> int:
    """Return where a list of kinds of one food ends, "peanut, corn or vegetable oil"; 0 where none begins at a comma."""
    listed = _LISTED.match(rest, comma.end()) if "," in comma.group() else None
    before, _, word = rest[: comma.start()].rpartition(" ")
    if listed is None:
        return 0
    kinds = word.lower() in COLOURS or any(is_kind(word, head, alone=not before) for head in listed[1].lower().split())
    return listed.end() if kinds else 0


def _goes_on(before: str, after: str, sign: str) -> bool:
    """Say whether the name is not complete at this comma: "boneless, skinless chicken thighs"."""
    if "," not in sign:
        return False
    return _only_describes(before) and not _starts_note(after)


def _only_describes(before: str) -> bool:
    """Say whether no food has been named yet: "fresh", "boneless and skinless"."""
    words = before.lower().replace(",", "").split()
    return (
        bool(words)
        and words[-1] not in _FOODS_TOO
        and all(word in _ADJECTIVES or word in DESCRIBES or word in _ONLY_DESCRIBE for word in words)
    )


# "1 large or 2 small aubergines": the size has been read, the food comes behind the second count.
_OR_OTHERS = re.compile(
    r"(?:(?:small|medium|large|big)\s+)?or\s+\d[\d/ -]*\s(?:(?:small|medium|large|smaller|larger|big|baby)\s+)(?=[^\W\d])",
    re.IGNORECASE,
)
_ONLY_DESCRIBE = frozenset(
    re.findall(
        r"\S+",
        """
        skin-on best-quality salted uncooked unpeeled extra virgin and but low-salt soft bitter fruity floury waxy crunchy
        thin thick small large medium long short round
        """,
    )
)
_STARTS = re.compile(
    r"\s*(?:finely|roughly|thinly|coarsely|cut|to|for|or|about|plus|at|peeled|chopped|sliced|diced|melted|softened|"
    r"drained|rinsed|if|optional|not)\b|\s*(?:" + _DONE_TO_IT + ")",
    re.IGNORECASE,
)


# "crusts removed", "divided": what is done to it, not a second adjective.
_ENDS_DONE = re.compile(
    r"\s*(?:divided|beaten|separated|sifted|thawed|chilled|cooled|warmed|"
    r"(?:\w+\s+){1,3}(?:removed|trimmed|discarded|separated|reserved|cut|off|intact|attached|on|only))\s*(?:$|[,;(])",
    re.IGNORECASE,
)


def _starts_note(after: str) -> bool:
    return bool(_STARTS.match(after) or _ENDS_DONE.match(after)) or not after.strip()


def _shared(rest: str, start: int) -> int:
    """Return where the noun ends that two kinds share ("red or white wine vinegar"), or 0 where the first food is complete."""
    first, second = rest[:start], re.split(r"[,;(]|\s+or\s", rest[start:].strip()[3:], maxsplit=1)[0]
    named = first.replace(",", "").split()[-1] if first.split() else ""
    word = named.lower()
    seconds = second.lower().split()
    if (
        not word
        or not seconds
        or seconds[0][0].isdigit()
        or seconds[0] in ("to", "more", "as", "a", "an", "so", "other", "another", "any", "some")
    ):
        return 0
    alone = all(before in _ADJECTIVES for before in first.lower().split()[:-1])
    heads = (seconds[-1], "-".join(seconds[-2:]))
    describes = word in _ADJECTIVES and word not in _FOODS_TOO
    shares = describes or (seconds[-1] != word and any(is_kind(named, head, alone=alone) for head in heads))
    if not shares or len(seconds) < 2 or seconds[-1] in first.lower().split():
        return 0
    return start + 4


def _pieces(tail: str) -> list[str]:
    return (
        [
            words
            for piece in re.split(
                r"[();\[\]]|,\s+|"
                r"\s+[-–—]+\s+",
                tail,
            )
            if (words := piece.strip(" ,;:.–—"))
        ]
        if tail
        else []
    )
