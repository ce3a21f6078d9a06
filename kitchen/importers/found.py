"""What an importer hands back: a recipe as it was read, what was not understood, and what could not be read at all."""

from __future__ import annotations

from dataclasses import dataclass, replace

SOURCES = {
    "json-ld": "the recipe data that the page carries for other programs",
    "microdata": "the marks that the page carries for other programs",
    "rdfa": "the marks that the page carries for other programs",
    "microformat": "the marks that the page carries for other programs",
    "page": "the page's own headings and lists",
    "text": "the pasted text",
}


class UnreadableRecipe(ValueError):
    """A file or a text in which no recipe was found; the message says why and what to do."""


@dataclass(frozen=True)
class ReadPart:
    """A group of ingredient lines under a heading; the first usually has none."""

    title: str = ""
    lines: tuple[str, ...] = ()


@dataclass(frozen=True)
class ReadStep:
    """One step: its text, its own short name where that says more than the text, and the section that it stands in."""

    text: str
    name: str = ""
    section: str = ""


@dataclass(frozen=True)
class ReadYield:
    """What a recipe makes: the number, and the page's words for it ("12 muffins")."""

    number: int | None = None
    words: str = ""


@dataclass(frozen=True)
class ReadTimes:
    """Minutes as the page gives them; None where it says nothing. ``summed`` says that the total was added up here."""

    prep_min: int | None = None
    cook_min: int | None = None
    total_min: int | None = None
    summed: bool = False

    def __bool__(self) -> bool:
        return any(minutes for minutes in (self.prep_min, self.cook_min, self.total_min))


@dataclass(frozen=True)
class ReadRecipe:
    """A recipe as it was read.

    ``source`` is a key of ``SOURCES``; ``guessed`` names what came from the page's headings instead of its data; ``doubts`` are
    the sentences about what was not understood; ``image_url`` is told, never fetched.
    """

    title: str = ""
    summary: str = ""
    parts: tuple[ReadPart, ...] = ()
    steps: tuple[ReadStep, ...] = ()
    makes: ReadYield = ReadYield()
    times: ReadTimes = ReadTimes()
    tags: tuple[str, ...] = ()
    author: str = ""
    home_url: str = ""
    image_url: str = ""
    published: str = ""
    source: str = "json-ld"
    guessed: tuple[str, ...] = ()
    not_understood: tuple[str, ...] = ()

    @property
    def lines(self) -> tuple[str, ...]:
        """All ingredient lines, whichever part they stand in."""
        return tuple(line for part in self.parts for line in part.lines)

    @property
    def fullness(self) -> tuple[int, int, int]:
        """How much of a recipe this is: the parts of it that are there, its lines and steps, the number of its figures."""
        figures = sum(bool(value) for value in (self.makes.number, self.times, self.summary, self.author))
        return sum(map(bool, (self.title, self.lines, self.steps))), len(self.lines) + len(self.steps), figures

    def with_gaps_from(self, other: ReadRecipe, *, guess: bool = False) -> ReadRecipe:
        """Return this recipe with what it lacks taken from another reading of the same page."""
        names = ("title", "summary", "parts", "steps", "makes", "times", "tags", "author", "home_url", "image_url", "published")
        taken = {name: getattr(other, name) for name in names if not _says(self, name) and _says(other, name)}
        guessed = tuple(name for name in taken if name in _GUESS_WORDS) if guess else ()
        return replace(self, **taken, guessed=(*self.guessed, *guessed))


_GUESS_WORDS = ("title", "parts", "steps", "makes", "times")


def _says(recipe: ReadRecipe, name: str) -> bool:
    if name == "makes":
        return recipe.makes.number is not None or bool(recipe.makes.words)
    return bool(recipe.lines if name == "parts" else getattr(recipe, name))


@dataclass(frozen=True)
class ReadPage:
    """Everything that a file or a text holds: the recipe that it is about, and others on the same page."""

    recipe: ReadRecipe
    others: tuple[ReadRecipe, ...] = ()
