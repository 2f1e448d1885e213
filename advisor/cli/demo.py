"""`advisor demo`: a day's work of an invented maker, each command as typed and its real answer, in a throw-away stash."""

from __future__ import annotations

import io
import os
import re
import shlex
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Annotated

import typer

from advisor import demo
from advisor.cli.options import Json
from advisor.cli.words import Paper, emit
from advisor.errors import Unclear


def command(
    keep: Annotated[
        Path | None, typer.Option("--keep", help="Set it up in this folder, empty or new, and leave it there.", show_default=False)
    ] = None,
    pause: Annotated[bool, typer.Option("--pause", help="Wait for Enter before each step.")] = False,
    json: Json = False,
) -> None:
    """A day's work of an invented maker: her list, her makes, her plan. Nothing of yours is read or changed."""
    scenario = demo.read_scenario()
    if keep:
        into = keep.absolute()
        demo.set_up(into)
        steps = _walk(scenario, into, pause, quiet=json)
    else:
        with tempfile.TemporaryDirectory(prefix="advisor-demo-") as name:
            into = Path(name) / "day"
            demo.set_up(into)
            steps = _walk(scenario, into, pause, quiet=json)
    if json:
        emit(demo.DemoReport(scenario.title, str(into) if keep else None, steps))
        return
    paper = Paper()
    paper.line()
    if keep:
        paper.item(f"All of it is kept in {keep}. Go on there with --stash {demo.STASH} behind each command, or:", bullet="", indent=0)
        paper.line(f"  cd {shlex.quote(str(keep))} && export ADVISOR_STASH=$PWD/{demo.STASH}")
    else:
        paper.item("The stash of this day is thrown away. 'advisor demo --keep FOLDER' leaves it for you to play with.", bullet="", indent=0)
    paper.show()


def _walk(scenario: demo.Scenario, into: Path, pause: bool, *, quiet: bool) -> list[demo.Answered]:
    """Every step in order, run as it would be typed; raises `Unclear` at one that answers other than it should."""
    if not quiet:
        opening = Paper()
        opening.line(scenario.title, "bold")
        for line in scenario.about:
            opening.item(line, bullet="", indent=0)
        opening.show()
    done: list[demo.Answered] = []
    with _elsewhere(into):
        for step in scenario.steps:
            if not quiet:
                said = Paper()
                said.line()
                if step.say:
                    said.item(step.say, bullet="", indent=0, style="bold")
                said.show()
                if pause and sys.stdin.isatty():
                    input("  (Enter) ")
            for what in step.fill:
                for words in demo.filling(scenario, what):
                    _must(words, 0)
            if step.run:
                shown = f"advisor {step.run}"
                if not quiet:
                    print("\n".join(_on_lines(f"$ {shown}")), flush=True)
                code, printed = _must(shlex.split(step.run), step.code)
                done.append(demo.Answered(step.say, shown, code, printed))
                if not quiet:
                    _print(printed, missing=code == 2 and _MISSING in printed)
    return done


def _print(printed: str, *, missing: bool) -> None:
    if not missing:
        print(printed, end="", flush=True)
        return
    paper = Paper()
    paper.item(f"Left out here: {printed.strip()}", bullet="", indent=0)
    paper.show()


_WORD = re.compile(r"""(?:"(?:\\.|[^"\\])*"|'[^']*'|\S)+""")


def _on_lines(command: str, width: int = 80) -> list[str]:
    """A command as a shell takes it, over several lines where it is long; an option stays with its value."""
    lines, part = [""], ""
    for word in _WORD.findall(command):
        part = f"{part} {word}" if part else word
        if word.startswith("--"):
            continue
        if lines[-1] and len(lines[-1]) + len(part) + 3 > width:
            lines[-1] += " \\"
            lines.append(f"    {part}")
        else:
            lines[-1] += f" {part}" if lines[-1] else part
        part = ""
    lines[-1] += f" {part}" if part else ""
    return lines


_MISSING = "expected the extra '"


def _must(words: list[str], expected: int) -> tuple[int, str]:
    """Runs one command line and gives its exit code and all that it printed; raises where the code is another.

    What only lacks an optional package is no fault of the day's: it is answered with what to install.
    """
    from advisor.cli import run

    told = io.StringIO()
    with redirect_stdout(told), redirect_stderr(told):
        code = run(words)
    if code == 130:
        raise KeyboardInterrupt
    if code == 2 and _MISSING in told.getvalue():  # an optional package is not installed: told, and the day goes on
        return code, told.getvalue()
    if code != expected:
        last = (told.getvalue().strip().splitlines() or [""])[-1]
        raise Unclear(f"'advisor {shlex.join(words)[:120]}' ended with {code} ({last[:200]})", f"the exit code {expected}")
    return code, told.getvalue()


@contextmanager
def _elsewhere(into: Path) -> Iterator[None]:
    """Works in the folder, with its own stash; puts everything back afterwards."""
    before, stash = Path.cwd(), os.environ.get("ADVISOR_STASH")
    os.chdir(into)
    os.environ["ADVISOR_STASH"] = str(into / demo.STASH)
    try:
        yield
    finally:
        os.chdir(before)
        if stash is None:
            del os.environ["ADVISOR_STASH"]
        else:
            os.environ["ADVISOR_STASH"] = stash
