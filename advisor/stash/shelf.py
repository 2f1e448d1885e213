"""A piece of the stash as a cloth: its words, whether it is washed, what was measured, and what its maker saw of it.

    advisor check "piece:blue linen" --for gathers
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from advisor import words
from advisor.infer import inference_for
from advisor.knowledge import Knowledge
from advisor.log import keeping
from advisor.log.done import Done, Observation
from advisor.log.grammar import read
from advisor.log.likeness import narrow
from advisor.profile import Profile, build
from advisor.ranges import Range
from advisor.stash import store
from advisor.stash.enough import LayingTables, laying_tables, words_now
from advisor.stash.pieces import Piece, key_of
from advisor.stash.place import default_path
from advisor.words import Described


def log_of(piece: str, log: Sequence[Done]) -> list[Done]:
    """The entries of the log about this very piece."""
    return [d for d in log if d.piece and not d.gone and key_of(d.piece) == key_of(piece)]


def described_piece(piece: Piece, knowledge: Knowledge, found: LayingTables) -> Described:
    """A piece's words as read, with its own width and length; what it shrank counts until that wash is behind it."""
    described = words.describe(words_now(piece, found), knowledge)
    if piece.prewashed is False:
        for prop, value in (("shrink_along", piece.shrank_along_pct), ("shrink_across", piece.shrank_across_pct)):
            if value is not None:
                described.figures.measured.setdefault(prop, Range(value, value))
    described.figures.width_cm = piece.width_cm or described.figures.width_cm
    described.figures.length_m = max(piece.lengths_m, default=described.figures.length_m)
    return described


def profiled(described: Described, seen: Sequence[Observation], knowledge: Knowledge) -> Profile:
    """The profile of a piece as it is described, narrowed by what its maker saw of it."""
    profile = build(described, knowledge)
    for name in narrow(profile, [read(line, knowledge) for line in seen], knowledge):
        described.figures.measured[name] = profile.known[name].range  # so that it outlasts a change of the cloth
    inference_for(knowledge).derive(profile)
    return profile


def profile_of_piece(piece: Piece, log: Sequence[Done], knowledge: Knowledge, found: LayingTables) -> Profile:
    """The profile of a piece by its words and the log; raises `Unclear` where its words say nothing."""
    seen = [line for done in log_of(piece.name, log) for line in done.observations]
    return profiled(described_piece(piece, knowledge, found), seen, knowledge)


def named(name: str, knowledge: Knowledge, path: Path | None = None) -> Profile:
    """The profile of the piece with this name in a stash (the usual one); raises `Unclear` with the nearest names."""
    with store.reading(path or default_path()) as db:
        piece, log = store.find(db, name), keeping.everything(db)
    return profile_of_piece(piece, log, knowledge, laying_tables(knowledge))
