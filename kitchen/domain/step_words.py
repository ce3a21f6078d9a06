"""A step of the method read as a line is: which stage it is, how many minutes it takes, how hot.

What is read is a proposal; a person takes it or does not. A step's words are cut into sentences. In each, verbs say what is done
(``_CUES``); a length of time belongs to the verb before it in its sentence, else to the one behind it. Where several things are
done, the step is the one that takes longest; without minutes, the last one.

* Waiting that no cooker does (soak, chill, marinate, rise, freeze) is no stage and has no minutes.
* "After 10 minutes", "every 5 minutes", "in the last minute", "3 minutes before the end" say when, not how long.
* Of a range the longer end counts. Lengths of the same stage add up. "On each side" doubles, "in two batches" doubles again.
* °F become °C, rounded to whole degrees, where no °C stands beside them; gas marks by ``_GAS_C`` (common practice, from memory).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import groupby

_WAIT = "-"
_COOK = "cook"
_LONGEST = 600
_MOST_MIN = 9999
_GAS_C = {"1/4": 110, "¼": 110, "1/2": 130, "½": 130, "1": 140, "2": 150, "3": 170, "4": 180, "5": 190, "6": 200, "7": 220}
_GAS_C |= {"8": 230, "9": 240}


@dataclass(frozen=True)
class StepReading:
    """What a step's words say of it; empty where they say nothing. ``minutes`` in minutes, ``temp_c`` in °C."""

    stage: str = ""
    minutes: Decimal | None = None
    temp_c: Decimal | None = None


_CUES: tuple[tuple[str, str], ...] = (
    (
        _WAIT,
        r"soak|marinat|chill(?!i)|refrigerat|freez|fridge|overnight|\bprove\b|\bproof\b|\bris(?:e|es|en)\b"
        r"|knead|pickle|ahead"
        r"|press (?:the |it |them )?(?!button|start|cancel)(?:\w+ )?(?:for|between|under)",
    ),
    (
        "release",
        r"releas|\bvent(?:ing)?\b"
        r"|pressure (?:has |to |is )?(?:fall|drop|com(?:e|es|ing) down|go(?:es|ing)? down|gone|subside|escape)"
        r"|pin (?:drop|fall|sink)|let (?:the|all) steam (?:out|off)|open (?:the )?(?:valve|vent)|depressuri",
    ),
    (
        "keep_warm",
        r"keep(?:ing)? (?:(?:it|them|everything|all|the \w+) )?(?:\w+ and )?(?:warm|hot)\b|keep-warm|serving temperature"
        r"|hold (?:it |them )?(?:warm|hot)|warm setting|(?:warm|hot) until (?:needed|served|serving)",
    ),
    (
        "reduce",
        r"\breduc(?!e the (?:heat|oven|power))|boil(?:ing)? (?:it )?(?:down|away|off)|boiled away"
        r"|cook(?:ing)? (?:it )?down|jammy|syrupy"
        r"|thicken|until (?:it is |it's )?(?:\w+ )?thick|to a (?:glaze|syrup)|drive off|evaporat"
        r"|(?:liquid|water|stock|wine|juices?) (?:is|are|has|have|was) (?:\w+ )?(?:gone|absorbed)",
    ),
    (
        "come_up",
        r"\b(?:bring|brings|bringing|come|comes|coming|get|heat|take)\b(?:[^.;]|\.\d){0,60}?\b"
        r"(?:up |back |almost |just )*(?:to|under)\s+"
        r"(?:the |a |full |high |low |lively |gentle |rolling |bare )*(?:\w+ )?(?:boil|simmer|pressure)\b"
        r"|reach(?:es|ing)? (?:the )?(?:\w+ )?(?:pressure|boil)"
        r"|until [^.;,]{0,30}?\b(?:boils|is boiling|comes to|steaming)"
        r"|boil (?:the kettle|(?:the |some |enough )?(?:\w+ )?water\b)|put the kettle on|reheat|scald"
        r"|warm(?:ed)? (?:it |them )?(?:through|up)|heat (?:it |them )?through"
        r"|(?:heat|warm) the (?:\w+ )?(?:soup|sauce|milk|stock|broth|water|stew|curry|beans|cocoa|mixture|cream|chocolate)",
    ),
    (
        "preheat",
        r"pre-?heat|(?:get|make) (?:it|the \w+) (?:very )?hot"
        r"|(?:heat|warm|warms) (?:up )?(?:the |a |some |your |more |\d+ \w+ |splash of )*(?:\w+ )?"
        r"(?:oven|oil|griddle|skillet|pan|pot|cooker|fryer|plate|wok|iron|fat)\b"
        r"|(?:pan|oven|griddle|skillet|oil|pot|plate|wok|iron|cooker) (?:heats?|gets? hot|warms? up|is hot)"
        r"|turn (?:on )?the oven (?:on|to)|set the oven",
    ),
    (
        "bake",
        r"\bbak(?:e|es|ed)\b|\bbaking\b(?! (?:paper|tray|sheet|powder|soda|dish|tin|parchment|stone))|air[- ]?fry(?!er)"
        r"|\broast\b|\broasting\b(?! (?:tin|pan|tray|bag))|in(?:to)? (?:the|a) (?:\w+ )?oven|in the air fryer"
        r"|(?:lower|reduce) the oven",
    ),
    (
        "brown",
        r"\bbrown (?:the|them|it|in|on|for|all|each|both|well|over|until|off|gently|half)|^brown\b|browning"
        r"|\b(?:stir-|deep-|shallow-|pan-)?fry\b|\bfrying\b(?! pan)|saut[eé]|soften(?:s|ing)?\b|\bsear\b"
        r"|\bsweat\b|\btoast\b(?! rack)"
        r"|carameli[sz]e|melt (?:the|half|some|a)|\bgrill\b|\bbroil\b|\bchar\b|^crisp\b|\bcrisp (?:the|up|in)|sizzle",
    ),
    (
        "hold",
        r"\bsimmer\b|\bpoach\b|\bsteam (?:the|for|over|under|until|it|them|gently|in|covered|\d)|^stew\b"
        r"|\bstew (?:for|gently|it|until)"
        r"|\bbrais(?:e|ing)\b|pressure[- ]cook(?!er)|\bhold\b|slow[- ]cook(?!er)|blanch|parboil|\bboil\b"
        r"|bubble away|on (?:low|high)\b"
        r"|(?:keep|leave|leaving)\b[^.;]{0,25}(?:simmer|bubbl)|let [^.;]{0,25}(?:bubble)"
        r"|(?:under|at) (?:full |high |low )?pressure"
        r"|set the (?:\w+ )?cooker|press start|\w+ setting|count\b",
    ),
    (
        "rest",
        r"\brest\b(?! of\b)|(?<!the )\bresting\b|\bstand\b|\bcool\b(?! (?:water|place))|\bsit\b|infuse"
        r"|\bsteep\b|off the (?:heat|power) (?:for|until|and (?:wait|leave))"
        r"|leave (?:it |them )?(?:\w+ )?(?:covered|undisturbed|alone|for|to one side)|set aside for"
        r"|turn off the heat|let it settle",
    ),
    (_COOK, r"\bcook\b|\bcooking\b|\bwait\b"),
)
_CUE = re.compile("|".join(f"(?P<c{place}>{pattern})" for place, (_, pattern) in enumerate(_CUES)), re.IGNORECASE)

_WORDS = {
    word: number
    for number, words in {
        **{1: "a an one", 2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight", 9: "nine", 10: "ten"},
        **{
            12: "twelve",
            15: "fifteen",
            20: "twenty",
            25: "twenty-five",
            30: "thirty",
            40: "forty",
            45: "forty-five",
            60: "sixty",
        },
    }.items()
    for word in words.split()
}
_NUMBER = r"(?:\d{1,4}(?:[.,]\d{1,2})?(?:\s+[1-3]/[2-4]|\s?[½¼¾⅓⅔])?|[1-3]/[2-4]|[½¼¾⅓⅔]|half an?|(?:" + "|".join(_WORDS) + r"))"
_UNIT = r"(?:hours?|hrs?\b|h\b|minutes?|mins?\b|min\b|m\b(?!\s*(?:l|m))|seconds?|secs?\b|s\b)"
_SPAN = re.compile(
    rf"\b(?P<first>{_NUMBER})(?:\s*(?:-|–|—|to|or)\s*(?P<high>{_NUMBER}))?[\s-]*(?P<unit>{_UNIT})(?P<half>\s+and\s+a\s+half)?"
    rf"(?:\s*(?:and\s+)?(?P<more>\d{{1,2}})\s*(?P<small>min\w*|m\b))?|\b(?P<quarters>a |three )quarters?\s+of\s+an\s+hour",
    re.IGNORECASE,
)
_SAYS_WHEN_BEFORE = re.compile(
    r"\b(?:after|every|last|final|first|within|at least every|in another|for the last|for the first|from)"
    r"\s+(?:about\s+|another\s+|the\s+)?$",
    re.IGNORECASE,
)
_SAYS_WHEN_BEHIND = re.compile(r"^\s*(?:before|ahead|earlier|into|later|from the end|to go|apart|or so before)", re.IGNORECASE)
_SIDES = re.compile(r"(?:each|per|a|both|either|every) sides?\b|on both sides|(?:each|every) way", re.IGNORECASE)
_BATCHES = re.compile(rf"\b(?P<n>\d{{1,2}}|{'|'.join(_WORDS)}) (?:\w+ )?(?:batches|trays|rounds|goes|lots)\b", re.IGNORECASE)
_GOLDEN = re.compile(
    r"golden|brown|colou?r|sides?\b|onions?\b|garlic|shallot|spices|batter|pancake|cakes?\b|crisp|fragrant"
    r"|patties|leek|soft|translucent|butter\b|\boil\b",
    re.IGNORECASE,
)
_WET = re.compile(
    r"pressure|water|stock|broth|simmer|lid|covered|\bcover\b|on (?:low|high)\b|rice|pasta|lentil|beans|soup|\d\s*kPa",
    re.IGNORECASE,
)

_DEGREES = re.compile(
    r"(?P<number>\d{2,3})(?:\s*(?:-|–|to)\s*\d{2,3})?\s*(?:°|º|degrees?|deg\.?)?\s*(?P<scale>C|F|Celsius|Fahrenheit)\b",
    re.IGNORECASE,
)
_GAS = re.compile(r"\bgas\s*(?:mark)?\s*(?P<mark>1/[24]|[¼½]|[1-9])\b", re.IGNORECASE)


def read_step(text: str) -> StepReading:
    """Return what a step's words say of its stage, its minutes and its temperature.

    Examples
    --------
    >>> read_step("Lid on; hold at high pressure for 9 minutes.")
    StepReading(stage='hold', minutes=Decimal('9'), temp_c=None)
    >>> read_step("Fry in two batches, 3 minutes on each side.").minutes
    Decimal('12')
    >>> read_step("Soak overnight."), read_step("After 10 minutes, stir.")
    (StepReading(stage='', minutes=None, temp_c=None), StepReading(stage='', minutes=None, temp_c=None))
    """
    words = _NOT.sub(" ", " ".join(text[:_LONGEST].split()))
    done: list[tuple[str, Fraction | None]] = []
    for sentence in re.split(r"(?<=[.;!?])\s+(?=\S)", words):
        done += _done(sentence)
    stage, minutes = _longest(done, words)
    return StepReading(stage, minutes, _temperature(words))


_NOT = re.compile(
    r"\b(?:do not|don[’']t|never|without|not) (?:let (?:it|them) )?(?:be )?(?:boil|brown|simmer|colour|fry|cook)\w*"
    r"|\bwithout colou?r",
    re.IGNORECASE,
)
_NAMED_BEHIND = re.compile(
    r"\s*(?:of )?(?:natural |quick |slow |pressure )*(?:release|rest(?:ing)?)\b|\s*while the pressure", re.IGNORECASE
)
_FOR = re.compile(r"\b(?:for|wait|takes?) (?:about |around |up to )?$", re.IGNORECASE)


def _done(sentence: str) -> Iterator[tuple[str, Fraction | None]]:
    """Yield what is done in a sentence, each with its minutes as often as some belong to it."""
    cues = list(_cues(sentence))
    spans = [found for found in _SPAN.finditer(sentence) if _is_length(sentence, found)]
    yield from ((stage, None) for _, stage in cues)
    for found in spans:
        before = [stage for place, stage in cues if place < found.start()]
        behind = [stage for place, stage in cues if place >= found.start()]
        if behind and (not before or _NAMED_BEHIND.match(sentence, found.end())):
            yield behind[0], _minutes(found)
        elif before:
            yield before[-1], _minutes(found)


def _cues(sentence: str) -> Iterator[tuple[int, str]]:
    """Yield the verbs of a sentence with their places, each as the stage that it is in this sentence."""
    found = [(match.start(), _CUES[int(str(match.lastgroup)[1:])][0]) for match in _CUE.finditer(sentence)]
    kinds = {stage for _, stage in found}
    for at, stage in found:
        if stage == _COOK:
            yield at, "brown" if _GOLDEN.search(sentence) and not _WET.search(sentence) else "hold"
        elif stage == "rest" and re.search(r"slow cooker", sentence, re.IGNORECASE):
            yield at, "hold"
        elif stage == "hold" and "reduce" in kinds:
            yield at, "reduce"
        elif stage == "hold" and re.search(r"\boven\b", sentence, re.IGNORECASE):
            yield at, "bake"
        elif stage == "hold" and re.search(r"\bserv(?:e|ed|ing)\b", sentence) and _DEGREES.search(sentence):
            yield at, "keep_warm"
        elif stage == "bake" and re.search(r"dry[- ]roast|roast [^.;]{0,40}(?:skillet|pan\b|pot\b)", sentence, re.IGNORECASE):
            yield at, "brown"
        else:
            yield at, stage


def _longest(done: list[tuple[str, Fraction | None]], words: str) -> tuple[str, Decimal | None]:
    """Return the stage that takes longest with its minutes; the last one where none has any."""
    real = [(stage, minutes) for stage, minutes in done if stage != _WAIT]
    timed = sorted((stage, minutes) for stage, minutes in real if minutes is not None)
    if not timed:
        return (real[-1][0] if real else "", None)
    sums = {stage: sum((minutes for _, minutes in group), Fraction(0)) for stage, group in groupby(timed, key=lambda one: one[0])}
    stage = max(sums, key=lambda one: sums[one])
    minutes = sums[stage] * _times(words)
    return stage, Decimal(f"{float(minutes):.2f}".rstrip("0").rstrip(".")) if 0 < minutes <= _MOST_MIN else None


def _times(words: str) -> int:
    """Return how often the minutes are spent: on both sides, in several batches."""
    batches = _BATCHES.search(words)
    count = 1 if batches is None else _WORDS.get(batches["n"].lower()) or int(batches["n"])
    return count * (2 if _SIDES.search(words) else 1)


def _is_length(sentence: str, found: re.Match[str]) -> bool:
    """Say whether a number of minutes says how long, and not when."""
    before, behind = sentence[: found.start()], sentence[found.end() :]
    return not _SAYS_WHEN_BEFORE.search(before) and not (_SAYS_WHEN_BEHIND.match(behind) and not _FOR.search(before))


def _minutes(found: re.Match[str]) -> Fraction:
    if quarters := found["quarters"]:
        return Fraction(15 if quarters.lower().startswith("a") else 45)
    unit = found["unit"].lower()
    size = Fraction(60) if unit.startswith("h") else Fraction(1, 60) if unit.startswith("s") else Fraction(1)
    number = _counted(found["high"] or found["first"]) + (Fraction(1, 2) if found["half"] else 0)
    return number * size + int(found["more"] or 0)


_PARTS = {"½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3)}


def _counted(words: str) -> Fraction:
    words = words.lower().strip()
    if words.startswith("half"):
        return Fraction(1, 2)
    if words in _WORDS:
        return Fraction(_WORDS[words])
    pieces = re.findall(r"\d+/\d+|\d+(?:[.,]\d+)?|[½¼¾⅓⅔]", words)
    return sum((_PARTS.get(piece) or Fraction(piece.replace(",", ".")) for piece in pieces), Fraction(0))


def _temperature(words: str) -> Decimal | None:
    """Return how hot: the first °C, else the first °F, else a gas mark. [°C]"""
    told = [(found["scale"][0].upper(), int(found["number"])) for found in _DEGREES.finditer(words)]
    celsius = next((number for scale, number in told if scale == "C"), None)
    if celsius is not None:
        return Decimal(celsius)
    if told:
        return Decimal(round((told[0][1] - 32) / 1.8))
    gas = _GAS.search(words)
    return Decimal(_GAS_C[gas["mark"]]) if gas else None
