"""What goes out of the house: cards, pictures, feeds, data, all made from facts.

Decisions. Of 25 November 2026 unless it says otherwise. A card for a reader's kit names it, and its code leads there. An
edition keeps what was measured; its estimates follow the rules of the day, and the page says so. A picture is a printed page
drawn by PDFium, on light ground and without a reader's kit: one for all. There is one strip, wide by minutes and tall by
watts: the kitchen draws its ink (``kitchen/domain/band.py``), energy its labels (``energy/charts/strips.py``). A card is
planned before it is laid out (1 December): its words are measured by the faces’ own widths (``publish/typefaces.py``), its
units packed on as few sides as the least type allows, each side in the largest type that fits (``publish/faces.py``); what
comes out higher than it was measured is planned again with what it took. Nothing is under 8 pt, cautions stand whole above
the first stage, and all text is dark enough for a red lamp. The worker keeps the desk's shell and what was taken along, and
of the bench a shopping list alone, until somebody signs out. Safety is a card without a plate, so that a recipe that nobody
measured has its cautions. "Fits my kit" asks two figures: the peak, and what a battery of the usual kind gives for the meal.
A collection is live and has no editions: its page shows the editions of the day, sums add as ranges from end to end, and
whatever a recipe lacks makes them "at least" (``Card.together``, ``kitchen/gathering.py``); charges are counted twice, with
every meal at its least and at its most (``energy/gear/domain/charges.py``). A deck is laid out in parts and written as one
document, since parts that are merged as PDF would lose their tags; no cycles are collected meanwhile, which took a quarter of
the time (1 December).
"""
