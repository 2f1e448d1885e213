"""`advisor sift`: judge a whole list of cloth."""

from __future__ import annotations

import gc
from pathlib import Path
from typing import Annotated

import typer

from advisor import report
from advisor.asks import read_asks, read_context
from advisor.cli.bar import bar
from advisor.cli.measures import in_words
from advisor.cli.options import Care, Features, Folders, Json, MakeFile, Season, Units, Use, Wearer
from advisor.cli.words import VERDICTS, Paper, emit, knowledge_from, label, score_text
from advisor.errors import Unclear
from advisor.owned import units_wanted


def command(
    path: Annotated[
        Path, typer.Argument(metavar="LIST", help="A list of cloths: CSV, XLSX, ODS or Parquet.", show_default=False)
    ],
    features: Features = [],  # noqa: B006
    make: MakeFile = None,
    top: Annotated[int, typer.Option("--top", min=0, help="How many of the best to show.")] = 10,
    out: Annotated[
        Path | None, typer.Option("--out", help="Write every row's answer to this CSV file; stopped, it goes on.", show_default=False)
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Write over --out, and begin anew.")] = False,
    mapping: Annotated[
        list[str], typer.Option("--map", help="What a column means: 'Quality=description'. Repeatable.")
    ] = [],  # noqa: B006
    sheet: Annotated[str, typer.Option("--sheet", help="The sheet of a spreadsheet.")] = "",
    wearer: Wearer = "",
    season: Season = "",
    use: Use = "",
    care: Care = "",
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Judge a whole list of cloth: a merchant's, a guild's or a school's."""
    try:
        import numpy  # noqa: F401
    except ImportError:
        raise Unclear("sift without numpy", "the extra 'lists' installed (pip install 'fabric-advisor[lists]')") from None
    from advisor.makes import asks_of, context_of, read_make
    from advisor.sifting.run import sift
    from advisor.sifting.sieve import Question

    wanted = units_wanted(units)
    known = knowledge_from(knowledge)
    read = read_make(make) if make else None
    asks = [*(a for f in features for a in read_asks(f, known)), *(asks_of(read, known) if read else [])]
    given = [(k, v) for k, v in (("wearer", wearer), ("season", season), ("use", use), ("care", care)) if v]
    context = [*(context_of(read, known) if read else []), *read_context(given, known)]
    question = Question(tuple(asks), tuple(dict.fromkeys(context)), read)
    gc.freeze()  # what is loaded stays; only what a row needs is looked through
    gc.enable()
    with bar("sifting") as progress:
        answer = sift(
            path, question, known, out=out, top=top, sheet=sheet, said=mapping, units=wanted, force=force, progress=progress
        )
    emit(answer) if json else show(answer, wanted)


def show(answer: report.SiftReport, units: str = "metric") -> None:
    """How many suit, the best of them, and what could not be read."""
    paper = Paper()
    asked = answer.make or ", ".join(label(f) for f in answer.features) or "these circumstances"
    counts = ", ".join(f"{VERDICTS[v].lower()} {answer.verdicts[v]:,}" for v in answer.verdicts)
    paper.item(f"{answer.rows:,} cloths for {asked}: {counts}.", bullet="", indent=0, style="bold")
    columns = "; ".join(f"'{heading}' as {meaning}" for heading, meaning in answer.columns.items())
    paper.item(f"Columns: {columns}.", bullet="", indent=0, style="dim")
    for remark in answer.remarks:
        paper.item(f"{remark[0].upper()}{remark[1:]}.", bullet="", indent=0, style="dim")
    if answer.resumed:
        paper.item(f"Went on after row {answer.resumed:,}, where an earlier run stopped.", bullet="", indent=0, style="dim")
    if answer.ranking:
        paper.head("The best")
    for number, row in enumerate(answer.ranking, 1):
        rows = f"row {row.row:,}" + (f" and {row.times - 1:,} more like it" if row.times > 1 else "")
        paper.item(f"{row.cloth} ({rows})", bullet=f"{number}. ", indent=0)
        limit = f"; weakest: {label(row.limited_by)}" if row.limited_by and len(answer.features) > 1 else ""
        paper.item(f"{VERDICTS[row.verdict].lower()}, {score_text(row.score)}{limit}", bullet="", indent=3, style=row.verdict)
        if row.against:
            paper.item(in_words(f"Envelope: {row.against}.", units), bullet="", indent=3)
        if row.watch_say:
            may = "" if row.certainty == "sure" else " (may apply)"
            paper.item(in_words(f"Watch: {row.watch_say}{may}", units), bullet="", indent=3)
    if answer.unread:
        paper.head(f"{answer.unread:,} rows could not be read")
        for bad in answer.unread_rows[:5]:
            paper.item(f"row {bad.row:,}: {bad.reason}")
        if answer.unread > 5:
            where = f"all in {answer.unread_out}" if answer.unread_out else "--out lists all of them in a file of their own"
            paper.item(f"{answer.unread - 5:,} more; {where}.", bullet="", style="dim")
    if answer.out:
        paper.line()
        paper.item(f"Every row's answer: {answer.out}", bullet="", indent=0)
    paper.show()
