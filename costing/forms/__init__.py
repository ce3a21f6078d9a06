"""Forms: what a request may say about prices, shops and yields. None of them saves."""

from costing.forms.grid import PriceGrid
from costing.forms.prices import QuoteForm, SearchForm
from costing.forms.rules import SheetRulesForm
from costing.forms.shops import ShopForm
from costing.forms.yields import YieldForm

__all__ = ["GridRow", "PriceGrid", "QuoteForm", "SearchForm", "SheetRulesForm", "ShopForm", "YieldForm"]
