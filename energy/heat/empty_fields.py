"""What stands for a field that nobody filled in, and how far it may be off: even between its ends (common practice)."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Assumed:
    """A value and its half width, in the unit of the field."""

    value: float
    half: float

    @property
    def u(self) -> float:
        """Its standard uncertainty.

        References
        ----------
        JCGM 100:2008, 4.3.7 (even spread between limits).

        Examples
        --------
        >>> round(TAP.u, 2)
        3.46
        """
        return self.half / math.sqrt(3)


TAP = Assumed(12.0, 6.0)
"""Water from a house tap, for food of which neither its own temperature nor the air's was noted. [C]"""

AIR = Assumed(18.0, 8.0)
"""The air where somebody cooks. [C]"""

GAUGE = Assumed(70.0, 15.0)
"""The pressure of an electric pressure cooker. [kPa]"""

HEIGHT_M = Assumed(0.0, 400.0)
"""Height above the sea. [m]"""
