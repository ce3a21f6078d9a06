"""Tariffs: what a kilowatt-hour costs, and when.

Decisions. Of 25 November 2026 unless it says otherwise. Bands and blocks are lines that a person types; the more particular
band wins, gaps and overlaps are refused in words. A battery's kilowatt-hours cost what they cost while it is charged (its own
hour, else 22:00), a hook-up's what they cost when the run was cooked. Standing charges stay on the bill. Limits lie at whole
half-hours of UTC or at local minutes.
"""
