"""Pictures for tests: plain ones, one that tells everything about its maker, and a colour profile that swaps red and blue."""

from __future__ import annotations

import io
import struct

from PIL import Image, TiffImagePlugin

TELLING = "Ravensmere"
"""A place of our own invention that stands in every note of a telling picture."""


def picture(size=(2000, 1500), kind="JPEG", mode="RGB", color="teal", **options):
    """Return a file of one colour."""
    out = io.BytesIO()
    Image.new(mode, size, color).save(out, kind, **options)
    return out.getvalue()


def halves(size):
    """Return a JPEG that is red on its left half and blue on its right."""
    image, out = Image.new("RGB", size, "red"), io.BytesIO()
    image.paste((0, 0, 255), (size[0] // 2, 0, *size))
    image.save(out, "JPEG", quality=90)
    return out.getvalue()


def opened(data):
    """Return the picture in these bytes."""
    return Image.open(io.BytesIO(data))


def telling_exif():
    """Return EXIF with a place, a maker and a quarter turn."""
    exif = Image.Exif()
    exif[0x0112] = 6
    exif[0x010F], exif[0x0110], exif[0x013B] = f"{TELLING} optics", "Model Nine", f"Cook of {TELLING}"
    exif[0x010E] = f"at {TELLING}"
    exif.get_ifd(0x8769)[0x9286] = f"ASCII\0\0\0comment from {TELLING}".encode()
    gps = exif.get_ifd(0x8825)
    gps[1], gps[2] = "N", tuple(TiffImagePlugin.IFDRational(n) for n in (52, 30, 15))
    gps[3], gps[4] = "E", tuple(TiffImagePlugin.IFDRational(n) for n in (13, 22, 40))
    gps[0x1C] = f"ASCII\0\0\0{TELLING}".encode()
    return exif


def with_thumbnail(exif: bytes) -> bytes:
    """Return EXIF with a second directory that holds a small JPEG, as cameras write it."""
    tiff = bytearray(exif[6:])
    order = "<" if tiff[:2] == b"II" else ">"
    thumbnail = picture((16, 8), comment=TELLING.encode())
    start = struct.unpack(order + "I", tiff[4:8])[0]
    entries = struct.unpack(order + "H", tiff[start : start + 2])[0]
    second = len(tiff)
    place = start + 2 + 12 * entries
    tiff[place : place + 4] = struct.pack(order + "I", second)
    rows = ((0x0103, 3, 1, 6), (0x0201, 4, 1, second + 2 + 3 * 12 + 4), (0x0202, 4, 1, len(thumbnail)))
    tiff += struct.pack(order + "H", 3)
    for tag, kind, count, value in rows:
        tiff += struct.pack(order + "HHI", tag, kind, count)
        tiff += struct.pack(order + "HH", value, 0) if kind == 3 else struct.pack(order + "I", value)
    return b"Exif\0\0" + bytes(tiff) + struct.pack(order + "I", 0) + thumbnail


def xmp_packet() -> bytes:
    """Return an XMP packet that names the place, and says once more how the camera was held."""
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?><x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF '
        'xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description xmlns:exif="http://ns.adobe.com/exif/1.0/" '
        f'exif:GPSLatitude="52,30.25N" exif:GPSLongitude="13,22.67E"><city>{TELLING}</city></rdf:Description></rdf:RDF>'
        '</x:xmpmeta><?xpacket end="w"?>'
    ).encode()


def _iptc() -> bytes:
    """Return a Photoshop resource block with an IPTC record: city and caption."""
    record = b"".join(
        bytes([0x1C, 2, number]) + len(words).to_bytes(2, "big") + words
        for number, words in ((90, TELLING.encode()), (120, f"supper at {TELLING}".encode()))
    )
    return b"Photoshop 3.0\0" + b"8BIM\x04\x04\0\0" + len(record).to_bytes(4, "big") + record + bytes(len(record) % 2)


def telling_jpeg(size=(800, 400)) -> bytes:
    """Return a JPEG that tells of place and maker in EXIF, its thumbnail, XMP, IPTC, a profile, a comment, and after its end."""
    exif = with_thumbnail(telling_exif().tobytes())
    plain = picture(size, exif=exif, icc_profile=swapping_profile(), comment=f"taken at {TELLING}".encode())
    segments = b"".join(
        b"\xff" + bytes([marker]) + (len(body) + 2).to_bytes(2, "big") + body
        for marker, body in (
            (0xE1, b"http://ns.adobe.com/xap/1.0/\0" + xmp_packet()),
            (0xED, _iptc()),
            (0xEC, b"Ducky " + TELLING.encode()),
        )
    )
    return plain[:2] + segments + plain[2:] + f"behind the end: {TELLING}".encode()


def swapping_profile() -> bytes:
    """Return a colour profile (ICC.1:2001-04, a matrix and three curves) whose first channel is blue and whose third is red.

    The primaries are those of sRGB adapted to D50, from memory; the curves have gamma 2.2.
    """

    def fixed(value: float) -> bytes:
        return struct.pack(">i", round(value * 65536))

    def xyz(*values: float) -> bytes:
        return b"XYZ \0\0\0\0" + b"".join(fixed(value) for value in values)

    words = TELLING.encode() + b"\0"
    curve = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(2.2 * 256)) + b"\0\0"
    tags = {
        b"desc": b"desc\0\0\0\0" + struct.pack(">I", len(words)) + words + bytes(79),
        b"cprt": b"text\0\0\0\0" + words,
        b"wtpt": xyz(0.9642, 1.0, 0.8249),
        b"rXYZ": xyz(0.1431, 0.0606, 0.7141),
        b"gXYZ": xyz(0.3851, 0.7169, 0.0971),
        b"bXYZ": xyz(0.4360, 0.2225, 0.0139),
        **dict.fromkeys((b"rTRC", b"gTRC", b"bTRC"), curve),
    }
    table, body, start = b"", b"", 128 + 4 + 12 * len(tags)
    for name, data in tags.items():
        padded = data + bytes(-len(data) % 4)
        table += name + struct.pack(">II", start + len(body), len(data))
        body += padded
    head = struct.pack(">I4sI4s4s4s", 0, b"\0\0\0\0", 0x02400000, b"mntr", b"RGB ", b"XYZ ")
    head += struct.pack(">6H", 2026, 1, 1, 0, 0, 0) + b"acsp" + bytes(4 * 4 + 8 + 4)
    head += fixed(0.9642) + fixed(1.0) + fixed(0.8249)
    profile = head + bytes(128 - len(head)) + struct.pack(">I", len(tags)) + table + body
    return struct.pack(">I", len(profile)) + profile[4:]
