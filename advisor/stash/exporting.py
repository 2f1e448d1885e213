"""The whole stash as CSV or JSON, metric, with nothing left out; `importing` reads both back to the same pieces.

In CSV a piece is one row. Several lengths stand as `1.2 + 0.4`; notes, reservations and cuts stand one a line in
their cell. A cell that a spreadsheet could take for a formula is written behind an apostrophe.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable
from dataclasses import fields
from pathlib import Path
from typing import Any

import msgspec

from advisor.errors import Unclear
from advisor.files import write_whole
from advisor.listing.cells import figure, guarded
from advisor.stash import store
from advisor.stash.pieces import Cut, Piece, Reserved

FIELDS = tuple(f.name for f in fields(Piece))
FORM = 1
_CUT = re.compile(r"(\d{4}(?:-\d\d(?:-\d\d)?)?): (\S+) m(?: for (.*))?", re.DOTALL)
_RESERVED = re.compile(r"(\S+) m for (.*)", re.DOTALL)


class Exported(msgspec.Struct):
    """The JSON form of a stash."""

    stash: int
    pieces: list[Piece]


def cell(value: Any) -> str:
    """One field of a piece as a cell."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return figure(value)
    if isinstance(value, tuple):
        if value and isinstance(value[0], float):
            return " + ".join(figure(v) for v in value)
        return "\n".join(_line(item) for item in value)
    return guarded(str(value))


def _line(item: object) -> str:
    if isinstance(item, Reserved):
        return f"{figure(item.metres)} m for {item.make}"
    if isinstance(item, Cut):
        return f"{item.day}: {figure(item.metres)} m" + (f" for {item.make}" if item.make else "")
    return guarded(str(item))


def reserved_of(line: str) -> Reserved:
    """A reservation from its line in a cell: '1.4 m for winter coat'."""
    match = _RESERVED.fullmatch(line.strip())
    try:
        return Reserved(match[2], float(match[1]))  # type: ignore[index]
    except (TypeError, ValueError):
        raise Unclear(f"reserved '{line.strip()[:60]}'", "metres and a make", "1.4 m for winter coat") from None


def cut_of(line: str) -> Cut:
    """A cut from its line in a cell: '2025-03-01: 1.4 m for winter coat'."""
    match = _CUT.fullmatch(line.strip())
    try:
        return Cut(match[1], float(match[2]), match[3] or "")  # type: ignore[index]
    except (TypeError, ValueError):
        raise Unclear(
            f"cut '{line.strip()[:60]}'", "a day, metres and a make", "2025-03-01: 1.4 m for winter coat"
        ) from None


def to_csv(pieces: Iterable[Piece]) -> str:
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(FIELDS)
    writer.writerows([cell(getattr(piece, name)) for name in FIELDS] for piece in pieces)
    return out.getvalue()


def to_json(pieces: Iterable[Piece]) -> str:
    return msgspec.json.format(msgspec.json.encode(Exported(FORM, list(pieces))), indent=2).decode() + "\n"


def write(text: str, path: Path, *, over: bool = False) -> None:
    """Writes the file whole or not at all; raises `Unclear` where one exists and `over` is not set."""
    if not path.parent.is_dir():
        raise Unclear(f"export '{path}'", f"a folder '{path.parent}' that exists")
    try:
        write_whole(text, path, over=over)
    except FileExistsError:
        raise Unclear(f"export '{path}'", "a file that does not exist yet, or --replace") from None
    except OSError as error:
        raise store.fault(error, path) from None
