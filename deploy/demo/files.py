"""The example kitchen's files: what stands in this folder, read and nothing more."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).resolve().parent


@dataclass(frozen=True)
class DemoFiles:
    """The parsed files: gear and shops by table name, recipes by slug, runs in the order of their starts."""

    kitchen: dict[str, Any]
    prices: dict[str, Any]
    recipes: dict[str, dict[str, Any]]
    runs: list[dict[str, Any]]


def read_files(folder: Path = FOLDER) -> DemoFiles:
    """Read every file of the example kitchen."""
    recipes = {path.stem: _toml(path) for path in sorted((folder / "recipes").glob("*.toml"))}
    runs = sorted(_toml(folder / "runs.toml")["runs"], key=lambda run: run["started_at"])
    return DemoFiles(_toml(folder / "kitchen.toml"), _toml(folder / "prices.toml"), recipes, runs)


def readings_text(name: str, folder: Path = FOLDER) -> str:
    """Return the text of one run's readings."""
    return (folder / "runs" / name).read_text(encoding="utf-8")


def _toml(path: Path) -> dict[str, Any]:
    with path.open("rb") as file:
        return tomllib.load(file)
