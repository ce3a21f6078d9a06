"""The words that an amount is read by: numbers, hedges, sizes, phrases. No rules, only lists."""

from __future__ import annotations

import re
from fractions import Fraction

FIGURES = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"

NUMBER_WORDS: dict[str, Fraction] = {
    word: Fraction(value)
    for value, words in {
        "1": "a an one",
        "2": "two couple",
        "3": "three",
        "4": "four",
        "5": "five",
        "6": "six half-dozen",
        "7": "seven",
        "8": "eight",
        "9": "nine",
        "10": "ten",
        "11": "eleven",
        "12": "twelve dozen doz",
        "13": "thirteen",
        "14": "fourteen",
        "15": "fifteen",
        "16": "sixteen",
        "18": "eighteen",
        "20": "twenty",
        "24": "twenty-four",
        "25": "twenty-five",
        "30": "thirty",
        "40": "forty",
        "50": "fifty",
        "100": "hundred",
        "1/2": "half one-half half-a",
        "1/3": "third one-third",
        "2/3": "two-thirds",
        "1/4": "quarter one-quarter fourth one-fourth",
        "3/4": "three-quarters three-quarter three-fourths three-fourth",
        "1/8": "one-eighth",
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
    "fourth": Fraction(1, 4),
    "fourths": Fraction(1, 4),
    "eighth": Fraction(1, 8),
    "dozen": Fraction(12),
    "doz": Fraction(12),
    "couple": Fraction(2),
}
# "a couple of", "two dozen": these count groups, so an "of" may follow and a number may stand before.
GROUPS = frozenset(("dozen", "doz", "couple"))
# "a little oil" gives no amount, whatever its article says.
_VAGUE_GROUP = (
    r"few|grating|grinding|scraping|dusting|sprinkling|sprinkle|shaving|scattering|lick|smear|smattering|"
    r"couple\s+of\s+(?:good\s+)?(?=grinds|gratings|turns)"
)
VAGUE = re.compile(
    r"(?:a\s+(?:(?:tiny|small|good|generous|nice|large|light|fine)\s+)?(?:little(?:\s+bit)?(?!\s+(?:gem|more|less|over|under)\b)|bit(?!\s+(?:more|less)\b)|lot|touch|"
    r"hint|amount|selection|mixture|mix|"
    rf"variety|{_VAGUE_GROUP})|(?:(?:good|generous|light|small|fine)\s+)?(?:{_VAGUE_GROUP})|some|several|plenty|lots|"
    rf"enough|lashings|additional|"
    r"extra(?=\s+(?:butter|oil|flour|sugar|salt|lemon|lime|herbs|parsley|olive|cheese|milk|water|icing)\b)|your\s+favou?rite)"
    r"(?:\s+(?:good|large|small|fresh)(?=\s+(?:sprigs|leaves|drops|handfuls|pinches|grinds|gratings|turns|squeezes|twists|slices|splashes|shakes)))?"
    r"(?:\s+(?P<unit>sprigs?|leaves|slices|drops|dashes|pinches|grinds|grindings|gratings|twists|turns|handfuls|stalks|"
    r"strands|shakes|splashes|"
    r"cloves|rashers|stems|squeezes|strips|cubes|pieces|spoonfuls)\b(?=\s+\S))?(?:\s+of(?:\s+the)?)?\s+(?=\S)",
    re.IGNORECASE,
)
HEDGE = re.compile(
    r"(?:about|around|approx(?:\.|imately)?|roughly|exactly|precisely|say|only|just|add|plus|minimum|min\.?|max\.?|maximum|circa|ca?\.|[~≈]|up\s+to|at\s+least|not\s+quite|(?:no\s+|not\s+|a\s+little\s+|a\s+bit\s+|slightly\s+)?(?:more|less)\s+than|(?:just|a\s+little|slightly)\s+(?:over|under)|nearly|"
    r"almost|maybe|"
    r"between|from|(?:an\s+)?(?:additional|extra)|another|(?:the\s+)?(?:remaining|other|rest\s+of\s+the)|use|using|"
    r"(?:a\s+)?(?:full|bare|scant|heaped|heaping|rounded|level|generous|good|big|whole))\.?\s*(?=[\d"
    + FIGURES
    + r"]|(?:a|an|one|two|three|four|five|six|eight|ten|half|quarter|handful|cup|tablespoon|teaspoon|tbsp|tsp)\b)",
    re.IGNORECASE,
)
FILL = re.compile(
    r"(?:(?:scant|heaped|heaping|rounded|level|levelled|generous|good|big|nice|healthy|hefty|full|whole(?=\s+(?:cloves?|"
    r"heads?|cans?|tins?|nutmegs?\s)\b)|"
    r"tiny|little|runny|thick|thin|long|short|thick-cut|wafer-thin|leafy|firm|juicy|crisp|woody|tender|bushy|fresh(?!\s+(?:cakes?|blocks?)\b)|thinly\s+sliced|thickly\s+sliced|packed|lightly\s+packed|"
    r"loosely\s+packed|firmly\s+packed|"
    r"tightly\s+packed|well[\s-]packed|loosely\s+filled|level-?off|double|"
    r"single|standard|individual|"
    r"family[\s-]size|single[\s-]serv(?:e|ing)|snack[\s-]size|foil(?=\s+(?:pouch|pack))|soup(?=\s+cans?\b)|\w+[\s-]sized?(?=\s+(?:balls?|pieces?|knobs?|lumps?|chunks?|bunch(?:es)?|pinch(?:es)?)\b)|lemon[\s-]sized?(?=\s+(?:balls?|pieces?)\b)|regular(?:[\s-]sized?)?|king[\s-]size|tall|flat|fat|plump),?\s+)+",
    re.IGNORECASE,
)
_SIZE = (
    r"(?:extra[\s-]?|x-?|very\s+)?(?:small(?:ish)?|medium|large|largish|big|tiny)|"
    r"sml?\.?|med\.?|lrg\.?|lge?\.?|x-?lg?\.?|fat|jumbo|plump|giant|good|baby|mini"
)
SIZES = re.compile(
    rf"(?P<size>(?:{_SIZE})(?:[\s-]sized?)?(?:(?:[\s-]*(?:to|or|/|-)[\s-]*|-)(?:small|medium|large|lg\.?))?(?:[\s-]sized?)?)(?:\s+|,\s+(?=\w))",
    re.IGNORECASE,
)
SIZE_THAT_NAMES = frozenset(("baby", "mini"))
# "medium sherry", "small curd cottage cheese", "fat free": here the size is part of the name.
SIZE_IN_NAME = re.compile(
    r"medium[\s-]+(?:sherry|dry(?!\s+onion)|grain|cheddar|curry|salsa|egg(?!s|plant)|oatmeal|hot|firm|heat|bodied|sweet(?!\s+(?:potato|onion|pepper|apple|red|green|yellow|pickle|corn|vidalia))|strength|fat|roast|"
    r"coarse|rare|soft)\b|"
    r"(?:small|large|big)[\s-]+(?:curd|pearl|flake|grain|leaf)\b|fat[\s-]+(?:free|back)\b|jumbo\s+(?:oats|shells|pasta|"
    r"rolled)|good[\s-]+(?!size)|"
    r"(?:small|large)\s+(?:pasta|shell)",
    re.IGNORECASE,
)
OF_A_FRUIT = re.compile(
    r"(?:the\s+)?(?P<part>(?:(?:finely|freshly|fresh|very\s+finely|coarsely)[\s-]+)?(?:(?:grated|squeezed|shredded|"
    r"pared|strained)\s+)?"
    r"(?:zest|juice|rind|peel|seeds|leaves|pulp|flesh|whites?|yolks?)(?:\s*,?\s*(?:and|&|\+|/|plus)\s*(?:(?:finely\s+)?grated\s+|"
    r"(?:the\s+)?finely\s+grated\s+)?"
    r"(?:the\s+)?(?:zest|juice|rind|peel|pulp))?)(?:\s*(?:of|from|,|-|:|–)\s+|\s+(?=[\d½¼¾]|half\s))(?=\S)",
    re.IGNORECASE,
)
# "pinch of salt": one, without saying so.
BARE_UNIT = re.compile(
    r"(?:tablespoon|teaspoon|dessertspoon|tbsp\.?|tsp\.?|pinch|dash|handful|knob|pack|splash|drizzle|dollop|glug|bunch|sprig|squeeze|squirt|scoop|thumb|drop|slice|sheet|can|"
    r"tin|packet|jar|bag|clove|(?<=[a-z]\s)cup|"
    r"pinches|sprigs)\s+\S|\w+\.?\s+of\s+\S",
    re.IGNORECASE,
)
# Where the word is the beginning of a name and no unit: pot roast, rib-eye steak, cake flour.
NOT_A_UNIT = re.compile(
    r"pot\s+(?:roast|sticker|pie|barley|marigold)|cube\s+steak|strip\s+(?:steak|loin)|bottle\s+gourd|(?:rib|"
    r"ribs)[\s-]?(?:eye|roast|chop|steak|of\s+beef)|"
    r"fillets?\s+steak|fillet\s+of|head\s*cheese|loaf\s+(?:pan|tin|cake)|sheet\s+(?:cake|pan)|stem\s+ginger|"
    r"leaf\s+(?:lard|lettuce|gelatine?)|drop\s+(?:biscuit|scone)|box\s+grater|can\s+opener|"
    r"cakes?\s+(?!of\b|(?:fresh\s+|compressed\s+|dry\s+)?yeast|tofu|tempeh|tamarind)|"
    r"stick\s+bean|tube\s+pasta|part[\s-]skim|part[\s-]baked|roll\s+mix|squeeze\s+bottle|"
    r"square\s+(?:pan|tin|wonton)|wheel\s+pasta|log\s+cabin|glass\s+noodle|block\s+of\s+ice|leaf\s+spinach|"
    r"pods?\s+(?:pea|of\s+pea)|bar\s+(?:mix|cookie)|shot\s+glass|ball\s+(?:park|pepper)|c\.?\s+(?:of\s+)?(?:à|a)\b|"
    r"g\.?\s+(?:&|and)\s",
    re.IGNORECASE,
)
# "1 #2 can", "1 No. 10 can": the trade's number of a can.
CAN_NUMBER = re.compile(
    r"(?P<size>(?:#\s?|no\.?\s*|number\s+)\d{1,3}(?:\s?½|\s1/2)?)[\s-]+(?=(?:size\s+)?(?:cans?|"
    r"tins?|jars?)\b)",
    re.IGNORECASE,
)
# "3 garlic cloves": the count stands after its food.
COUNT_AFTER = re.compile(
    r"(?P<food>.*\b(?:garlic)\s+(?=cloves?\b)|.*\b(?:celery|butter|margarine|rhubarb|lemongrass)\s+(?=sticks?\b)|"
    r".*\bcelery\s+(?=ribs?\b)|"
    r".*\b(?:filo|phyllo|pastry|nori|puff\s+pastry|matzoh?)\s+(?=sheets?\b)|.*\b(?:cod|salmon|haddock|hake|trout|"
    r"tilapia|fish|sole|halibut|"
    r"mackerel|sea\s+bass|snapper|plaice|catfish|monkfish|pollock|bream)\s+(?=fill?ets?\b)|"
    r".*\b(?:sweet)?corn\s+(?=ears?|cobs?\b)|.*\w\s+(?=(?:stalks?|sprigs?|stems?|slices?|rashers?|bulbs?|heads?|bunch(?:es)?)\b))"
    r"(?P<unit>fill?ets?|sheets?|cloves?|stalks?|sticks?|ribs?|sprigs?|stems?|slices?|rashers?|bulbs?|heads?|"
    r"bunch(?:es)?|ears?|cobs?)$",
    re.IGNORECASE,
)
