"""Work spread over processes where there is enough of it, in order, with word of how far it has come.

Judging is arithmetic in Python, so threads gain nothing; a process costs its start. Where there is little to do, one core
only, or a start from a program with threads of its own on a system that would have to copy them, it is done here.
"""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, TypeVar

from advisor.knowledge import Knowledge, folders_to_read

T = TypeVar("T")
R = TypeVar("R")

CHUNK = 64
"""Items handed over at once, if not said: few enough for word of progress several times a second."""
MOST = 8
"""Processes at most."""


def cores() -> int:
    """How many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def own_folders(knowledge: Knowledge) -> tuple[Path, ...]:
    """The folders that a process must name to load the same knowledge."""
    usual = folders_to_read()
    return tuple(folder for folder in knowledge.folders if folder not in usual)


def mapped(
    work: Callable[[Sequence[T]], list[R]],
    items: Sequence[T],
    *,
    start: Callable[..., None],
    start_with: tuple[Any, ...],
    earns: int,
    chunk: int = CHUNK,
    progress: Callable[[int, int], None] | None = None,
) -> list[R]:
    """`work` on chunks of the items, its results in the order of the items.

    `start(*start_with)` is called once here, and in every process that does not begin as a copy of this one. `earns` is
    the number of items from which on processes are worth their start. Both functions must stand at the top of a module.
    """
    chunks = [items[at : at + chunk] for at in range(0, len(items), chunk)]
    found: list[R] = []
    count = min(cores(), MOST, len(chunks))
    if count < 2 or len(items) < earns:
        start(*start_with)
        for part in chunks:
            found += work(part)
            if progress:
                progress(len(found), len(items))
        return found
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    start(*start_with)  # here first, so that a fault is told as it is, and that a fork has everything ready
    # A fork copies only the thread that calls it.
    fork = sys.platform.startswith("linux") and threading.active_count() == 1
    ready = {"mp_context": get_context("fork")} if fork else {
        "mp_context": get_context("spawn"), "initializer": start, "initargs": start_with,
    }  # fmt: skip
    with ProcessPoolExecutor(count, **ready) as pool:
        for done in pool.map(work, chunks):
            found += done
            if progress:
                progress(len(found), len(items))
    return found
