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
"""Items handed over at once: few enough for word of progress several times a second."""
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
    progress: Callable[[int, int], None] | None = None,
) -> list[R]:
    """`work` on chunks of the items, its results in the order of the items.

    `start(*start_with)` is called once in every process before any work (and once here where there are none). `earns`
    is the number of items from which on processes are worth their start. All three must be at the top of a module.
    """
    chunks = [items[at : at + CHUNK] for at in range(0, len(items), CHUNK)]
    found: list[R] = []
    count = min(cores(), MOST, len(chunks))
    if count < 2 or len(items) < earns:
        start(*start_with)
        for chunk in chunks:
            found += work(chunk)
            if progress:
                progress(len(found), len(items))
        return found
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    # A fork has the knowledge at once, but copies only the thread that calls it.
    fork = sys.platform.startswith("linux") and threading.active_count() == 1
    with ProcessPoolExecutor(count, get_context("fork" if fork else "spawn"), start, start_with) as pool:
        for part in pool.map(work, chunks):
            found += part
            if progress:
                progress(len(found), len(items))
    return found
