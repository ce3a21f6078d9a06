"""QR codes as one SVG path, for paper and pages alike."""

from __future__ import annotations

import re
from dataclasses import dataclass

import segno

_QUIET_MODULES = 4


@dataclass(frozen=True)
class QrCode:
    """A QR code drawn in modules: the side of its square viewBox, and the path of its dark modules (to be stroked, width 1)."""

    side: int
    path: str
    address: str

    @property
    def words(self) -> str:
        """The address as a person would type it: without the scheme and the last slash."""
        return self.address.split("://", 1)[-1].rstrip("/")


def qr_code(address: str) -> QrCode:
    """Return the code of an address, with the four quiet modules that readers need around it (ISO/IEC 18004)."""
    code = segno.make_qr(address, error="m")
    markup = code.svg_inline(border=_QUIET_MODULES, omitsize=True)
    path = re.search(r'\bd="([^"]+)"', markup)
    if path is None:
        raise ValueError(f"no QR code could be drawn for {address!r}")
    return QrCode(side=int(code.symbol_size(border=_QUIET_MODULES)[0]), path=path.group(1), address=address)
