"""Measure what one photo costs when it is sent: time, memory above an idle process, and the bytes that are kept; prints a table.

    .venv/bin/python -m tests.measure.photos

Each photo is taken in by a process of its own, so that its peak is its own. The pictures are made here: hills of soft colour
with fine grain on them, which cost about as much as a photo of a plate of food. Nothing here judges.
"""

from __future__ import annotations

import io
import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from PIL import Image, ImageChops

from kitchen.publish.photos import make_derivatives, recut

TOP = Path(__file__).resolve().parents[2]

STEM = "0" * 24
SAVED: dict[str, dict[str, Any]] = {
    "JPEG": {"quality": 90},
    "progressive JPEG": {"format": "JPEG", "quality": 90, "progressive": True},
    "PNG": {"compress_level": 3},
    "WebP": {"quality": 85, "method": 1},
    "AVIF": {"quality": 75, "speed": 10},
}
PHOTOS = [
    ("JPEG", "RGB", (4000, 3000)),
    ("JPEG", "RGB", (6000, 4000)),
    ("JPEG", "RGB", (8000, 6000)),
    ("JPEG", "CMYK", (6000, 4000)),
    ("progressive JPEG", "RGB", (6000, 4000)),
    ("PNG", "RGB", (4000, 3000)),
    ("PNG", "RGBA", (5000, 4000)),
    ("WebP", "RGB", (3300, 2500)),
    ("AVIF", "RGB", (4000, 3000)),
]
_HEAD = ("sent", "", "megapixels", "sent MB", "takes ms", "new point ms", "memory MB", "kept kB", "files")


def main() -> int:
    """Measure each photo and print the table; with a file's name, take in that one and say what it cost."""
    if len(sys.argv) > 1:
        print(json.dumps(take_in(Path(sys.argv[1]))))
        return 0
    rows = [_HEAD]
    with tempfile.TemporaryDirectory(prefix="wattfare-photos-") as folder:
        for kind, mode, size in PHOTOS:
            sent = Path(folder) / "sent"
            sent.write_bytes(invented(kind, mode, size))
            command = [sys.executable, "-m", "tests.measure.photos", str(sent)]
            said = subprocess.run(command, cwd=TOP, stdout=subprocess.PIPE, text=True, check=True)
            rows.append(_row(kind, mode, size, sent.stat().st_size, json.loads(said.stdout)))
    widths = [max(len(row[column]) for row in rows) for column in range(len(_HEAD))]
    for row in rows:
        cells = zip(row, widths, strict=True)
        print("  ".join(cell.ljust(width) if at < 2 else cell.rjust(width) for at, (cell, width) in enumerate(cells)))
    return 0


def take_in(path: Path) -> dict[str, float]:
    """Return what one photo costs: milliseconds, megabytes above the idle process, and what is kept."""
    sent = path.read_bytes()
    make_derivatives(_small(), stem=STEM)
    idle = _peak_mb()
    begun = time.perf_counter()
    made = make_derivatives(sent, stem=STEM)
    taken = time.perf_counter()
    peak = _peak_mb()
    recut(made.files[f"{STEM}-deep.webp"], stem=STEM, focal_x=0.2, focal_y=0.7)
    cut = time.perf_counter()
    kept = sum(len(content) for content in made.files.values())
    return {"ms": (taken - begun) * 1e3, "cut_ms": (cut - taken) * 1e3, "mb": peak - idle, "kept": kept, "files": len(made.files)}


def invented(kind: str, mode: str, size: tuple[int, int]) -> bytes:
    """Return a file with soft hills of colour and fine grain."""
    hills = Image.merge("RGB", [Image.effect_noise((24, 18), 90).resize(size, Image.Resampling.BICUBIC) for _ in range(3)])
    grain = Image.effect_noise((size[0] // 3, size[1] // 3), 12).resize(size)
    image = ImageChops.add(hills, Image.merge("RGB", [grain] * 3), scale=1, offset=-128)
    if kind == "PNG":
        image = image.quantize(200).convert("RGB")  # a PNG of a real photo has more bytes than may be sent
    image = image.convert(mode)
    out, options = io.BytesIO(), dict(SAVED[kind])
    image.save(out, options.pop("format", kind), **options)
    return out.getvalue()


def _small() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (64, 48), "teal").save(out, "JPEG")
    return out.getvalue()


def _peak_mb() -> float:
    """Return the most memory that this process has held so far, as Linux counts it."""
    lines = Path("/proc/self/status").read_text().splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("VmHWM")) / 1024


def _row(kind: str, mode: str, size: tuple[int, int], sent: int, cost: dict[str, float]) -> tuple[str, ...]:
    return (
        kind,
        mode,
        f"{size[0] * size[1] / 1e6:.0f}",
        f"{sent / 2**20:.1f}",
        f"{cost['ms']:.0f}",
        f"{cost['cut_ms']:.0f}",
        f"{cost['mb']:.0f}",
        f"{cost['kept'] / 1024:.0f}",
        f"{cost['files']:.0f}",
    )


if __name__ == "__main__":
    sys.exit(main())
