"""The foods that come in kinds, so that "lemon or lime juice" is one food to choose a kind of. No rules, only the lists."""

from __future__ import annotations

import re

from kitchen.domain.nouns import singular

# In "chicken or vegetable stock" the first word alone is no food: nouns that are shared, and the kinds of each.
_HEADS = (
    (
        "stock broth bouillon stock-cube bouillon-cubes",
        "chicken vegetable beef fish veal lamb turkey ham mushroom seafood meat bone veggie pork duck game shellfish",
    ),
    (
        "oil",
        "vegetable olive canola sunflower peanut rapeseed corn safflower grapeseed coconut sesame groundnut avocado "
        "walnut neutral salad mustard hazelnut nut",
    ),
    (
        "vinegar",
        "cider wine rice sherry balsamic malt champagne distilled apple",
    ),
    (
        "juice zest rind peel wedges slices",
        "lemon lime orange grapefruit apple pineapple tangerine mandarin clementine pear cranberry",
    ),
    (
        "milk yogurt yoghurt cream",
        "almond soy oat coconut rice goat skim skimmed semi-skimmed whole 2% 1% plant nut soya sheep cow",
    ),
    (
        "sausage sausages mince breast breasts thighs steaks steak chops bones leg legs wings drumsticks shoulder "
        "shank shanks loin ribs neck liver livers hearts kidneys cutlets carcass meatballs tenderloin fillet fillets "
        "sausagemeat fat",
        "pork beef lamb chicken turkey italian veal duck goose goat venison rabbit mutton hogget kid pheasant bison "
        "boar quail ham bacon cod haddock salmon trout hake pollock halibut snapper tilapia bass bream plaice sole "
        "mackerel",
    ),
    (
        "powder seeds seed flakes kernels",
        "garlic onion chili chilli cumin coriander fennel sesame poppy pumpkin sunflower anise aniseed caraway dill "
        "nigella mustard celery fenugreek cardamom hemp chia flax linseed melon",
    ),
    (
        "beans lentils peas",
        "navy pinto kidney cannellini butter black white haricot borlotti green brown red puy cranberry runner broad "
        "french lima mung fava flageolet turtle adzuki yellow beluga split garden petit",
    ),
    (
        "cheese",
        "cheddar jack swiss goat cream cottage ricotta parmesan colby mozzarella gruyere gruyère monterey emmental "
        "edam gouda feta romano pecorino asiago provolone fontina blue curd farmer",
    ),
    (
        "nuts butter",
        "peanut almond cashew macadamia brazil",
    ),
    (
        "halves pieces crumbs",
        "walnut pecan almond cashew hazelnut apricot peach pear biscuit cracker cookie panko bread",
    ),
    (
        "mushrooms mushroom",
        "chestnut button cremini shiitake portobello oyster wild field porcini enoki",
    ),
    (
        "syrup",
        "maple corn golden agave",
    ),
    (
        "flour bread toast tortillas wraps rolls meal",
        "rye spelt corn rice almond bread sourdough wheat wholemeal buckwheat oat flour",
    ),
    (
        "pasta noodles",
        "egg rice ramen udon soba penne fusilli rigatoni farfalle macaroni wheat glass ziti",
    ),
    (
        "onion onions pepper peppers",
        "spring bell",
    ),
    (
        "sugar salt",
        "cane kosher sea table muscovado demerara turbinado palm coconut icing caster rock",
    ),
    (
        "rice",
        "jasmine basmati arborio carnaroli",
    ),
    (
        "jam jelly preserves preserve marmalade purée puree compote coulis sauce juice ice-cream sorbet berries",
        "raspberry strawberry apricot cherry plum blackberry blackcurrant redcurrant damson quince peach blueberry "
        "fig apple pear mango orange lemon",
    ),
    (
        "leaves leaf sprigs stems stalks stem tops",
        "parsley coriander cilantro basil mint sage thyme bay spinach chard beet beetroot celery kale lime curry "
        "oregano tarragon lovage sorrel rosemary marjoram dill fennel chervil",
    ),
    (
        "potatoes potato apples apple lettuce cabbage",
        "russet idaho fuji gala romaine iceberg napa savoy cox bramley desiree",
    ),
    (
        "wine",
        "marsala port",
    ),
    (
        "chocolate",
        "milk plain bitter",
    ),
)
# What is hardly ever named without its kind: in "skirt or flank steak" any one word before "or" is a kind ...
_ALWAYS_OF_A_KIND = frozenset(
    re.findall(
        r"\S+",
        """
        steak steaks buns bun rolls wedges halves berries noodles tortillas crackers chips crisps seeds kernels flakes legs
        thighs breasts wings drumsticks shoulder shanks shank chops cutlets ribs fillets fillet loin mince sausages pods leaves
        mushrooms beans lentils apples apple potatoes potato squash lettuce cabbage peppers pepper chillies chiles chilli stock
        broth rice pasta paste powder extract jam jelly chutney marmalade liqueur olives grapes plums pears cherries
        eggs greens biscuits
        cookies
        """,
    )
)
# ... but these are foods by themselves.
_COMPLETE = frozenset(
    re.findall(
        r"\S+",
        """
        butter oil water milk wine beer cider cream honey sugar salt flour bacon ham pancetta rice pasta bread couscous quinoa
        bulgur polenta barley millet farro freekeh tofu tempeh feta halloumi paneer yogurt yoghurt ketchup mayonnaise mustard
        vinegar sherry vodka brandy rum whisky stock broth bouillon gravy cornflour cornstarch arrowroot margarine lard ghee
        dripping shortening jam saffron paprika turmeric nutmeg allspice sumac tahini hummus pesto passata chorizo salami
        prosciutto lemonade coffee tea juice cocoa sauce cheese lemon lime orange garlic spaghetti linguine orzo
        """,
    )
)
# What has kinds by name: "Braeburn, Cox or Gala apples".
_NAMED = frozenset(
    ("apple", "apples", "basil", "cabbage", "cheese", "ham", "lettuce", "onions", "oranges", "pear", "pears", "potatoes", "rice")
    + ("sausage", "tomatoes")
)
COLOURS = frozenset(("red", "white", "yellow", "green", "black", "brown", "orange", "purple"))
_KINDS: dict[str, frozenset[str]] = {}
for _heads, _kinds in _HEADS:
    for _head in _heads.split():
        _KINDS[_head] = _KINDS.get(_head, frozenset()) | frozenset(_kinds.split())


def is_kind(word: str, head: str, *, alone: bool) -> bool:
    """Say whether the word names a kind of what ``head`` is: "lime" of juice, "Cox" of apples; a word ``alone`` of steak.

    Examples
    --------
    >>> is_kind("lime", "juice", alone=True), is_kind("butter", "oil", alone=True), is_kind("skirt", "steak", alone=True)
    (True, False, True)
    """
    word, named = word.lower(), word.istitle()
    if word in _KINDS.get(head, ()) or (named and head in _NAMED):
        return True
    return alone and head in _ALWAYS_OF_A_KIND and word not in _COMPLETE and singular(word) == word
