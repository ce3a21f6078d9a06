"""What a public page tells those who link to it, by the Open Graph protocol (ogp.me): words, address and one picture."""

from __future__ import annotations

from dataclasses import dataclass

from kitchen.domain.pictures import further_files
from kitchen.page import Page, PageFrame


@dataclass(frozen=True)
class SharedPicture:
    """A picture by its whole address, with its size in pixels and its words."""

    address: str
    width_px: int
    height_px: int
    alt: str
    media: str = "image/png"


def pictures_of(page: Page, frame: PageFrame, *, photo_root: str) -> list[SharedPicture]:
    """Return the pictures of a recipe's public page, the best to share first: of its figures, then its photo.

    ``photo_root`` is the whole address of the photos. Empty without a photo and figures, and without an address.
    """
    if not frame.address:
        return []
    drawn = [SharedPicture(frame.address + one.place, one.width_px, one.height_px, one.alt) for one in page.pictures]
    return drawn + _photo(page, photo_root)


def _photo(page: Page, root: str) -> list[SharedPicture]:
    photo = page.recipe.photo
    if photo is None:
        return []
    cut = further_files(photo.crops, "16x9", "jpg")[-1:] or [(photo.wide, (photo.width_px, photo.height_px))]
    return [SharedPicture(root + name, size[0], size[1], photo.alt, "image/jpeg") for name, size in cut]
