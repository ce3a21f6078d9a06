"""Barley with leeks as many pages write it: written before they were read, to see what reading had not been made for."""

from __future__ import annotations

from dataclasses import replace

from tests.kitchen.importers.sampling import Sample, Wanted

BARLEY = Wanted(
    "Barley with leeks",
    ("225 g pearl barley", "3 leeks", "1 tbsp rapeseed oil", "700 ml stock", "salt"),
    (
        "Slice the leeks and sweat them in the oil.",
        "Stir in the barley and toast it for two minutes.",
        "Pour in the stock and simmer for 35 minutes.",
    ),
)
UNSALTED = Wanted(BARLEY.title, BARLEY.lines[:4], BARLEY.steps)
GLUED = Wanted(BARLEY.title, ("225g pearl barley", "3 leeks", "1tbsp rapeseed oil", "700ml stock", "salt"), BARLEY.steps)
SAMPLES = [
    Sample(
        "micro spans with classes",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        'er><div itemscope itemtype="http://schema.org/Recipe"><h1 itemprop="name">Barley with leeks</h1><ul><li '
        'itemprop="recipeIngredient"><span class="q">225</span><span class="u">g</span><span class="n"> pearl bar'
        'ley</span></li><li itemprop="recipeIngredient"><span class="q">3</span><span class="u"></span><span clas'
        's="n"> leeks</span></li><li itemprop="recipeIngredient"><span class="q">1</span><span class="u">tbsp</sp'
        'an><span class="n"> rapeseed oil</span></li><li itemprop="recipeIngredient"><span class="q">700</span><s'
        'pan class="u">ml</span><span class="n"> stock</span></li><li itemprop="recipeIngredient"><span class="q"'
        '></span><span class="u"></span><span class="n"> salt</span></li></ul><div itemprop=recipeInstructions><p'
        " >Slice the leeks and sweat them in the oil.</p><p >Stir in the barley and toast it for two minutes.</p>"
        "<p >Pour in the stock and simmer for 35 minutes.</p></div></div><footer>1911</footer></body></html>",
        GLUED,
    ),
    Sample(
        "micro old ingredient table",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        'er><div itemscope itemtype="http://schema.org/Recipe"><h1 itemprop="name">Barley with leeks</h1><table><'
        'tr><th>Qty</th><th>Food</th></tr><tr itemprop="ingredients"><td>225 g</td><td>pearl barley</td></tr><tr '
        'itemprop="ingredients"><td>3 </td><td>leeks</td></tr><tr itemprop="ingredients"><td>1 tbsp</td><td>rapes'
        'eed oil</td></tr><tr itemprop="ingredients"><td>700 ml</td><td>stock</td></tr><tr itemprop="ingredients"'
        "><td> </td><td>salt</td></tr></table><ol itemprop=recipeInstructions><li >Slice the leeks and sweat them"
        " in the oil.</li><li >Stir in the barley and toast it for two minutes.</li><li >Pour in the stock and si"
        "mmer for 35 minutes.</li></ol></div><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "micro meta + content",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        'er><div itemscope itemtype="http://schema.org/Recipe"><h1 itemprop="name">Barley with leeks</h1><meta it'
        'emprop=recipeIngredient content="225 g pearl barley"><meta itemprop=recipeIngredient content="3 leeks"><'
        'meta itemprop=recipeIngredient content="1 tbsp rapeseed oil"><meta itemprop=recipeIngredient content="70'
        '0 ml stock"><meta itemprop=recipeIngredient content="salt"><div itemprop=recipeInstructions itemscope it'
        'emtype="http://schema.org/HowToStep"><meta itemprop=position content=1><span itemprop=text>Slice the lee'
        'ks and sweat them in the oil.</span></div><div itemprop=recipeInstructions itemscope itemtype="http://sc'
        'hema.org/HowToStep"><meta itemprop=position content=2><span itemprop=text>Stir in the barley and toast i'
        't for two minutes.</span></div><div itemprop=recipeInstructions itemscope itemtype="http://schema.org/Ho'
        'wToStep"><meta itemprop=position content=3><span itemprop=text>Pour in the stock and simmer for 35 minut'
        "es.</span></div></div><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "micro section nested",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        'er><div itemscope itemtype="http://schema.org/Recipe"><h1 itemprop="name">Barley with leeks</h1><ul><li '
        "itemprop=recipeIngredient>225 g pearl barley</li><li itemprop=recipeIngredient>3 leeks</li><li itemprop="
        "recipeIngredient>1 tbsp rapeseed oil</li><li itemprop=recipeIngredient>700 ml stock</li><li itemprop=rec"
        'ipeIngredient>salt</li></ul><div itemprop="recipeInstructions" itemscope itemtype="http://schema.org/How'
        'ToSection"><h3 itemprop=name>Method</h3><div itemprop=itemListElement itemscope itemtype="http://schema.'
        'org/HowToStep"><p itemprop=text>Slice the leeks and sweat them in the oil.</p></div><div itemprop=itemLi'
        'stElement itemscope itemtype="http://schema.org/HowToStep"><p itemprop=text>Stir in the barley and toast'
        ' it for two minutes.</p></div><div itemprop=itemListElement itemscope itemtype="http://schema.org/HowToS'
        'tep"><p itemprop=text>Pour in the stock and simmer for 35 minutes.</p></div></div></div><footer>1911</fo'
        "oter></body></html>",
        BARLEY,
    ),
    Sample(
        "micro one p w br ingredients heading inside",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        'er><div itemscope itemtype="http://schema.org/Recipe"><h1 itemprop="name">Barley with leeks</h1><div ite'
        "mprop=ingredients><strong>Ingredients:</strong><br>225 g pearl barley<br>3 leeks<br>1 tbsp rapeseed oil<"
        "br>700 ml stock<br>salt</div><div itemprop=recipeInstructions><strong>Directions</strong><br>1. Slice th"
        "e leeks and sweat them in the oil.<br><br>2. Stir in the barley and toast it for two minutes.<br><br>3. "
        "Pour in the stock and simmer for 35 minutes.<br><br><em>Photo by Bo Lund</em></div></div><footer>1911</f"
        "ooter></body></html>",
        BARLEY,
    ),
    Sample(
        "micro step label spans",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        'er><div itemscope itemtype="http://schema.org/Recipe"><h1 itemprop="name">Barley with leeks</h1><ul><li '
        "itemprop=recipeIngredient>225 g pearl barley</li><li itemprop=recipeIngredient>3 leeks</li><li itemprop="
        "recipeIngredient>1 tbsp rapeseed oil</li><li itemprop=recipeIngredient>700 ml stock</li><li itemprop=rec"
        "ipeIngredient>salt</li></ul><div itemprop=recipeInstructions><strong>Step 1</strong><p>Slice the leeks a"
        "nd sweat them in the oil.</p></div><div itemprop=recipeInstructions><strong>Step 2</strong><p>Stir in th"
        "e barley and toast it for two minutes.</p></div><div itemprop=recipeInstructions><strong>Step 3</strong>"
        "<p>Pour in the stock and simmer for 35 minutes.</p></div></div><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "micro checkbox labels",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        'er><div itemscope itemtype="http://schema.org/Recipe"><h1 itemprop="name">Barley with leeks</h1><ul><li '
        "itemprop=recipeIngredient><input type=checkbox id=i0><label for=i0>225 g pearl barley</label></li><li it"
        "emprop=recipeIngredient><input type=checkbox id=i1><label for=i1>3 leeks</label></li><li itemprop=recipe"
        "Ingredient><input type=checkbox id=i2><label for=i2>1 tbsp rapeseed oil</label></li><li itemprop=recipeI"
        "ngredient><input type=checkbox id=i3><label for=i3>700 ml stock</label></li><li itemprop=recipeIngredien"
        "t><input type=checkbox id=i4><label for=i4>salt</label></li></ul><ol><li itemprop=recipeInstructions>Sli"
        "ce the leeks and sweat them in the oil.</li><li itemprop=recipeInstructions>Stir in the barley and toast"
        " it for two minutes.</li><li itemprop=recipeInstructions>Pour in the stock and simmer for 35 minutes.</l"
        "i></ol><section class=comments><h3>Comments</h3><p>3 eggs too!</p></section></div><footer>1911</footer><"
        "/body></html>",
        BARLEY,
    ),
    Sample(
        "bare: bold headings and br",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        "er><h1>Barley with leeks</h1><p><b>Ingredients</b><br>225 g pearl barley<br>3 leeks<br>1 tbsp rapeseed o"
        "il<br>700 ml stock<br>salt</p><p><b>Method</b></p><p >Slice the leeks and sweat them in the oil.</p><p >"
        "Stir in the barley and toast it for two minutes.</p><p >Pour in the stock and simmer for 35 minutes.</p>"
        "<p>Posted by Bo at 10:14</p><h3>3 comments:</h3><p>Ida: made it with 2 carrots.</p><footer>1911</footer>"
        "</body></html>",
        BARLEY,
    ),
    Sample(
        "bare: dl",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        "er><h1>Barley with leeks</h1><h2>Ingredients</h2><dl><dt>225 g</dt><dd>pearl barley</dd><dt>3 </dt><dd>l"
        "eeks</dd><dt>1 tbsp</dt><dd>rapeseed oil</dd><dt>700 ml</dt><dd>stock</dd></dl><h2>Directions</h2><p >Sl"
        "ice the leeks and sweat them in the oil.</p><p >Stir in the barley and toast it for two minutes.</p><p >"
        "Pour in the stock and simmer for 35 minutes.</p><footer>1911</footer></body></html>",
        UNSALTED,
    ),
    Sample(
        "bare: table with colspan and steps in table",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        "er><h1>Barley with leeks</h1><table><tr><th colspan=2>Ingredients</th></tr><tr><td>225 g</td><td>pearl b"
        "arley</td></tr><tr><td>3</td><td>leeks</td></tr><tr><td>1 tbsp</td><td>rapeseed oil</td></tr><tr><td>700"
        " ml</td><td>stock</td></tr><tr><td></td><td>salt</td></tr></table><h3>Preparation</h3><table><tr><td>1</"
        "td><td>Slice the leeks and sweat them in the oil.</td></tr><tr><td>2</td><td>Stir in the barley and toas"
        "t it for two minutes.</td></tr><tr><td>3</td><td>Pour in the stock and simmer for 35 minutes.</td></tr><"
        "/table><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "bare: div grid",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        "er><h1>Barley with leeks</h1><div class='ingredients-block'><h2>What you need</h2><div class=line><span "
        "class=a>225g</span> <span>pearl barley</span></div><div class=line><span class=a>3</span> <span>leeks</s"
        "pan></div><div class=line><span class=a>1tbsp</span> <span>rapeseed oil</span></div><div class=line><spa"
        "n class=a>700ml</span> <span>stock</span></div><div class=line><span class=a></span> <span>salt</span></"
        "div></div><h2>How to make it</h2><div class=step><span class=num>1</span><div>Slice the leeks and sweat "
        "them in the oil.</div></div><div class=step><span class=num>2</span><div>Stir in the barley and toast it"
        " for two minutes.</div></div><div class=step><span class=num>3</span><div>Pour in the stock and simmer f"
        "or 35 minutes.</div></div><footer>1911</footer></body></html>",
        GLUED,
    ),
    Sample(
        "bare: tip and video",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        "er><h1>Barley with leeks</h1><h2>Ingredients</h2><ul><li >225 g pearl barley</li><li >3 leeks</li><li >1"
        " tbsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul><h2>Instructions</h2><ol><li >Slice the "
        "leeks and sweat them in the oil.</li><li >Stir in the barley and toast it for two minutes.</li><li >Pour"
        " in the stock and simmer for 35 minutes.</li></ol><h4>Tips</h4><ul><li>Use 2 pans.</ul><h4>Nutrition</h4"
        "><p>200 kcal<footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "bare: aside in steps",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        "er><h1>Barley with leeks</h1><h2>Ingredients</h2><ul><li >225 g pearl barley</li><li >3 leeks</li><li >1"
        " tbsp rapeseed oil</li><li >700 ml stock</li><li >salt</li></ul><h2>Method</h2><ol><li>Slice the leeks a"
        "nd sweat them in the oil.<div class='tip'>A wide pan is best.</div></li><li>Stir in the barley and toast"
        " it for two minutes.<figure><img><figcaption>Toasted</figcaption></figure></li><li>Pour in the stock and"
        " simmer for 35 minutes.</li></ol><div id=comments><p>I'd add 100 g butter</p></div><footer>1911</footer>"
        "</body></html>",
        BARLEY,
    ),
    Sample(
        "bare: half portions beside",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        "er><h1>Barley with leeks</h1><h2>Ingredients</h2><div><h4>2 portions</h4><ul><li>225 g pearl barley<li>3"
        " leeks<li>1 tbsp rapeseed oil<li>700 ml stock<li>salt</ul></div><div><h4>4 portions</h4><ul><li>450 g pe"
        "arl barley<li>6 leeks<li>2 tbsp rapeseed oil<li>1400 ml stock<li>salt</ul></div><h2>Method</h2><ol><li >"
        "Slice the leeks and sweat them in the oil.</li><li >Stir in the barley and toast it for two minutes.</li"
        "><li >Pour in the stock and simmer for 35 minutes.</li></ol><footer>1911</footer></body></html>",
        replace(BARLEY, number=2),
    ),
    Sample(
        "bare: ad in list",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        "er><h1>Barley with leeks</h1><h2>Ingredients</h2><ul><li >225 g pearl barley</li><li >3 leeks</li><li >1"
        " tbsp rapeseed oil</li><li class='ad-slot'>Advertisement</li><li >700 ml stock</li><li >salt</li></ul><b"
        "utton>Add to cart</button><h2>Method</h2><ol><li >Slice the leeks and sweat them in the oil.</li><li >St"
        "ir in the barley and toast it for two minutes.</li><li >Pour in the stock and simmer for 35 minutes.</li"
        "></ol><p>Share this recipe</p><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "bare: paragraphs of ingredients with dash",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        "er><h1>Barley with leeks</h1><h3>Ingredients</h3><p >- 225 g pearl barley</p><p >- 3 leeks</p><p >- 1 tb"
        "sp rapeseed oil</p><p >- 700 ml stock</p><p >- salt</p><h3>Method</h3><p >1) Slice the leeks and sweat t"
        "hem in the oil.</p><p >2) Stir in the barley and toast it for two minutes.</p><p >3) Pour in the stock a"
        "nd simmer for 35 minutes.</p><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "bare: food cell, unit cell, amount cell",
        "<!doctype html><html><head><title>Barley with leeks - Mill</title></head><body><header><a>Mill</a></head"
        "er><h1>Barley with leeks</h1><h2>Ingredients</h2><table><tr><td>pearl barley</td><td>225</td><td>g</td><"
        "/tr><tr><td>leeks</td><td>3</td><td></td></tr><tr><td>rapeseed oil</td><td>1</td><td>tbsp</td></tr><tr><"
        "td>stock</td><td>700</td><td>ml</td></tr><tr><td>salt</td><td></td><td></td></tr></table><h2>Method</h2>"
        "<ol><li >Slice the leeks and sweat them in the oil.</li><li >Stir in the barley and toast it for two min"
        "utes.</li><li >Pour in the stock and simmer for 35 minutes.</li></ol><footer>1911</footer></body></html>",
        BARLEY,
    ),
    Sample(
        "json: br-newline mix",
        '<script type="application/ld+json">{"@type":"Recipe","name":"Barley with leeks","recipeIngredient":"225 '
        'g pearl barley\\n3 leeks\\n1 tbsp rapeseed oil\\n700 ml stock<br>salt","recipeInstructions":"Slice the leek'
        "s and sweat them in the oil.<br />Stir in the barley and toast it for two minutes.\\nPour in the stock an"
        'd simmer for 35 minutes."}</script><html>',
        BARLEY,
    ),
    Sample(
        "json: html list with tip",
        '<script type="application/ld+json">{"@type":"Recipe","name":"Barley with leeks","recipeIngredient":["225'
        ' g pearl barley","3 leeks","1 tbsp rapeseed oil","700 ml stock","salt"],"recipeInstructions":"<ol><li>Sl'
        "ice the leeks and sweat them in the oil.</li><li>Stir in the barley and toast it for two minutes.</li><l"
        'i>Pour in the stock and simmer for 35 minutes.</li></ol><h3>Notes</h3><p>Keeps two days.</p>"}</script><'
        "html>",
        BARLEY,
    ),
    Sample(
        "rdfa-like",
        '<html><div vocab="http://schema.org/" typeof="Recipe"><h1 property=name>Barley with leeks</h1><ul><li pr'
        "operty=recipeIngredient><b>225</b> <abbr title=unit>g</abbr> pearl barley</li><li property=recipeIngredi"
        "ent><b>3</b> <abbr title=unit></abbr> leeks</li><li property=recipeIngredient><b>1</b> <abbr title=unit>"
        "tbsp</abbr> rapeseed oil</li><li property=recipeIngredient><b>700</b> <abbr title=unit>ml</abbr> stock</"
        "li><li property=recipeIngredient><b></b> <abbr title=unit></abbr> salt</li></ul><ol property=recipeInstr"
        "uctions><li >Slice the leeks and sweat them in the oil.</li><li >Stir in the barley and toast it for two"
        " minutes.</li><li >Pour in the stock and simmer for 35 minutes.</li></ol></div>",
        BARLEY,
    ),
]
