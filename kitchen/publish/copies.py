"""A published recipe to be copied into a blog, a note or below a video: plain HTML with h-recipe, Markdown, plain text."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from django.template.loader import render_to_string
from django.utils.html import strip_spaces_between_tags

from kitchen.domain.films import clock
from kitchen.page import Page, PageFrame, StageBlock
from kitchen.publish.jsonld import iso_minutes, line_words
from kitchen.publish.sharing import SharedPicture, pictures_of
from kitchen.words import ENGLISH, sentence

_MARKS = re.compile(r"([\\`*_\[\]<>#|~])")
_LISTS = re.compile(r"^(\s*)([-+]|\d+[.)])(?=\s)")


@dataclass(frozen=True)
class Copies:
    """The same recipe three times."""

    html: str
    markdown: str
    text: str
    below_film: str = ""


def copies_of(page: Page, frame: PageFrame, *, photo_root: str) -> Copies:
    """Return the recipe to be copied; ``photo_root`` is the whole address of the photos."""
    html = recipe_html(page, frame, photo_root=photo_root)
    return Copies(html, recipe_markdown(page, frame), recipe_text(page, frame), film_text(page, frame))


def recipe_html(page: Page, frame: PageFrame, *, photo_root: str, heading: bool = True) -> str:
    """Return the recipe as HTML without script, style, form or address of its own site but whole ones, marked up as h-recipe."""
    return article(page, frame, photo_of(page, frame, photo_root), heading=heading)


def article(page: Page, frame: PageFrame, photo: SharedPicture | None, *, heading: bool = True) -> str:
    """Return the recipe's article with this picture, or none."""
    context = {
        "page": page,
        "frame": frame,
        "photo": photo,
        "heading": heading,
        "duration": iso_minutes(page.whole_min),
        "minutes": minutes_words(page.whole_min),
        "lines": [(part.title, [line_words(line) for line in part.lines]) for part in page.parts],
    }
    return strip_spaces_between_tags(render_to_string("kitchen/machines/copy.html", context)).strip()


def photo_of(page: Page, frame: PageFrame, photo_root: str) -> SharedPicture | None:
    """Return the recipe's photo, else the picture of its figures, else None."""
    found = pictures_of(page, frame, photo_root=photo_root)
    return found[-1] if page.recipe.photo and found else next(iter(found), None)


def recipe_markdown(page: Page, frame: PageFrame) -> str:
    """Return the recipe as CommonMark; what a cook typed stays words, whatever signs are in it."""
    told = [f"# {marked(page.recipe.title)}"]
    told += [marked(page.recipe.summary)] if page.recipe.summary else []
    told.append(marked(head_words(page)))
    told.append("## Ingredients")
    for part in page.parts:
        told += [f"### {marked(part.title)}"] if part.title else []
        told.append("\n".join(f"- {marked(line_words(line))}" for line in part.lines))
    told.append("## Method")
    for stage in page.stages:
        told += [f"### {marked(_stage_words(stage))}"] if stage.label else []
        told.append("\n".join(f"{step.number}. {marked(_step_words(step.text, step.temperature))}" for step in stage.steps))
    figures = figure_lines(page)
    told += ["## Figures", "\n".join(f"- {marked(words)}" for words in figures)] if figures else []
    told.append(f"<{frame.address}>" if frame.address else "")
    return "\n\n".join(filter(None, told)) + "\n"


def recipe_text(page: Page, frame: PageFrame) -> str:
    """Return the recipe as plain text, the stages with their minutes."""
    told = [page.recipe.title, page.recipe.summary, head_words(page)]
    lines = ["\n".join([*([part.title] if part.title else []), *map(line_words, part.lines)]) for part in page.parts]
    told += ["INGREDIENTS", *lines, "METHOD"]
    for stage in page.stages:
        steps = [f"{step.number}. {_step_words(step.text, step.temperature)}" for step in stage.steps]
        told.append("\n".join([*([_stage_words(stage)] if stage.label else []), *steps]))
    figures = figure_lines(page)
    told += ["FIGURES", "\n".join(figures)] if figures else []
    told.append(frame.address)
    return "\n\n".join(" ".join(one.split(" ")) for one in told if one) + "\n"


def film_text(page: Page, frame: PageFrame) -> str:
    """Return what stands below a film of the cook: its chapters, the figures, the ingredients; empty without a film.

    That players make chapters of lines that begin with a moment, the first at 0:00, is common practice.
    """
    if frame.film is None:
        return ""
    chapters = [f"{one.moment} {one.words}" for one in frame.film.chapters]
    if chapters and frame.film.chapters[0].from_s:
        chapters.insert(0, f"{clock(0)} {page.recipe.title}")
    lines = [line_words(line) for part in page.parts for line in part.lines]
    told = [page.recipe.title, page.recipe.summary, head_words(page), frame.home, "\n".join(chapters)]
    told += ["\n".join(figure_lines(page)), "\n".join(lines)]
    return "\n\n".join(filter(None, told)) + "\n"


def head_words(page: Page) -> str:
    """Return servings, time and who wrote it ("6 servings, 38 min, by ..."), as far as they are known."""
    servings = page.request.servings
    told = [sentence(ENGLISH, "makes_one" if servings == 1 else "makes_servings", servings=servings)]
    told += [minutes_words(page.whole_min)] if page.whole_min else []
    told += [sentence(ENGLISH, "written_by", author=page.recipe.author)] if page.recipe.author else []
    return ", ".join(told)


def figure_lines(page: Page) -> list[str]:
    """Return the large figures, each as a line of words, and how sure they are."""
    lines = [f"{one.value}{f' {one.unit}' if one.unit else ''} {one.words}" for one in page.headlines]
    return [*lines, page.badge] if page.badge else lines


def minutes_words(minutes: Decimal | None) -> str:
    """Return whole minutes as "1 h 15 min"; empty where there are none.

    Examples
    --------
    >>> minutes_words(Decimal("74.8")), minutes_words(Decimal(60)), minutes_words(None)
    ('1 h 15 min', '1 h', '')
    """
    hours, rest = divmod(round(minutes or 0), 60)
    return " ".join(filter(None, (f"{hours} h" if hours else "", f"{rest} min" if rest else "")))


def marked(words: str) -> str:
    """Return words so that Markdown takes none of their signs for its own.

    Examples
    --------
    >>> print(marked("1. *Hot* [stock]"), marked("- salt"))
    1\\. \\*Hot\\* \\[stock\\] \\- salt
    """
    plain = _MARKS.sub(r"\\\1", " ".join(words.split()))
    return _LISTS.sub(lambda found: f"{found[1]}{found[2][:-1]}\\{found[2][-1]}", plain)


def _stage_words(stage: StageBlock) -> str:
    return ", ".join(filter(None, (stage.label.capitalize(), stage.minutes)))


def _step_words(text: str, temperature: str) -> str:
    return f"{text} ({temperature})" if temperature else text
