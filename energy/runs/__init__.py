"""Runs: measured cooks, from the first press to figures with their uncertainty.

Decisions. Of 25 November 2026 unless it says otherwise. A press is kept as it was said, under the name that the phone gave
it; rows follow from the presses that stand, in whatever order they came. A form that corrects what was pressed amends the
press, one that removes it takes the press back, a start that moves takes its presses along: rows and presses never differ (30
November). A press taken back stays as a gravestone; ``replaces`` takes the earlier press back for good. A run ends with its
latest finish or where a form put its end, whichever is later (30 November). Presses of one moment stand in the order of their
names. A press is written to the phone, then sent, and its body freezes at the first sending; each answer bounds the clock's
skew between asking and answering, and what is known stands while it lies there (30 November). Locks are taken in one order: a
meter, then runs by number (30 November). A device's readings belong to its meter; two counters never mix in one climb. A
running cook with more than 2,000 readings is summed every ten seconds. A token is 256 random bits and shown once. On a sheet
a colon means the clock, in the plain recorder hours.
"""
