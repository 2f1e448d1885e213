"""`advisor pick`: rank cloths for a make."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from advisor import advise, report
from advisor.cli.measures import in_words
from advisor.cli.options import Folders, Json, Units, WhatIf
from advisor.cli.words import VERDICTS, emit, knowledge_from, label
from advisor.makes import read_make
from advisor.picking import cloths_from_csv


def command(
    make: Annotated[Path, typer.Argument(help="A make file.", show_default=False)],
    cloth: Annotated[list[str], typer.Option("--cloth", help="A cloth in words. Repeatable.")] = [],  # noqa: B006
    from_file: Annotated[Path | None, typer.Option("--from", help="A CSV file of cloths, one a row.")] = None,
    top: Annotated[int, typer.Option("--top", min=1, help="How many to show.")] = 15,
    what_if: WhatIf = [],  # noqa: B006
    shop: Annotated[bool, typer.Option("--shop", help="A shopping brief: what to look for, feel and ask.")] = False,
    units: Units = "",
    json: Json = False,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """Rank cloths for a make: those given, or all that the advisor knows."""
    known = knowledge_from(knowledge)
    wanted = read_make(make)
    if shop:
        from advisor.cli import shop as brief
        from advisor.decide.shop import shop_for

        told = shop_for(wanted, known)
        emit(told) if json else brief.show(told, units)
        return
    cloths = list(cloth) + (cloths_from_csv(from_file) if from_file else [])
    if sys.stderr.isatty() and not json:
        from rich.console import Console
        from rich.progress import Progress

        with Progress(console=Console(stderr=True), transient=True) as bar:
            task = bar.add_task("judging", total=None)
            answer = advise.pick(
                wanted,
                cloths,
                what_if=what_if,
                knowledge=known,
                progress=lambda done, total: bar.update(task, completed=done, total=total),
            )
    else:
        answer = advise.pick(wanted, cloths, what_if=what_if, knowledge=known)
    if json:
        emit(answer)
    else:
        show(answer, top, units)


def show(answer: report.PickReport, top: int, units: str = "metric") -> None:
    from rich import box
    from rich.console import Console
    from rich.table import Table

    console = Console(width=None if sys.stdout.isatty() else 100, highlight=False)
    table = Table(title=f"Cloths for {answer.make}" + (f", supposing {'; '.join(answer.what_if)}" if answer.what_if else ""), title_justify="left", box=box.SIMPLE_HEAD, pad_edge=False)
    for name, options in (
        ("cloth", {"ratio": 3}), ("verdict", {"no_wrap": True}), ("score", {"no_wrap": True, "justify": "right"}), ("limited by", {"ratio": 2}), ("watch first", {"ratio": 5}),
    ):  # fmt: skip
        table.add_column(name, **options)
    colours = {"suits": "green", "care": "yellow", "avoid": "red"}
    for row in answer.ranking[:top]:
        table.add_row(
            in_words(row.cloth, units), f"[{colours[row.verdict]}]{VERDICTS[row.verdict].lower()}[/]", f"{row.score.expected:.0f} ({row.score.low:.0f}-{row.score.high:.0f})",
            label(row.limited_by or ""), in_words(row.watch_say or "", units),
        )  # fmt: skip
    console.print(table)
    if len(answer.ranking) > top:
        console.print(f"{len(answer.ranking) - top} more with --top {len(answer.ranking)}.")
    for line in answer.not_read:
        console.print(f"Not read: {line}")
