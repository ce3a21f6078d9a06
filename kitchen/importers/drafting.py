"""A recipe that was read, as the words of a draft: what stands in the preview's fields, and the sentences beside them."""

from __future__ import annotations

from kitchen.importers.found import SOURCES, ReadRecipe, ReadStep, ReadTimes
from kitchen.importers.ingredients import heading_in

LONGEST_TITLE = 120
LONGEST_SUMMARY = 300
LONGEST_NOTE = 300
LONGEST_HEADING = 80


def draft_fields(recipe: ReadRecipe) -> dict[str, str]:
    """Return a recipe as the fields of its preview, all of them text.

    Examples
    --------
    >>> from kitchen.importers.found import ReadPart, ReadStep
    >>> recipe = ReadRecipe("Pie", parts=(ReadPart("Top", ("1 egg",)),), steps=(ReadStep("Beat.", section="Top"),))
    >>> fields = draft_fields(recipe)
    >>> fields["ingredients"], fields["method"], fields["servings"]
    ('Top:\\n1 egg', 'Top: Beat.', '')
    """
    number = recipe.makes.number
    return {
        "title": _cut(recipe.title, LONGEST_TITLE),
        "summary": _cut(recipe.summary, LONGEST_SUMMARY),
        "servings": "" if number is None else str(number),
        "tags": ", ".join(recipe.tags),
        "drawing": "pot",
        "home_url": recipe.home_url,
        "note": note_of(recipe),
        "ingredients": "\n".join(line for part in recipe.parts for line in (*_heading(part.title), *part.lines)),
        "method": "\n\n".join(step_texts(recipe.steps)),
    }


def _cut(text: str, longest: int) -> str:
    return text if len(text) <= longest else text[: longest - 1].rsplit(" ", 1)[0][: longest - 1].rstrip(" ,;.") + "…"


def _heading(title: str) -> tuple[str, ...]:
    """Return a part's heading as a line that reads as one; none for a part without."""
    if not title:
        return ()
    plain = f"{title[:LONGEST_HEADING]}:"
    return (plain if heading_in(plain) else f"# {title[:LONGEST_HEADING]}",)


def step_texts(steps: tuple[ReadStep, ...]) -> list[str]:
    """Return steps as texts: a step has no heading of its own, so a section's name stands before the first of its steps."""
    found, before = [], ""
    for step in steps:
        text = f"{step.name}: {step.text}" if step.name else step.text
        found.append(f"{step.section}: {text}" if step.section and step.section != before else text)
        before = step.section
    return found


def note_of(recipe: ReadRecipe) -> str:
    """Return the revision's note: where it came from and what the page said about times, as a draft has no field for either.

    Examples
    --------
    >>> note_of(ReadRecipe(author="Ada", times=ReadTimes(20, 40, 60, summed=True)))
    'Imported; by Ada; the page said 20 min preparation, 40 min cooking.'
    """
    where = f"Imported from {recipe.home_url}" if recipe.home_url else "Imported"
    author = f"by {_cut(recipe.author, 60)}" if recipe.author else ""
    times = times_words(recipe.times)
    note = "; ".join(piece for piece in (where, author, f"the page said {times}" if times else "") if piece) + "."
    return note if len(note) <= LONGEST_NOTE else _cut(note.replace(f" from {recipe.home_url}", ""), LONGEST_NOTE)


def times_words(times: ReadTimes) -> str:
    """Return times in words; a total that was only added up here is not the page's."""
    said = ((times.prep_min, "preparation"), (times.cook_min, "cooking"), (None if times.summed else times.total_min, "in all"))
    return ", ".join(f"{minutes:,} min {words}" for minutes, words in said if minutes)


def facts_of(recipe: ReadRecipe) -> list[tuple[str, str]]:
    """Return what else was read, as pairs of a label and words: none of it has a field in a draft."""
    times = times_words(recipe.times)
    if recipe.times.summed and recipe.times.prep_min and recipe.times.cook_min:
        times += f", {recipe.times.total_min:,} min together"
    found = (
        ("Read from", SOURCES[recipe.source]),
        ("It makes", recipe.makes.words),
        ("Times", times),
        ("By", recipe.author),
        ("Published", recipe.published),
        ("Its picture (not fetched)", recipe.image_url),
    )
    return [(label, words) for label, words in found if words]


def doubts_of(recipe: ReadRecipe) -> list[str]:
    """Return the sentences about what was not understood, and about what was cut to fit."""
    held = (("title", recipe.title, LONGEST_TITLE), ("description", recipe.summary, LONGEST_SUMMARY))
    cut = ((what, len(text), longest) for what, text, longest in held if len(text) > longest)
    said = [f"The {what} has {length:,} letters; {longest} fit, and the rest was cut." for what, length, longest in cut]
    return [*recipe.not_understood, *said]
