"""What the commands that print a file share: its name, and asking before another is written over."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from advisor.card.writing import check_place, form_of, name_for, write_whole

if TYPE_CHECKING:
    from advisor.card.setting import Printed

Out = Annotated[
    Path | None, typer.Option("--out", help="The file: .pdf, .png or .svg; named after the title if not said.", show_default=False)
]
Json = Annotated[bool, typer.Option("--json", help="Print one JSON document for a program, its texts as they are printed.")]
Force = Annotated[bool, typer.Option("--force", help="Write over a file that exists.")]


def deliver(print_as: Callable[[str], Printed], out: Path | None, kind: str, title: str, force: bool) -> Path:
    """Prints to the file and returns its name; raises `Unclear` where it exists and nobody allows to write over it."""
    path = out or name_for(title, kind)
    form = form_of(path)
    if not force and path.is_file() and sys.stdin.isatty() and sys.stderr.isatty():
        force = typer.confirm(f"{path} exists. Write over it?", default=False, err=True)
    check_place(path, force=force)  # before anything is set, rather than after
    write_whole(print_as(form).content, path, force=force)
    return path
