"""What `advisor make` answers: the JSON contract, always metric."""

from __future__ import annotations

from typing import Literal

import msgspec

from advisor.makes import Make


class Remark(msgspec.Struct):
    """A fault (`wrong`) or doubt (`look`) of a make file; line 0 is the whole file."""

    line: int
    field: str
    what: str
    expected: str
    nearest: str
    kind: Literal["wrong", "look"]


class ClothFits(msgspec.Struct):
    """What the envelope says against a cloth; empty where it fits."""

    cloth: str
    against: list[str]


class CheckedFile(msgspec.Struct):
    """One make file read over."""

    file: str
    wrong: int
    look: int
    found: list[Remark]
    make: str = ""
    features: int = 0
    rows: int = 0
    cloths: list[ClothFits] = []


class MakeCheckReport(msgspec.Struct):
    """The answer of `make check`."""

    files: list[CheckedFile]


class NewMakeReport(msgspec.Struct):
    """The answer of `make new`: the file written, the make, and how answers were read where it is worth knowing."""

    file: str
    make: Make
    notes: list[str]


class ShownMakeReport(msgspec.Struct):
    """The answer of `make show`."""

    file: str
    make: Make


class ListedMake(msgspec.Struct):
    """One make file of a folder; `problem` says why it cannot be read."""

    file: str
    make: str
    features: int = 0
    hours: float | None = None
    wanted_by: str = ""
    example: bool = False
    problem: str = ""


class MakeListReport(msgspec.Struct):
    """The answer of `make list`."""

    folder: str
    makes: list[ListedMake]
