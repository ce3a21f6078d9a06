"""Sealing a backup with a passphrase, and reading it again from any place in it. The one door to ``cryptography``.

A sealed file begins with ``SEALED`` and sixteen random bytes. From those and the passphrase scrypt (RFC 7914) makes a key that is
used for this file alone. What follows are pieces of 64 KiB, each sealed by ChaCha20-Poly1305 (RFC 8439) under its number and a
mark on the last one: a piece that is changed, moved, left out or missing at the end is found out when it is read.
"""

from __future__ import annotations

import io
import os
from typing import BinaryIO

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

SEALED = b"wattfare sealed 1\n"
SALT_BYTES, TAG_BYTES = 16, 16
PIECE = 64 * 1024
_HEAD = len(SEALED) + SALT_BYTES
# 32 MiB and about a tenth of a second: what a small computer can spare once a night (RFC 7914, section 2: N, r, p).
_COST = {"n": 2**15, "r": 8, "p": 1}


class WrongPassphrase(ValueError):
    """The passphrase does not open the file, or its first piece is damaged."""


def _cipher(passphrase: bytes, salt: bytes) -> ChaCha20Poly1305:
    return ChaCha20Poly1305(Scrypt(salt=salt, length=32, **_COST).derive(passphrase))


def _nonce(number: int, *, last: bool) -> bytes:
    return number.to_bytes(11, "big") + (b"\1" if last else b"\0")


class Sealing(io.RawIOBase):
    """A file that is written forwards; what is written goes sealed into another file. Closing it ends the last piece."""

    def __init__(self, out: BinaryIO, passphrase: bytes) -> None:
        """Begin a sealed file in ``out``."""
        salt = os.urandom(SALT_BYTES)
        self._out, self._cipher = out, _cipher(passphrase, salt)
        self._head = SEALED + salt
        self._held, self._number = bytearray(), 0
        out.write(self._head)

    def writable(self) -> bool:
        """Whether it can be written: always."""
        return True

    def write(self, piece: bytes | bytearray | memoryview) -> int:  # type: ignore[override]  # its own says Buffer, which Python 3.11 has no name for
        """Take some bytes."""
        self._held += piece
        while len(self._held) > PIECE:  # one that is exactly full may be the last
            self._seal(bytes(self._held[:PIECE]), last=False)
            del self._held[:PIECE]
        return len(piece)

    def close(self) -> None:
        """Seal what is left as the last piece."""
        if not self.closed:
            self._seal(bytes(self._held), last=True)
        super().close()

    def _seal(self, piece: bytes, *, last: bool) -> None:
        self._out.write(self._cipher.encrypt(_nonce(self._number, last=last), piece, self._head))
        self._number += 1


class Unsealed(io.RawIOBase):
    """A sealed file as it was before; read from any place."""

    def __init__(self, file: BinaryIO, passphrase: bytes) -> None:
        """Open a sealed file; raises WrongPassphrase where its last piece does not open."""
        file.seek(0)
        self._file, self._head = file, file.read(_HEAD)
        sealed = file.seek(0, io.SEEK_END) - _HEAD
        self._pieces = -(-sealed // (PIECE + TAG_BYTES))
        self._size = sealed - self._pieces * TAG_BYTES
        self._cipher = _cipher(passphrase, self._head[len(SEALED) :])
        self._at, self._known, self._piece = 0, -1, b""
        try:
            self._open(self._pieces - 1)
        except OSError:
            raise WrongPassphrase from None

    def readable(self) -> bool:
        """Whether it can be read: always."""
        return True

    def seekable(self) -> bool:
        """Whether it can be read from any place: always."""
        return True

    def seek(self, offset: int, whence: int = io.SEEK_SET) -> int:
        """Go to a place."""
        self._at = max(0, offset + (0, self._at, self._size)[whence])
        return self._at

    def tell(self) -> int:
        """Return the place where it is read next."""
        return self._at

    def readinto(self, room: memoryview) -> int:  # type: ignore[override]  # its own says Buffer, which Python 3.11 has no name for
        """Read on; raises OSError where a piece is not what was written."""
        if self._at >= self._size:
            return 0
        number, within = divmod(self._at, PIECE)
        piece = self._open(number)[within : within + len(room)]
        room[: len(piece)] = piece
        self._at += len(piece)
        return len(piece)

    def _open(self, number: int) -> bytes:
        if number != self._known:
            self._file.seek(_HEAD + max(0, number) * (PIECE + TAG_BYTES))
            sealed = self._file.read(PIECE + TAG_BYTES)
            try:
                opened = self._cipher.decrypt(_nonce(max(0, number), last=number == self._pieces - 1), sealed, self._head)
            except InvalidTag:
                raise OSError("a piece of the sealed file is not what was written") from None
            self._known, self._piece = number, opened
        return self._piece
