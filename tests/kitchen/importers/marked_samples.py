"""Pages that mark their recipe in their elements, and pages that mark nothing."""

from __future__ import annotations

from dataclasses import replace

from tests.kitchen.importers.sampling import BREAD, CAKE, SOUP, STEW, Sample, Wanted, escaped

PAGE = (
    "<!doctype html><html><head><meta charset=utf-8><title>{title} | The mill</title></head>"
    '<body class="page">{body}</body></html>'
)


def page(wanted: Wanted, body: str) -> str:
    return PAGE.format(title=escaped(wanted.title), body=body)


def items(texts: tuple[str, ...], attributes: str = "", tag: str = "li", close: bool = True) -> str:
    return "".join(f"<{tag} {attributes}>{escaped(text)}" + (f"</{tag}>" if close else "") for text in texts)


def microdata(w: Wanted, *, steps: str, lines: str = "", kind: str = "http://schema.org/Recipe", extra: str = "") -> str:
    lines = lines or f"<ul>{items(w.lines, 'itemprop=recipeIngredient', close=False)}</ul>"
    return page(
        w,
        f"""<div itemscope itemtype="{kind}"><h1 itemprop="name">{escaped(w.title)}</h1><img itemprop=image src=a.jpg><br>
<span itemprop="author" itemscope itemtype="http://schema.org/Person">by <b itemprop="name">Ada</b></span>
<p>Prep <time itemprop="prepTime" datetime="PT{w.prep}M">{w.prep} minutes</time>
<meta itemprop="cookTime" content="PT{w.cook}M"><p>Serves <span itemprop="recipeYield">{w.number}</span>
{lines}{steps}{extra}
<div itemprop="aggregateRating" itemscope itemtype="http://schema.org/AggregateRating"><i itemprop="name">not the title</i>
</div></div>""",
    )


def _ordered(w: Wanted, attributes: str) -> str:
    return f"<ol>{items(w.steps, attributes)}</ol>"


MARKED = [
    Sample("microdata", microdata(STEW, steps=_ordered(STEW, "itemprop=recipeInstructions")), STEW),
    Sample(
        "microdata, old name",
        microdata(CAKE, steps=_ordered(CAKE, "itemprop='recipeInstructions'")).replace("recipeIngredient", "ingredients"),
        CAKE,
    ),
    Sample(
        "microdata, steps in one box",
        microdata(SOUP, steps=f"<div itemprop=recipeInstructions>{items(SOUP.steps, tag='p', close=False)}</div>"),
        SOUP,
    ),
    Sample(
        "microdata, list in one box", microdata(BREAD, steps=f"<ol itemprop=recipeInstructions>{items(BREAD.steps)}</ol>"), BREAD
    ),
    Sample(
        "microdata, breaks in one box", microdata(STEW, steps=f"<p itemprop=recipeInstructions>{'<br>'.join(STEW.steps)}"), STEW
    ),
    Sample(
        "microdata, nested steps",
        microdata(
            CAKE,
            steps="".join(
                "<div itemprop=recipeInstructions itemscope itemtype=http://schema.org/HowToStep>"
                "<meta itemprop=position content=1>"
                f"<p itemprop=text>{text}</p></div>"
                for text in CAKE.steps
            ),
        ),
        CAKE,
    ),
    Sample(
        "microdata, secure type",
        microdata(SOUP, steps=_ordered(SOUP, "itemprop=recipeInstructions"), kind="https://schema.org/Recipe"),
        SOUP,
    ),
    Sample(
        "microdata, pieces of a line in boxes",
        microdata(
            BREAD,
            steps=_ordered(BREAD, "itemprop=recipeInstructions"),
            lines="".join(
                f"<li itemprop=recipeIngredient><div>{line.split(' ', 1)[0]}</div> <div>{line.split(' ', 1)[1]}</div></li>"
                for line in BREAD.lines
            ),
        ),
        BREAD,
    ),
    Sample(
        "microdata, itemref",
        page(STEW, f"<ul id=list>{items(STEW.lines, 'itemprop=recipeIngredient')}</ul>")
        + microdata(STEW, steps=_ordered(STEW, "itemprop=recipeInstructions"), lines=" ").replace(
            'itemscope itemtype="http://schema.org/Recipe"', 'itemscope itemref=list itemtype="http://schema.org/Recipe"'
        ),
        STEW,
    ),
    Sample(
        "microdata, stray end tags",
        microdata(STEW, steps=_ordered(STEW, "itemprop=recipeInstructions")).replace("<ul>", "</b></span></font><ul>"),
        STEW,
    ),
]


def rdfa(w: Wanted, prefix: str = "", kind: str = "Recipe") -> str:
    return page(
        w,
        f"""<article vocab="https://schema.org/" typeof="{kind}"><h2 property="{prefix}name">{escaped(w.title)}</h2>
<span property="{prefix}recipeYield" content="{w.number} servings">enough</span>
<time property="{prefix}prepTime" datetime="PT{w.prep}M">short</time><meta property="{prefix}cookTime" content="PT{w.cook}M">
<ul>{items(w.lines, f'property="{prefix}recipeIngredient"')}</ul>
<ol>{items(w.steps, f'property="{prefix}recipeInstructions"')}</ol></article>""",
    )


def microformat(w: Wanted, names: tuple[str, str, str, str, str]) -> str:
    root, name, line, steps, makes = names
    return page(
        w,
        f"""<div class="box {root}"><h2 class="{name}">{escaped(w.title)}</h2><span class="{makes}">{w.number} servings</span>
<ul>{items(w.lines, f'class="{line}"')}</ul><ol class="{steps}">{items(w.steps)}</ol></div>""",
    )


def timeless(w: Wanted) -> Wanted:
    return replace(w, prep=None, cook=None, total=None)


OTHER_MARKS = [
    Sample("RDFa", rdfa(STEW), STEW),
    Sample("RDFa, prefixed", rdfa(CAKE, "schema:", "schema:Recipe"), CAKE),
    Sample("RDFa, whole type", rdfa(SOUP, kind="http://schema.org/Recipe"), SOUP),
    Sample("h-recipe", microformat(STEW, ("h-recipe", "p-name", "p-ingredient", "e-instructions", "p-yield")), timeless(STEW)),
    Sample("hRecipe", microformat(SOUP, ("hrecipe", "fn", "ingredient", "instructions", "yield")), timeless(SOUP)),
]


def plain_page(
    w: Wanted, ingredients: str = "Ingredients", method: str = "Method", *, heading: str = "h2", before: str = "", after: str = ""
) -> str:
    return page(
        w,
        f"""<header><a href=/>Home</a></header><main><h1>{escaped(w.title)}</h1><p>A dish from our own stove.</p>{before}
<{heading}>{ingredients}</{heading}><ul>{items(w.lines, close=False)}</ul><{heading}>{method}</{heading}><ol>{items(w.steps)}</ol>
<h2>Notes</h2><p>It keeps for two days.</p>{after}</main><footer><ul><li>About<li>Imprint</ul></footer>""",
    )


FACTS = "<p>Serves {0.number} | Prep time: {0.prep} mins | Cook time: {0.cook} minutes</p>"
APART = (
    "<dl><dt>Prep Time</dt><dd>{0.prep} min</dd><dt>Cook Time</dt><dd>{0.cook} min</dd><dt>Servings</dt><dd>{0.number}</dd></dl>"
)
_BOXES = "".join(
    f'<div class="recipe-{name}"><ul>{items(texts)}</ul></div>'
    for name, texts in (("ingredients", STEW.lines), ("directions", STEW.steps))
)
UNMARKED = [
    Sample("headings and lists", plain_page(STEW, before=FACTS.format(STEW)), STEW),
    Sample("headings in other words", plain_page(CAKE, "You will need:", "How to make it", before=FACTS.format(CAKE)), CAKE),
    Sample(
        "headings that are bold paragraphs",
        plain_page(SOUP, "<strong>Ingredients:</strong>", "<b>Directions</b>", heading="p", before=FACTS.format(SOUP)),
        SOUP,
    ),
    Sample("labels apart from their values", plain_page(BREAD, before=APART.format(BREAD)), BREAD),
    Sample(
        "comments after the method",
        plain_page(STEW, before=FACTS.format(STEW), after="<h3>3 comments</h3><p>I used 2 cups of rice.</p>"),
        STEW,
    ),
    Sample(
        "paragraphs instead of lists",
        plain_page(CAKE, before=FACTS.format(CAKE)).replace("<li", "<p").replace("</li", "</p"),
        CAKE,
    ),
    Sample("boxes named for what they hold", page(STEW, f"<h1>{escaped(STEW.title)}</h1>{FACTS.format(STEW)}{_BOXES}"), STEW),
    Sample(
        "a time that is a step",
        plain_page(replace(SOUP, steps=("Mix it", "Bake 20 minutes.")), before=FACTS.format(SOUP)),
        replace(SOUP, steps=("Mix it", "Bake 20 minutes.")),
    ),
    Sample("no facts at all", plain_page(SOUP), replace(timeless(SOUP), number=None)),
]
SAMPLES = [*MARKED, *OTHER_MARKS, *UNMARKED]
