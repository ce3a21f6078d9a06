"""Logs of other instruments read into samples: text in, values out; no files, no network.

Decisions. Of 25 November 2026 unless it says otherwise. One reader for every door (``files/any_log.py``); of the shapes
(``files/shapes/registry.py``) the surest reads a file; how sure is fixed, since a shape either finds its own mark in a file
or is not in question, and the number only says who is asked first: a plain log's own names before what any table could be.
What stands in a column counts before its name. Sections are looked for in the whole file by the line that names the columns
(``files/beginning.py``). Where a file is asked about its answers are given: on its own page, or in the form that records the
cook, which carries them signed with the text. Refuse rather than guess where the energy depends on it. A counter that dips
for some rows is a glitch, one that begins again near zero a reset, any other fall a fault whose energy is open. A hole adds
nothing but width. What was guessed (a unit) or left out (rows of one time) is a flag until somebody says yes. Held or
sampled, the interval and the holes are judged on the file as it came and kept beside it. Thinning keeps the energy before any
moment within 0.1 %, the extremes, and both sides of each edge and fall. A figure that no display can show was not read (1
December).
"""
