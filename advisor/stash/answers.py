"""What the stash's commands answer: the JSON contract, always metric. More fields may be added, none taken away."""

from __future__ import annotations

from typing import Literal

import msgspec

from advisor.stash.pieces import Piece


class PieceAnswer(msgspec.Struct):
    """One piece as it now stands, what was done to it, and how its words were read."""

    stash: str
    did: Literal["added", "shown", "edited", "used", "noted", "removed"]
    piece: Piece
    left_m: float
    reserved_m: float
    free_m: float
    read_as: str = ""
    not_understood: list[str] = []
    nearest: dict[str, str] = {}
    notes: list[str] = []
    backup: str | None = None
    log: list[str] = []
    """What the maker saw of it, from the log."""


class ListedPiece(msgspec.Struct):
    """One piece in the list."""

    piece: Piece
    left_m: float
    reserved_m: float
    free_m: float


class ListAnswer(msgspec.Struct):
    """The pieces that were asked for, and how many the stash holds in all."""

    stash: str
    pieces: list[ListedPiece]
    left_m: float
    held: int


class ColumnAnswer(msgspec.Struct):
    """What a column was taken to mean."""

    heading: str
    field: str
    unit: str
    because: str


class NotRead(msgspec.Struct):
    """A row that did not go in, by the number that a spreadsheet shows for it."""

    row: int
    why: str


class ImportAnswer(msgspec.Struct):
    """What an import did, or would do while it is not confirmed."""

    stash: str
    file: str
    confirmed: bool
    columns: list[ColumnAnswer]
    added: list[str]
    joined: int
    known: int
    not_read: list[NotRead]
    not_understood: dict[str, list[str]]
    remarks: list[str]
    backup: str | None = None


class ExportAnswer(msgspec.Struct):
    """Where the stash was written."""

    stash: str
    file: str
    form: Literal["csv", "json"]
    pieces: int


class BackupAnswer(msgspec.Struct):
    """A backup that was made, or the backups that there are, the newest first."""

    stash: str
    backup: str | None
    pieces: int
    backups: list[str]


class RestoreAnswer(msgspec.Struct):
    """The backup that was brought back, and where the stash that it replaced was kept."""

    stash: str
    restored: str
    pieces: int
    kept: str | None
