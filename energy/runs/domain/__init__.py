"""Metering: a run's figures from its readings, and what follows from presses.

Decisions. Of 25 November 2026 unless it says otherwise. A run keeps its summary and a trace of at most 160 columns; no peak
and no watt-hour is lost. A meter on the battery sits before the inverter: its runs are brought to the socket. One cook's
interval rests on how much cooks usually differ: 5.5 %, worth six degrees of freedom, or what this kitchen's other recipes
show; each more narrows it, down to what the meter's class leaves (1 December). A cook of less than a third of the method's
minutes waits for a verdict; spread alone never sets one aside (1 December). A log of watts that repeats itself was sampled;
where a spell may have fallen between two samples, each is a draw (1 December). The counter raises a peak only by what its
steps cannot explain. The heat check is made for wet cooking only. Two runs differ when they lie further apart than both
uncertainties in quadrature (JCGM 100, 5.1.2). Pauses are in the total, but neither cooking nor at the pot.
"""
