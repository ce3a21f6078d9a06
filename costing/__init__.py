"""Costing: what a recipe costs, from prices that a cook keeps.

Decisions. Of 1 December 2026 unless it says otherwise. Between a food and its prices lies the **item**, what stands on the
shelf: its pack never changes, a pack that was typed wrong is another item. No row of the ledger is written over: a correction
is a row that replaces another, what was taken back keeps its row with the moment, so that a sheet of any day as known on any
day replays. What is known of items, foods' weights, yields, rules, sources and tariffs replays from the journal of shared
things (``kitchen/queries/as_known.py``); what came without one (an archive, the example, the reference table) stands as it
does now, and what an edition then differs by is a cause of its own. Rules are those of the sheet's day, a yield may have a
day from which it counts, readings are as they stand. Causes are found by changing one thing after the other in a fixed order
(``costing/domain/causes.py``): an average over all orders could not be checked by hand. Portions served, left over and thrown
away are kept with the cook; what is left takes its share of the cost along, what was thrown away is paid by those served.
Packs are read by the line's own reader (``kitchen/domain/packs.py``), prices by the shop's country
(``costing/domain/countries.py``); what has two readings is asked. The newest price that can be used for a line counts, and
newer ones that cannot are named. Trim is taken only on what is sold whole, a test only for its own preparation. A line that
may be left out stands beside the total; a total that lacks a line ranks nowhere. What came off at the till counts that day
alone, beside the usual price. Parts of one thing (juice and zest) share it: as many as the largest need, charged once. A
total in words that no list knows is told by its sum, and nothing behind it is goods. Tables of prices are taken apart by the
pieces for meters’ files; a slip’s photo is a row, so that no door to photos leads to it, and in no archive. Shops are
compared in whole packs: by the kilogram the largest sack would always be cheapest. ``tests/costing/domain/shelf_texts.txt``
was labelled before the program read any of it.
"""
