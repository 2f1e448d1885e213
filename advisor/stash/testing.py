"""Keeping the result of a home test with a piece: its tests in words, one result for each property."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

from advisor import words
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.stash import store
from advisor.stash.pieces import Piece

_SAID = re.compile(r"^\s*measured\s*:?\s*", re.IGNORECASE)
_BETWEEN = re.compile(r",\s+|\s*;\s*")


def settles(said: str, knowledge: Knowledge) -> set[str]:
    """The properties that a measured phrase tells of; nothing where it is not understood."""
    try:
        read = words.describe(f"measured {said}", knowledge)
    except Unclear:
        return set()
    return {*read.figures.measured, *(prop for prop, _ in read.bands)}


def with_result(tests: str, phrase: str, knowledge: Knowledge) -> str:
    """A piece's tests with one more result, in place of earlier results for the same property."""
    new = _SAID.sub("", phrase).strip()
    about = settles(new, knowledge)
    kept = [part for part in _BETWEEN.split(tests) if part and not (settles(part, knowledge) & about)]
    return ", ".join([*kept, new])


def keep_result(path: Path, name: str, phrase: str, knowledge: Knowledge) -> Piece:
    """Writes a result to a piece of the stash; raises `Unclear` for a piece that is not there."""
    with store.changing(path) as db:
        piece = store.find(db, name)
        return store.replace_piece(db, name, replace(piece, tests=with_result(piece.tests, phrase, knowledge)))
