"""Estimates: the facts of a recipe's energy, other sizes, other circumstances, the meal on the reader's source.

Decisions. Of 1 December 2026 unless it says otherwise. A measured climb does not tell what the heater, the air and steam
took, so another cook is foretold from three ends that all explain it (``three_ends.py``); what holding took bounds them, and
the heaters' bands are one table (``energy/heat/heaters.py``). The range holds the ends, what one cook differs by, and what
each input and the measured mean may be off, changed one at a time with everything worked out again; what was held bounds what
an open pot loses and steams together, and neither "yes" nor "no" may hang on one of these doubts; turned down it never takes
less; a field that is empty has a default with a spread (``energy/heat/empty_fields.py``), stored as empty. Less heat measured
than 0.8 of what food and pot took is not believed, and said; nothing else is bounded in silence. Without a marked come-up all
holding and all heating bound it. "May not get there" is "at least": rounded down, and passing no limit. Batches are drawn
each as estimated; one measured serving is as fine as it takes to make the printed total, a range is rounded outwards and as
coarsely as a third of its half width allows. Turned down below its peak a ticking cooker may be slower or not: both are in
the range. Runs at two clearly different powers bound what lies between. Two measured sizes give a least-squares line instead.
What is reached in simulated kitchens: ``deploy/measures.md``. Other sources are told of the same meal as the reader's (30
November). Behind the socket an inverter is known within 3.5 points and a label within 5 %, and shares and meals are ranges;
what was read on the battery itself goes back without them. Cooks read at both ends tell what one per cent of the charge gives
at the socket, not what the inverter loses and what the battery holds: no share needs those two (``gear/domain/learned.py``).
"""
