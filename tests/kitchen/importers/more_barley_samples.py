"""Barley with leeks once more: a second sitting of pages that were written before they were read."""

from __future__ import annotations

from dataclasses import replace

from tests.kitchen.importers.barley_samples import BARLEY
from tests.kitchen.importers.sampling import Sample

SAMPLES = [
    Sample(
        "json + related recipes lists on page",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        'header><script type="application/ld+json">{"@context": "https://schema.org", "@type": "Recipe", "nam'
        'e": "Barley with leeks", "recipeIngredient": ["225 g pearl barley", "3 leeks", "1 tbsp rapeseed oil"'
        ', "700 ml stock", "salt"], "recipeInstructions": ["Slice the leeks and sweat them in the oil.", "Sti'
        'r in the barley and toast it for two minutes.", "Pour in the stock and simmer for 35 minutes."]}</sc'
        "ript><h1>Barley with leeks</h1><h2>Ingredients</h2><ul><li >225 g pearl barley</li><li >3 leeks</li>"
        "<li >1 tbsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul><h2>Method</h2><ol><li >Slice "
        "the leeks and sweat them in the oil.</li><li >Stir in the barley and toast it for two minutes.</li><"
        "li >Pour in the stock and simmer for 35 minutes.</li></ol><h2>More recipes</h2><ul><li>2 soups<li>3 "
        "stews<li>5 breads<li>9 cakes<li>4 pies<li>6 salads<li>7 jams<li>8 teas</ul><footer>1911</footer></bo"
        "dy></html>",
        BARLEY,
    ),
    Sample(
        "json + page shows other unit system too",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        'header><script type="application/ld+json">{"@context": "https://schema.org", "@type": "Recipe", "nam'
        'e": "Barley with leeks", "recipeIngredient": ["225 g pearl barley", "3 leeks", "1 tbsp rapeseed oil"'
        ', "700 ml stock", "salt"], "recipeInstructions": ["Slice the leeks and sweat them in the oil.", "Sti'
        'r in the barley and toast it for two minutes.", "Pour in the stock and simmer for 35 minutes."]}</sc'
        "ript><h1>Barley with leeks</h1><h2>Ingredients</h2><h3>Metric</h3><ul><li >225 g pearl barley</li><l"
        "i >3 leeks</li><li >1 tbsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul><h3>US</h3><ul>"
        "<li >1 cup pearl barley</li><li >3 leeks</li><li >1 tbsp rapeseed oil</li><li >3 cups stock</li><li "
        ">salt</li></ul><h2>Method</h2><ol><li >Slice the leeks and sweat them in the oil.</li><li >Stir in t"
        "he barley and toast it for two minutes.</li><li >Pour in the stock and simmer for 35 minutes.</li></"
        "ol><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "json names and page amounts",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        'header><script type="application/ld+json">{"@context": "https://schema.org", "@type": "Recipe", "nam'
        'e": "Barley with leeks", "recipeIngredient": ["pearl barley", "leeks", "rapeseed oil", "stock", "sal'
        't"], "recipeInstructions": ["Slice the leeks and sweat them in the oil.", "Stir in the barley and to'
        'ast it for two minutes.", "Pour in the stock and simmer for 35 minutes."]}</script><h1>Barley with l'
        "eeks</h1><h2>Ingredients</h2><ul><li >225 g pearl barley</li><li >3 leeks</li><li >1 tbsp rapeseed o"
        "il</li><li >700 ml stock</li><li >salt</li></ul><h2>Method</h2><ol><li >Slice the leeks and sweat th"
        "em in the oil.</li><li >Stir in the barley and toast it for two minutes.</li><li >Pour in the stock "
        "and simmer for 35 minutes.</li></ol><footer>1911</footer></body></html>",
        replace(BARLEY, lines=("pearl barley", "leeks", "rapeseed oil", "stock", "salt")),
        others=("Barley with leeks",),
    ),
    Sample(
        "json steps one string, page paragraphs",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        'header><script type="application/ld+json">{"@context": "https://schema.org", "@type": "Recipe", "nam'
        'e": "Barley with leeks", "recipeIngredient": ["225 g pearl barley", "3 leeks", "1 tbsp rapeseed oil"'
        ', "700 ml stock", "salt"], "recipeInstructions": "Slice the leeks and sweat them in the oil. Stir in'
        ' the barley and toast it for two minutes. Pour in the stock and simmer for 35 minutes."}</script><h1'
        ">Barley with leeks</h1><h2>Ingredients</h2><ul><li >225 g pearl barley</li><li >3 leeks</li><li >1 t"
        "bsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul><h2>Method</h2><ol><li >Slice the leek"
        "s and sweat them in the oil.</li><li >Stir in the barley and toast it for two minutes.</li><li >Pour"
        " in the stock and simmer for 35 minutes.</li></ol><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "json fine, page without lists",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        'header><script type="application/ld+json">{"@context": "https://schema.org", "@type": "Recipe", "nam'
        'e": "Barley with leeks", "recipeIngredient": ["225 g pearl barley", "3 leeks", "1 tbsp rapeseed oil"'
        ', "700 ml stock", "salt"], "recipeInstructions": ["Slice the leeks and sweat them in the oil.", "Sti'
        'r in the barley and toast it for two minutes.", "Pour in the stock and simmer for 35 minutes."]}</sc'
        "ript><h1>Barley with leeks</h1><p>Story 2 cups long.</p><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "json sections",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        'header><script type="application/ld+json">{"@context": "https://schema.org", "@type": "Recipe", "nam'
        'e": "Barley with leeks", "recipeIngredient": ["225 g pearl barley", "3 leeks", "1 tbsp rapeseed oil"'
        ', "700 ml stock", "salt"], "recipeInstructions": [{"@type": "HowToSection", "name": "Prep", "itemLis'
        'tElement": [{"@type": "HowToStep", "text": "Slice the leeks and sweat them in the oil."}]}, {"@type"'
        ': "HowToSection", "name": "Cook", "itemListElement": [{"@type": "HowToStep", "text": "Stir in the ba'
        'rley and toast it for two minutes."}, {"@type": "HowToStep", "text": "Pour in the stock and simmer f'
        'or 35 minutes.", "itemListElement": [{"@type": "HowToTip", "text": "Wide pan."}]}]}]}</script><h1>Ba'
        "rley with leeks</h1><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "json step names",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        'header><script type="application/ld+json">{"@context": "https://schema.org", "@type": "Recipe", "nam'
        'e": "Barley with leeks", "recipeIngredient": ["225 g pearl barley", "3 leeks", "1 tbsp rapeseed oil"'
        ', "700 ml stock", "salt"], "recipeInstructions": [{"@type": "HowToStep", "name": "Step 1", "text": "'
        'Slice the leeks and sweat them in the oil."}, {"@type": "HowToStep", "name": "Stir in the barley and'
        ' toast it for two minutes.", "text": "Stir in the barley and toast it for two minutes."}, {"@type": '
        '"HowToStep", "text": "3. Pour in the stock and simmer for 35 minutes."}]}</script><h1>Barley with le'
        "eks</h1><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "long story with notes before",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><p>I love 2 leeks.</p><div class='jump'><a>Jump to recipe</a></div>"
        "<h2>Tips</h2><ul><li>Wash 3 leeks well</ul><h2>Ingredients</h2><p>For 4 people</p><ul><li >225 g pea"
        "rl barley</li><li >3 leeks</li><li >1 tbsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul"
        "><h2>Method</h2><ol><li >Slice the leeks and sweat them in the oil.</li><li >Stir in the barley and "
        "toast it for two minutes.</li><li >Pour in the stock and simmer for 35 minutes.</li></ol><footer>191"
        "1</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "list of p in div with li none, spans per line",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><section><h3>Ingredients</h3><div><div><span>225 g pearl barley</sp"
        "an></div><div><span>3 leeks</span></div><div><span>1 tbsp rapeseed oil</span></div><div><span>700 ml"
        " stock</span></div><div><span>salt</span></div></div></section><section><h3>Instructions</h3><div><d"
        "iv >Slice the leeks and sweat them in the oil.</div><div >Stir in the barley and toast it for two mi"
        "nutes.</div><div >Pour in the stock and simmer for 35 minutes.</div></div></section><footer>1911</fo"
        "oter></body></html>",
        BARLEY,
    ),
    Sample(
        "print buttons in steps",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><h2>Ingredients</h2><ul><li >225 g pearl barley</li><li >3 leeks</l"
        "i><li >1 tbsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul><h2>Method</h2><ol><li >Slic"
        "e the leeks and sweat them in the oil. <button>Timer</button></li><li >Stir in the barley and toast "
        "it for two minutes. <button>Timer</button></li><li >Pour in the stock and simmer for 35 minutes. <bu"
        "tton>Timer</button></li></ol><p>Print</p><p>Did you make this?</p><footer>1911</footer></body></html"
        ">",
        BARLEY,
    ),
    Sample(
        "method in one p with numbers",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><h2>Ingredients</h2><ul><li >225 g pearl barley</li><li >3 leeks</l"
        "i><li >1 tbsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul><h2>Method</h2><p>1. Slice t"
        "he leeks and sweat them in the oil. 2. Stir in the barley and toast it for two minutes. 3. Pour in t"
        "he stock and simmer for 35 minutes.</p><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "steps as tr with images",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><h2>Ingredients</h2><ul><li >225 g pearl barley</li><li >3 leeks</l"
        "i><li >1 tbsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul><h2>Directions</h2><table><t"
        "r><td><img></td><td>Slice the leeks and sweat them in the oil.</td></tr><tr><td><img></td><td>Stir i"
        "n the barley and toast it for two minutes.</td></tr><tr><td><img></td><td>Pour in the stock and simm"
        "er for 35 minutes.</td></tr></table><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "h3 step headings",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><h2>Ingredients</h2><ul><li >225 g pearl barley</li><li >3 leeks</l"
        "i><li >1 tbsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul><h2>Method</h2><h3>Step 1</h"
        "3><p>Slice the leeks and sweat them in the oil.</p><h3>Step 2</h3><p>Stir in the barley and toast it"
        " for two minutes.</p><h3>Step 3</h3><p>Pour in the stock and simmer for 35 minutes.</p><footer>1911<"
        "/footer></body></html>",
        BARLEY,
    ),
    Sample(
        "two part lists h4",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><h2>Ingredients</h2><h4>For the pot</h4><ul><li >225 g pearl barley"
        "</li><li >3 leeks</li></ul><h4>To finish</h4><ul><li >1 tbsp rapeseed oil</li><li >700 ml stock</li>"
        "<li >salt</li></ul><h2>Method</h2><ol><li >Slice the leeks and sweat them in the oil.</li><li >Stir "
        "in the barley and toast it for two minutes.</li><li >Pour in the stock and simmer for 35 minutes.</l"
        "i></ol><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "comment form after",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><h2>Ingredients</h2><ul><li >225 g pearl barley</li><li >3 leeks</l"
        "i><li >1 tbsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul><h2>Method</h2><ol><li >Slic"
        "e the leeks and sweat them in the oil.</li><li >Stir in the barley and toast it for two minutes.</li"
        "><li >Pour in the stock and simmer for 35 minutes.</li></ol><div id='respond'><h3>Leave a reply</h3>"
        "<form><p>Your name</p></form></div><ul class=commentlist><li>Great! 5 stars</li></ul><footer>1911</f"
        "ooter></body></html>",
        BARLEY,
    ),
    Sample(
        "author box in article",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><p class=byline>By Bo</p><h2>Ingredients</h2><ul><li >225 g pearl b"
        "arley</li><li >3 leeks</li><li >1 tbsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul><h2"
        ">Method</h2><ol><li >Slice the leeks and sweat them in the oil.</li><li >Stir in the barley and toas"
        "t it for two minutes.</li><li >Pour in the stock and simmer for 35 minutes.</li></ol><div class='aut"
        "hor-box'><h3>About the author</h3><p>Bo cooks 3 times a day.</p></div><footer>1911</footer></body></"
        "html>",
        BARLEY,
    ),
    Sample(
        "ingredient links and amounts after",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><h2>Ingredients</h2><ul><li><a href=/x>pearl barley</a> <span>225 g"
        "</span></li><li><a href=/x>leeks</a> <span>3 </span></li><li><a href=/x>rapeseed oil</a> <span>1 tbs"
        "p</span></li><li><a href=/x>stock</a> <span>700 ml</span></li><li><a href=/x>salt</a> <span> </span>"
        "</li></ul><h2>Method</h2><ol><li >Slice the leeks and sweat them in the oil.</li><li >Stir in the ba"
        "rley and toast it for two minutes.</li><li >Pour in the stock and simmer for 35 minutes.</li></ol><f"
        "ooter>1911</footer></body></html>",
        replace(BARLEY, lines=("pearl barley 225 g", "leeks 3", "rapeseed oil 1 tbsp", "stock 700 ml", "salt")),
    ),
    Sample(
        "hcard microformat",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><div class=hrecipe><h1 class=fn>Barley with leeks</h1><ul><li class=ingredient><span class=am"
        "ount>225 g</span> <span class=name>pearl barley</span></li><li class=ingredient><span class=amount>3"
        "</span> <span class=name>leeks</span></li><li class=ingredient><span class=amount>1 tbsp</span> <spa"
        "n class=name>rapeseed oil</span></li><li class=ingredient><span class=amount>700 ml</span> <span cla"
        "ss=name>stock</span></li><li class=ingredient><span class=amount></span> <span class=name>salt</span"
        "></li></ul><div class=instructions><ol><li >Slice the leeks and sweat them in the oil.</li><li >Stir"
        " in the barley and toast it for two minutes.</li><li >Pour in the stock and simmer for 35 minutes.</"
        "li></ol></div></div><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "micro w/ ad div in steps",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        'header><div itemscope itemtype="http://schema.org/Recipe"><h1 itemprop="name">Barley with leeks</h1>'
        "<ul><li itemprop=recipeIngredient>225 g pearl barley</li><li itemprop=recipeIngredient>3 leeks</li><"
        "li itemprop=recipeIngredient>1 tbsp rapeseed oil</li><li itemprop=recipeIngredient>700 ml stock</li>"
        "<li itemprop=recipeIngredient>salt</li></ul><div itemprop=recipeInstructions><p>Slice the leeks and "
        "sweat them in the oil.</p><div class='ad advert'>Buy now</div><p>Stir in the barley and toast it for"
        " two minutes.</p><p>Pour in the stock and simmer for 35 minutes.</p></div></div><footer>1911</footer"
        "></body></html>",
        BARLEY,
    ),
    Sample(
        "micro text directly, newline separated in pre-wrap",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        'header><div itemscope itemtype="http://schema.org/Recipe"><h1 itemprop="name">Barley with leeks</h1>'
        "<ul><li itemprop=ingredients>225 g pearl barley</li><li itemprop=ingredients>3 leeks</li><li itempro"
        "p=ingredients>1 tbsp rapeseed oil</li><li itemprop=ingredients>700 ml stock</li><li itemprop=ingredi"
        "ents>salt</li></ul><div itemprop=recipeInstructions>Slice the leeks and sweat them in the oil.<br />"
        "\nStir in the barley and toast it for two minutes.<br />\nPour in the stock and simmer for 35 minutes."
        "</div></div><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "micro steps li + container name",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        'header><div itemscope itemtype="http://schema.org/Recipe"><h1 itemprop="name">Barley with leeks</h1>'
        "<ul><li itemprop=recipeIngredient>225 g pearl barley</li><li itemprop=recipeIngredient>3 leeks</li><"
        "li itemprop=recipeIngredient>1 tbsp rapeseed oil</li><li itemprop=recipeIngredient>700 ml stock</li>"
        "<li itemprop=recipeIngredient>salt</li></ul><ol itemprop='recipeInstructions'><li><h4>Part 1</h4><p>"
        "Slice the leeks and sweat them in the oil.</p></li><li><h4>Part 2</h4><p>Stir in the barley and toas"
        "t it for two minutes.</p></li><li><h4>Part 3</h4><p>Pour in the stock and simmer for 35 minutes.</p>"
        "</li></ol></div><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "unordered bullets steps emoji",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><h2>🥣 Ingredients 🥣</h2><ul><li >✔ 225 g pearl barley</li><li >✔ 3 "
        "leeks</li><li >✔ 1 tbsp rapeseed oil</li><li >✔ 700 ml stock</li><li >✔ salt</li></ul><h2>👩\u200d🍳 Method"
        "</h2><ul><li >➤ Slice the leeks and sweat them in the oil.</li><li >➤ Stir in the barley and toast i"
        "t for two minutes.</li><li >➤ Pour in the stock and simmer for 35 minutes.</li></ul><footer>1911</fo"
        "oter></body></html>",
        BARLEY,
    ),
    Sample(
        "German labels",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><h2>Zutaten</h2><table><tr><td>225 g</td><td>pearl barley</td></tr>"
        "<tr><td>3</td><td>leeks</td></tr><tr><td>1 tbsp</td><td>rapeseed oil</td></tr><tr><td>700 ml</td><td"
        ">stock</td></tr><tr><td></td><td>salt</td></tr></table><h2>Zubereitung</h2><p >Slice the leeks and s"
        "weat them in the oil.</p><p >Stir in the barley and toast it for two minutes.</p><p >Pour in the sto"
        "ck and simmer for 35 minutes.</p><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "amounts in sup/sub fraction",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></"
        "header><h1>Barley with leeks</h1><h2>Ingredients</h2><ul><li >225 g pearl barley</li><li >3 leeks</l"
        "i><li >1 tbsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul><h2>Method</h2><ol><li >Slic"
        "e the leeks and sweat them in the oil.</li><li >Stir in the barley and toast it for two minutes.</li"
        "><li >Pour in the stock and simmer for 35 minutes.</li></ol><p>© 2020 Mill</p><footer>1911</footer><"
        "/body></html>",
        BARLEY,
    ),
]
