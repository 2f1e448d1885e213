"""A piece's fields from texts as people type them, for every view that lets them be filled in."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from advisor.stash import measures
from advisor.stash.pieces import Piece


def with_fields(piece: Piece, units: str, given: Mapping[str, str | None]) -> Piece:
    """The piece with the fields that were given; an empty text clears a field, None leaves it. Raises `Unclear`."""
    readers: dict[str, Callable[[str], dict[str, Any]]] = {
        "width": lambda t: {"width_cm": measures.width_cm(t, units) if t.strip() else None},
        "bought": lambda t: {"bought": measures.day_gone_by(t, time.strftime("%Y-%m-%d")) if t.strip() else ""},
        "kept": lambda t: {"kept": t},
        "tests": lambda t: {"tests": t},
        "price": lambda t: dict(
            zip(("price", "currency", "price_for"), measures.price(t) if t.strip() else ("", "", ""), strict=True)
        ),
        "shrank": lambda t: dict(
            zip(
                ("shrank_along_pct", "shrank_across_pct"),
                measures.shrank(t) if t.strip() else (None, None),
                strict=True,
            )
        ),
        "photo": lambda t: {"photo": str(Path(t).absolute()) if t.strip() else ""},
    }
    for name, text in given.items():
        if text is not None:
            piece = replace(piece, **readers[name](text))
    return piece
