"""A progress bar on standard error, for what takes longer than a second."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from typing import Any

AFTER_S = 1.0
"""How long a command is waited for without a word."""


@contextmanager
def bar(says: str) -> Iterator[Callable[[int, int], None] | None]:
    """What is told (done, of how many); nothing where standard error is no terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    begun = time.monotonic()
    with ExitStack() as stack:
        shown: list[tuple[Any, Any]] = []

        def tell(done: int, total: int) -> None:
            if not shown:
                if time.monotonic() - begun < AFTER_S:
                    return
                from rich.console import Console
                from rich.progress import Progress

                progress = stack.enter_context(Progress(console=Console(stderr=True), transient=True))
                shown.append((progress, progress.add_task(says, total=total)))
            progress, task = shown[0]
            progress.update(task, completed=done, total=total)

        yield tell
