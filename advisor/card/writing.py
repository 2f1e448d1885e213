"""Writing a printed file whole or not at all, and never over another without being told to."""

from __future__ import annotations

import os
import re
import tempfile
from contextlib import suppress
from pathlib import Path

from advisor.card.setting import FORMATS
from advisor.errors import Unclear


def form_of(path: Path) -> str:
    """pdf, png or svg by the name's ending; raises `Unclear` for any other."""
    form = path.suffix.lower().lstrip(".")
    if form not in FORMATS:
        raise Unclear(f"the file '{path}'", f"a name ending in {', '.join('.' + f for f in FORMATS)}", f"{path.stem or 'card'}.pdf")
    return form


def name_for(title: str, kind: str) -> Path:
    """A file name for a title: 'card-blue-linen.pdf', in the folder where one stands."""
    words = "-".join(re.findall(r"\w+", title.casefold()))[:60].strip("-")
    return Path(f"{kind}-{words}.pdf" if words else f"{kind}.pdf")


def check_place(path: Path, *, force: bool = False) -> None:
    """Raises `Unclear` where a file cannot come to stand: a folder, no folder, or another file that may not be written over."""
    if path.is_dir():
        raise Unclear(f"the file '{path}'", "the name of a file; this is a folder", str(path / "card.pdf"))
    if not path.absolute().parent.is_dir():
        raise Unclear(f"the file '{path}'", f"a folder '{path.parent}' that exists")
    if path.exists() and not force:
        raise _stands(path)


def write_whole(content: bytes, path: Path, *, force: bool = False) -> None:
    """Writes beside the place and then puts it there; raises `Unclear` as `check_place` does, or where the disk refuses."""
    check_place(path, force=force)
    handle, name = -1, ""
    try:
        handle, name = tempfile.mkstemp(dir=path.absolute().parent, prefix=f".{path.name[:40]}-")
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, 0o644)
        _put(name, path, force)
    except FileExistsError:
        raise _stands(path) from None
    except OSError as error:
        raise Unclear(f"the file '{path}'", f"a place that can be written ({error.strerror or error})") from None
    finally:
        if name:
            with suppress(FileNotFoundError):
                os.unlink(name)


def _put(name: str, path: Path, force: bool) -> None:
    """Puts the finished file in its place; without `force` it fails where another has come to stand there meanwhile."""
    if not force:
        try:
            os.link(name, path)
            return
        except FileExistsError:
            raise
        except OSError:  # a file system without links
            if path.exists():
                raise FileExistsError from None
    os.replace(name, path)


def _stands(path: Path) -> Unclear:
    return Unclear(f"the file '{path}', which exists", "another --out, or --force to write over it")
