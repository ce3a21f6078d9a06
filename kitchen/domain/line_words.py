"""The words that an ingredient line is read by: numbers, hedges, preparations, phrases. No rules, only lists."""

from __future__ import annotations

import re
from fractions import Fraction

NUMBER_WORDS: dict[str, Fraction] = {
    word: Fraction(value)
    for value, words in {
        "1": "a an one",
        "2": "two couple",
        "3": "three",
        "4": "four",
        "5": "five",
        "6": "six",
        "7": "seven",
        "8": "eight",
        "9": "nine",
        "10": "ten",
        "11": "eleven",
        "12": "twelve dozen",
        "15": "fifteen",
        "16": "sixteen",
        "18": "eighteen",
        "20": "twenty",
        "24": "twenty-four",
        "1/2": "half",
        "1/3": "third",
        "1/4": "quarter",
    }.items()
    for word in words.split()
}
ARTICLES = frozenset(("a", "an"))
PART_WORDS = {
    "half": Fraction(1, 2),
    "halves": Fraction(1, 2),
    "third": Fraction(1, 3),
    "thirds": Fraction(1, 3),
    "quarter": Fraction(1, 4),
    "quarters": Fraction(1, 4),
    "dozen": Fraction(12),
    "couple": Fraction(2),
}
# "a couple of", "two dozen": these count groups, so an "of" may follow and a number may stand before.
GROUPS = frozenset(("dozen", "couple"))
# "a little oil" gives no amount, whatever its article says.
VAGUE = re.compile(
    r"(?:a\s+(?:little(?:\s+bit)?|bit|few|lot|touch|hint|good\s+grinding|grinding|grind|generous\s+amount|small\s+amount)"
    r"|(?:a\s+)?few|some|several|plenty|lots|enough|extra|lashings)(?:\s+(?P<unit>sprigs|leaves|slices|drops|grinds|grindings|"
    r"twists|handfuls|stalks|strands))?(?:\s+of)?\s+(?=\S)",
    re.IGNORECASE,
)
HEDGE = re.compile(
    r"(?:about|around|approx(?:\.|imately)?|roughly|circa|ca?\.|[~≈]|up\s+to|at\s+least|just\s+(?:over|under)|"
    r"(?:a\s+)?(?:scant|heaped|heaping|rounded|level|generous|good|big))\s*(?=[\da-z½⅓⅔¼¾⅛⅜⅝⅞])",
    re.IGNORECASE,
)
FILL = re.compile(
    r"(?:scant|heaped|heaping|rounded|level|generous|good|big|packed|loosely\s+packed|firmly\s+packed)\s+", re.IGNORECASE
)
SIZES = re.compile(
    r"(?P<size>(?:extra[\s-]large|very\s+(?:small|large|big)|small|medium|large|big|fat|jumbo|baby|mini)"
    r"(?:(?:\s+(?:to|or)\s+|-)(?:small|medium|large))?(?:[\s-]sized?)?)\s+",
    re.IGNORECASE,
)
SIZE_THAT_NAMES = frozenset(("baby", "mini"))
PREPARED = re.compile(
    r"(?:(?:very\s+)?(?:finely|roughly|coarsely|thinly|thickly|freshly|lightly|well|firmly|loosely)[\s-]+[a-z]{3,}"
    r"|chopped|diced|sliced|minced|grated|peeled|melted|softened|sifted|crushed|shredded|beaten|trimmed|rinsed|drained|mashed|"
    r"halved|quartered|cubed|torn|squeezed|packed|crumbled|pitted|deseeded|room[\s-]temperature|cold|warm|hot|lukewarm|boiling)"
    r"(?:\s+(?:and|&)\s+(?:finely\s+|roughly\s+)?"
    r"(?:chopped|diced|sliced|minced|grated|peeled|rinsed|drained|halved|quartered|deseeded))?"
    r",?\s+(?=\S)",
    re.IGNORECASE,
)
# Preparations that make another food: chopped tomatoes come in a can, hot sauce is not warm.
PREPARED_FOODS = re.compile(
    r"(?:chopped|crushed|diced|sieved|peeled)\s+(?:plum\s+)?tomato|minced\s+(?:beef|lamb|pork|veal|turkey|chicken|meat)|hot\s+(?:pepper|sauce|chilli|chili|dog|cocoa|chocolate)|"
    r"boiling\s+(?:potato|bacon)|mashed\s+potato\s+(?:flake|powder)|cold[\s-]pressed|shredded\s+(?:wheat|coconut)|crushed\s+ice|"
    r"cold\s+(?:cut|brew)|drained\s+weight",
    re.IGNORECASE,
)
PURPOSE = re.compile(
    r"[\s,;(–-]*\b(?P<words>(?:plus\s+(?:\d\S*\s+)?(?:extra|more)\b.*|(?:extra|more)\s+(?:for|to)\b.*"
    r"|for\s+(?:the\s+)?(?:serv|garnish|dust|fry|greas|brush|deep|shallow|drizzl|sprinkl|roll|coat|decorat|topping|finish|"
    r"season|knead|pan|tin)\w*\b.*"
    r"|to\s+(?:serve|garnish|finish|decorate|dust|drizzle|sprinkle|coat|cover|grease|top|fry)\b.*|as\s+garnish))$",
    re.IGNORECASE,
)
TO_TASTE = re.compile(
    r"[\s,;(]*\b(?P<words>(?:to|for)\s+taste|to\s+season|as\s+(?:needed|required|desired|necessary)|q\.?s\.?(?=$|[\s,)]))\)?",
    re.IGNORECASE,
)
OPTIONAL = re.compile(r"[\s,;–-]*[(\[]?\boptional(?:ly)?\b(?:\s*:\s*)?[)\]]?", re.IGNORECASE)
OF_A_FRUIT = re.compile(
    r"(?:the\s+)?(?P<part>(?:finely\s+|freshly\s+)?(?:grated\s+|squeezed\s+)?(?:zest|juice|rind|peel|seeds|leaves|pulp)"
    r"(?:\s+(?:and|&|\+)\s+(?:grated\s+)?(?:zest|juice|rind|peel))?)\s+(?:of|from)\s+(?=\S)",
    re.IGNORECASE,
)
LENGTH = re.compile(
    r"(?P<length>thumb-?\s?sized?|\d+(?:[.,]\d+)?(?:\s?[½¼¾]|\s\d/\d)?\s?-?\s?(?:cm|mm|inch(?:es)?|in\b\.?|[\"”″])(?:\s?-?\s?(?:thick|long|wide))?)[\s-]*"
    r"(?P<unit>pieces?|knobs?|sticks?|chunks?|lengths?|thumbs?|strips?|slices?|cubes?|sprigs?)\b(?:\s+of)?\s*",
    re.IGNORECASE,
)
# "pinch of salt": one, without saying so.
BARE_UNIT = re.compile(r"(?:pinch|dash|handful|knob|splash|drizzle|dollop|glug|bunch|sprig)\s+\S|\w+\.?\s+of\s+\S", re.IGNORECASE)
# "boneless, skinless chicken thighs": the comma does not end the name yet.
ONLY_DESCRIBES = re.compile(
    r"(?:boneless|skinless|bone-in|skin-on|fresh|ripe|firm|free-range|organic|good[\s-]quality|large|small|medium|dried|raw|cooked|"
    r"uncooked|unsalted|salted|unsweetened|sweet|dry|plain|thick|thin)(?:\s+(?:and|but)?)?$",
    re.IGNORECASE,
)
# "3 garlic cloves": the count stands after its food.
COUNT_AFTER = re.compile(
    r"(?P<food>.*\b(?:garlic|celery|cinnamon|lemongrass|rosemary|thyme|mint|parsley|dill|bread|butter|rhubarb|bacon|toast|ham|cheese|"
    r"coriander|cilantro|basil|sage|tarragon|oregano|salami|vanilla|filo|pastry|cod|salmon|haddock|hake|trout|tilapia|fish|lettuce|"
    r"cabbage|broccoli|fennel))\s+"
    r"(?P<unit>fillets?|sheets?|cloves?|stalks?|sticks?|ribs?|sprigs?|stems?|slices?|rashers?|bulbs?|heads?|bunch(?:es)?|bouquets?)(?P<rest>\b.*)",
    re.IGNORECASE,
)
HEADING = re.compile(r"(?:for|to\s+make)\s+(?:the\s+)?[^\d,:;()]{3,40}$", re.IGNORECASE)
HEADING_NO = re.compile(
    r"for\s+(?:serving|garnish|dusting|frying|greasing|brushing|drizzling|sprinkling|topping)\b", re.IGNORECASE
)
BULLET = re.compile(r"^(?:[-–—•‣◦·▪▢☐☑✓✔*+>]+(?:\s+|(?=\d))|[•‣◦▪▢☐☑✓✔*]+|\[[ xX]?\]\s*)+")
FOOTNOTE = re.compile(r"(?<=[\w)])\s?[*†‡§]+(?=$|[\s,;)])")
# Direction marks, zero-width joiners and the like say nothing about food; variation selectors go with emoji and are harmless.
INVISIBLE = re.compile("[\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff\u00ad\x00-\x08\x0b-\x1f\x7f]")
