"""Colours: from what a photo's numbers mean (its profile, its mode, its depth) to plain sRGB, which browsers take for granted."""

from __future__ import annotations

import io
from collections.abc import Callable

from PIL import Image, ImageCms

_MOST_PROFILE = 4 * 1024 * 1024
_PROFILED = ("RGB", "L", "CMYK")
_WITH_ALPHA = ("RGBA", "LA", "PA", "RGBa", "La")

Convert = Callable[[Image.Image], Image.Image]


def in_srgb(image: Image.Image) -> Convert:
    """Return what turns pieces of this picture into opaque sRGB; transparent places become white.

    A colour profile is followed where the picture has a sound one; a broken one counts as none.
    """
    follow = _profile_transform(image)

    def convert(piece: Image.Image) -> Image.Image:
        if piece.mode in _WITH_ALPHA or "transparency" in piece.info:
            return _on_white(piece.convert("RGBA"), follow)
        return follow(_eight_bits(piece))

    return convert


def is_plain(image: Image.Image) -> bool:
    """Whether a picture is opaque sRGB as it stands."""
    return image.mode == "RGB" and not {"icc_profile", "transparency"} & image.info.keys()


def _eight_bits(piece: Image.Image) -> Image.Image:
    """Return a piece in a mode that profiles know; sixteen bits of grey are scaled, since converting them would cut them off."""
    if piece.mode.startswith("I;16"):
        return piece.point(lambda value: value / 256, "L")
    if piece.mode == "I":
        return piece.point(lambda value: value * (1 / 256)).convert("L")
    return piece if piece.mode in _PROFILED else piece.convert("RGB")


def _on_white(piece: Image.Image, follow: Convert) -> Image.Image:
    ground = Image.new("RGB", piece.size, "white")
    ground.paste(follow(piece.convert("RGB")), mask=piece.getchannel("A"))
    return ground


def _profile_transform(image: Image.Image) -> Convert:
    """Return the conversion that the picture's colour profile asks for, or plain conversion to RGB."""
    profile = image.info.get("icc_profile")
    mode = _mode_for_profile(image)
    if not profile or len(profile) > _MOST_PROFILE:
        return lambda piece: piece.convert("RGB")
    try:
        sent, srgb = ImageCms.ImageCmsProfile(io.BytesIO(profile)), ImageCms.createProfile("sRGB")
        transform = ImageCms.buildTransform(sent, srgb, mode, "RGB")
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
        return lambda piece: piece.convert("RGB")

    def follow(piece: Image.Image) -> Image.Image:
        turned = ImageCms.applyTransform(piece.convert(mode), transform)
        return piece.convert("RGB") if turned is None else turned

    return follow


def _mode_for_profile(image: Image.Image) -> str:
    if image.mode in ("L", "LA", "La", "1") or image.mode.startswith("I"):
        return "L"
    return "CMYK" if image.mode == "CMYK" else "RGB"
