"""Options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

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
    str, typer.Argument(help="The cloth in your own words: name, fibres, weight, feel.", show_default=False)
]
Units = Annotated[str, typer.Option("--units", help="metric or imperial first in what is printed.")]
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
