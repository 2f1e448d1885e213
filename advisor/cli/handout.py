"""`advisor handout`: one page for a class."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from advisor.card.handout import handout_for
from advisor.card.papers import SHEETS, one_of
from advisor.card.reports import HandoutAnswer
from advisor.cli.options import Folders, Units
from advisor.cli.printing import Force, Json, Out, deliver
from advisor.cli.words import Paper, emit, knowledge_from
from advisor.makes import read_make


def command(
    make: Annotated[Path, typer.Argument(help="The make's file.", show_default=False)],
    cloths: Annotated[
        list[str], typer.Option("--cloth", help="A cloth brought to the class; else those that fit best. Repeatable.", show_default=False)
    ] = [],  # noqa: B006
    size: Annotated[str, typer.Option("--size", help=f"The sheet: {', '.join(SHEETS)}.")] = "a4",
    out: Out = None,
    force: Force = False,
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Print one page for a class from a make: what to buy, what to prepare, what to watch.

    With --json and no --out nothing is written.
    """
    size = one_of(size, SHEETS, "size")
    answer = HandoutAnswer(handout_for(read_make(make), cloths, units=units, knowledge=knowledge_from(knowledge)), size)
    if out is None and json:
        emit(answer)
        return
    from advisor.card import setting

    sheet = answer.handout
    written = deliver(lambda form: setting.handout(sheet, size, form), out, "handout", sheet.title, force)
    answer.file = str(written)
    if json:
        emit(answer)
        return
    paper = Paper()
    paper.item(f"{written}: one page for the class, {size.upper() if len(size) == 2 else size}.", bullet="", indent=0, style="bold")
    paper.item(f"Cloths on it: {', '.join(row.cloth for row in sheet.cloths)}.", bullet="", indent=0)
    if sheet.left_out or sheet.shortened:
        counts = [f"{len(t)} {word}" for t, word in ((sheet.left_out, "left out"), (sheet.shortened, "said in short")) if t]
        paper.item(f"The lines that matter most are on it; {' and '.join(counts)} for want of room.", bullet="", indent=0)
    paper.show()
