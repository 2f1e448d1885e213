"""Options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from advisor.errors import Unclear
from advisor.need.units import read_length, within
from advisor.owned import units_wanted

Json = Annotated[bool, typer.Option("--json", help="Print one JSON document for a program (always metric).")]
Features = Annotated[
    list[str],
    typer.Option("--for", help="A feature, with figures and place: 'flounce 25 cm deep'. Repeatable."),
]
Folders = Annotated[
    list[Path],
    typer.Option("--knowledge", help="A folder of own knowledge laid over the shipped one. Repeatable."),
]
Cloth = Annotated[
    str, typer.Argument(help="The cloth in your own words: name, fibres, weight, feel; or piece:NAME of your stash.", show_default=False)
]
Units = Annotated[
    str,
    typer.Option(
        "--units", help="metric or imperial: what is printed, and what a bare figure means. Else as in your settings.",
        callback=lambda given: units_wanted(given), show_default=False,
    ),
]
"""Left out it is the settings file's; every command gets `metric` or `imperial`."""
Length = Annotated[
    str, typer.Option("--length", help="Length of the cloth: '3 m', '3 1/4 yd'; a bare figure is m, or yd in imperial units.")
]
Metres = Annotated[str, typer.Option("--metres", help="The same, where a bare figure is always metres.")]


def length_of(length: str, metres: str, units: str) -> float | None:
    """The length asked about in m, None where none was; raises `Unclear` for what is no length of cloth."""
    if length and metres:
        raise Unclear("both --length and --metres", "one of them")
    bare, what, given = ("m", "--metres", metres) if metres else ("yd" if units == "imperial" else "m", "--length", length)
    return within(read_length(given, bare, what) / 1000, 0.05, 500, what, "m") if given else None


Wearer = Annotated[str, typer.Option("--wearer", help="adult, child, baby …")]
Season = Annotated[str, typer.Option("--season", help="summer, winter …")]
Use = Annotated[str, typer.Option("--use", help="everyday, work, party, nightwear …")]
Care = Annotated[str, typer.Option("--care", help="How it will be washed and dried: '40 wash, line dry'.")]
MakeFile = Annotated[
    Path | None, typer.Option("--make", help="A make file: its features, care and layers count too.")
]
WhatIf = Annotated[
    list[str],
    typer.Option("--if", help="Suppose this: 'weight 140', 'underlined', 'swap covered buttons: shank buttons'. Repeatable."),
]
