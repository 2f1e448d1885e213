"""Whole lists: rows a second from numbers and from free text, and whether memory stays flat over millions of rows."""

from __future__ import annotations

import csv
import gc
import random
import sys
import time
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from measuring import Figure, megabytes

sys.path.append(str(Path(__file__).parent.parent / "lists"))

if TYPE_CHECKING:
    from advisor.columns.batch import Batch
    from advisor.columns.judging import ManyJudge
    from advisor.knowledge import Knowledge

BATCH = 4096


def random_batch(judge: ManyJudge, knowledge: Knowledge, count: int, seed: int) -> Batch:
    """Cloths of random figures: no two alike, ranges up to a seventh of what is possible, a tenth of the marks."""
    import numpy as np

    from advisor.columns.batch import Batch, is_number

    dice, batch = np.random.default_rng(seed), Batch(count)
    for name in sorted(judge.fields()):
        kind, _, own = name.partition(".")
        if kind == "property":
            prop = knowledge.properties[own]
            low = dice.uniform(prop.domain.low, prop.assumed.high, count)
            high = np.minimum(low + dice.uniform(0, prop.domain.high - prop.domain.low, count) / 7, prop.domain.high)
            batch.numbers[name] = (low, np.maximum(low, high))
        elif is_number(name):
            share = np.where(dice.random(count) < 0.15, dice.uniform(1, 100, count), 0.0)
            batch.numbers[name] = (share, share)
        else:
            possible = dice.random(count) < 0.1
            batch.marks[name] = (possible & (dice.random(count) < 0.6), possible)
    return batch


def numeric(rows: int = 100_000) -> list[Figure]:
    """Rows a second of this process's own time, from columns of numbers, for one feature, two, and a whole make."""
    from advisor.asks import read_ask
    from advisor.columns.judging import ManyJudge
    from advisor.knowledge import load, shipped_folder
    from advisor.makes import asks_of, context_of, read_make

    knowledge = load()
    make = read_make(shipped_folder() / "makes" / "summer-wrap-blouse.yaml")
    asked = {
        "one feature": ([read_ask("covered buttons", knowledge)], []),
        "two features": ([read_ask("covered buttons", knowledge), read_ask("flounce", knowledge)], []),
        "a whole make": (asks_of(make, knowledge), context_of(make, knowledge)),
    }
    found = []
    for name, (asks, context) in asked.items():
        judge = ManyJudge(asks, context, knowledge)
        batches = [random_batch(judge, knowledge, BATCH, seed) for seed in range(max(2, rows // BATCH // 8))]
        start = time.process_time()
        for batch in batches:
            judge.derive(batch)
            judge.judge(batch)
        took = time.process_time() - start
        aim = 50_000 if name != "a whole make" else None
        found.append(Figure(f"numbers, {name}", len(batches) * BATCH / took, "rows/s", aim, "a core"))
    return found


def free_text(rows: int = 30_000) -> list[Figure]:
    """Descriptions a second of this process's own time, all different, and again when they are met a second time."""
    from merchants import merchants

    from advisor.asks import read_ask
    from advisor.knowledge import load
    from advisor.sifting.sieve import Question, Sieve

    knowledge = load()
    texts = list(dict.fromkeys(islice(merchants(knowledge, 21), rows)))
    sieve = Sieve(Question((read_ask("covered buttons", knowledge), read_ask("flounce", knowledge))), knowledge)
    gc.collect(), gc.disable()
    found = []
    for what, aim in (("free text, all different", 5_000), ("free text, met before", None)):
        start = time.process_time()
        for at in range(0, len(texts), 2048):
            sieve.judge(texts[at : at + 2048])
        found.append(Figure(what, len(texts) / (time.process_time() - start), "rows/s", aim, "a core"))
    gc.enable()
    return found


def millions(seconds: float = 240, most: int = 10_000_000) -> list[Figure]:
    """Batches of numbers made and judged until the time is up: how many rows, how fast, and how the memory went."""
    from advisor.asks import read_ask
    from advisor.columns.judging import ManyJudge
    from advisor.knowledge import load

    knowledge = load()
    judge = ManyJudge([read_ask("covered buttons", knowledge)], (), knowledge)
    done, judged, begun, early = 0, 0.0, time.monotonic(), 0.0
    while done < most and time.monotonic() - begun < seconds:
        batch = random_batch(judge, knowledge, BATCH * 4, done)
        start = time.process_time()
        judge.derive(batch)
        judge.judge(batch)
        judged += time.process_time() - start
        done += batch.count
        if not early and done >= most // 50:
            early = megabytes()
    return [
        Figure("millions of numbers: rows", done, "rows", None, f"in {time.monotonic() - begun:.0f} s, making them included"),
        Figure("millions of numbers: judging", done / judged, "rows/s", 50_000, "a core, one feature"),
        Figure("millions of numbers: memory grew", megabytes() - early, "MB", 20, f"from {early:.0f} MB after a fiftieth"),
    ]


def whole_list(folder: Path, rows: int = 1_000_000, different: int = 20_000) -> list[Figure]:
    """The whole sift of a CSV file in which descriptions repeat, as in a merchant's order book."""
    from merchants import merchants

    from advisor.asks import read_ask
    from advisor.knowledge import load
    from advisor.sifting.run import sift
    from advisor.sifting.sieve import Question

    knowledge, dice = load(), random.Random("whole list")
    texts, path = list(islice(merchants(knowledge, 31), different)), folder / "list.csv"
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["Description"])
        writer.writerows([dice.choice(texts)] for _ in range(rows))
    question = Question((read_ask("covered buttons", knowledge), read_ask("flounce", knowledge)))
    held: list[float] = []
    start, wall = time.process_time(), time.monotonic()
    sift(path, question, knowledge, out=folder / "answers.csv", progress=lambda done, total: held.append(megabytes()))
    took, wall = time.process_time() - start, time.monotonic() - wall
    fifth = held[len(held) // 5]
    return [
        Figure("a whole list, CSV to CSV", rows / took, "rows/s", None, f"{rows:,} rows, {different:,} different, {wall:.0f} s in all"),
        Figure("a whole list: memory grew", held[-1] - fifth, "MB", 20, f"from {fifth:.0f} MB after a fifth"),
    ]
