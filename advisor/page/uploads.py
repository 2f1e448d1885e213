"""Files that come over the page: photographs made anew without what they tell of their maker, and lists kept for a step.

Nothing that a sender says decides a path: names are made here, and a name that comes back from a form is looked up in
the folder by its exact form. A photograph is decoded and encoded again, so whatever else the file held is left behind.
"""

from __future__ import annotations

import io
import re
import secrets
import time
import warnings
import zipfile
from pathlib import Path

from advisor.errors import Unclear
from advisor.page.forms import Upload

KINDS = ("JPEG", "PNG", "WEBP")
MOST_PIXELS = 80_000_000
SIDE = 1600
"""The longest side of a kept photograph in pixels."""

_NAME = re.compile(r"[a-z0-9]{24}\.jpg")
LISTS = (".csv", ".tsv", ".txt", ".xlsx", ".xls", ".ods", ".json")
_LIST = re.compile(r"[a-z0-9]{24}\.(?:csv|tsv|txt|xlsx|xls|ods|json)")
MOST_UNPACKED = 250_000_000
A_DAY = 86_400


def _fresh(suffix: str) -> str:
    return secrets.token_hex(12) + suffix


def photograph(upload: Upload) -> bytes:
    """The picture as a plain JPEG, upright, at most `SIDE` pixels a side, without metadata; raises `Unclear`."""
    from PIL import Image, ImageOps, UnidentifiedImageError

    wrong = Unclear(f"the photograph '{upload.name[:60]}'", "a picture as JPEG, PNG or WebP that opens")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(upload.data), formats=KINDS) as picture:
                if picture.width * picture.height > MOST_PIXELS:
                    raise Unclear(f"a photograph of {picture.width} × {picture.height} pixels", f"at most {MOST_PIXELS // 1_000_000} million pixels")
                picture.draft("RGB", (2 * SIDE, 2 * SIDE))
                upright = ImageOps.exif_transpose(picture)
                upright.thumbnail((SIDE, SIDE))
                flat = Image.new("RGB", upright.size, "white")
                clear = upright.convert("RGBA")
                flat.paste(clear, mask=clear.getchannel("A"))
    except Unclear:
        raise
    except (UnidentifiedImageError, Image.DecompressionBombError, Image.DecompressionBombWarning, OSError, ValueError, SyntaxError, EOFError):
        raise wrong from None
    out = io.BytesIO()
    flat.save(out, "JPEG", quality=84, optimize=True)
    return out.getvalue()


class Photographs:
    """The folder of photographs. A new one waits until its piece is saved, so that an error elsewhere loses nothing."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.waiting = folder, folder / "waiting"

    def take(self, upload: Upload) -> str:
        """Keeps the picture in waiting and returns its name."""
        data = photograph(upload)
        self.waiting.mkdir(parents=True, exist_ok=True, mode=0o700)
        sweep(self.waiting)
        name = _fresh(".jpg")
        (self.waiting / name).write_bytes(data)
        return name

    def waits(self, name: str) -> str:
        """The name again if such a picture waits, else ''."""
        return name if _NAME.fullmatch(name) and (self.waiting / name).is_file() else ""

    def keep(self, name: str) -> Path:
        """Moves a waiting picture to its place for good."""
        if not self.waits(name):
            raise Unclear("a photograph that is no longer there", "the photograph chosen again")
        return (self.waiting / name).replace(self.folder / name)

    def of(self, path: str) -> Path | None:
        """The file of a piece's photograph if it lies in this folder; what lies elsewhere is not shown."""
        found = Path(path)
        own = found.parent == self.folder and _NAME.fullmatch(found.name) and found.is_file() and not found.is_symlink()
        return found if own else None

    def shown_waiting(self, name: str) -> Path | None:
        return self.waiting / name if self.waits(name) else None


class Lists:
    """Uploaded lists between being looked at and being brought in."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def take(self, upload: Upload) -> str:
        """Keeps the list and returns its name; raises `Unclear` for a file of another kind, or one that unpacks without end."""
        suffix = Path(upload.name).suffix.lower()
        if suffix not in LISTS:
            raise Unclear(f"the list '{upload.name[:60]}'", f"a file ending in {', '.join(LISTS)}")
        if not upload.data:
            raise Unclear(f"the list '{upload.name[:60]}'", "a file with something in it")
        if upload.data[:4] == b"PK\x03\x04":
            try:
                whole = sum(item.file_size for item in zipfile.ZipFile(io.BytesIO(upload.data)).infolist())
            except (zipfile.BadZipFile, ValueError, NotImplementedError):
                raise Unclear(f"the list '{upload.name[:60]}'", "a spreadsheet that opens") from None
            if whole > MOST_UNPACKED:
                raise Unclear(f"the list '{upload.name[:60]}'", f"a spreadsheet of at most {MOST_UNPACKED // 1_000_000} MB unpacked")
        self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        sweep(self.folder)
        name = _fresh(suffix)
        (self.folder / name).write_bytes(upload.data)
        return name

    def find(self, name: str) -> Path:
        """The kept list of this name; raises `Unclear`."""
        path = self.folder / name
        if not _LIST.fullmatch(name) or not path.is_file():
            raise Unclear("a list that is no longer there", "the file chosen again")
        return path

    def drop(self, name: str) -> None:
        self.find(name).unlink(missing_ok=True)


def sweep(folder: Path) -> None:
    """Takes out files that have waited for more than a day."""
    for path in folder.iterdir():
        if path.is_file() and time.time() - path.stat().st_mtime > A_DAY:
            path.unlink(missing_ok=True)
