"""How fast `advisor pick` ranks a stash: pieces a second, and the ratio to a plain Python loop over `advisor.check`.

    python tests/benchmarks/pick_stash.py [PIECES]

Three invented stashes: as people keep them (some two hundred different cloths in many colours and lengths), every piece
another cloth (each its own weight), and the same with no numpy, so that all are judged one by one. The loop over `check`
is timed on a sample in the same process and reckoned up. `command` is the whole `advisor pick --only-stash --json`.
Shown are seconds by the clock, and the ratio by processor time of all processes, which other programs cannot slow.
"""

from __future__ import annotations

import os
import platform
import random
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

MAKE = """
make: benchmark blouse
features: [wrap front, flounce: {depth_mm: 120}, narrow rolled hem, French seams, tie belt]
season: summer
care: 30 machine wash
envelope: {woven_or_knit: woven}
cloth_needed: [{width_cm: 140, length_m: 1.9}, {width_cm: 115, length_m: 2.4}]
"""
COLOURS = ("navy", "red", "sage green", "rust", "ivory", "black", "sky blue", "mustard")
SAMPLE = 60


def pieces_of(knowledge, count, *, alike, seed=7):
    """An invented stash; `alike`: from some two hundred cloths and a few weights, else every weight its own."""
    from advisor.stash.pieces import Piece, Reserved

    dice = random.Random(seed)
    names = [c.names[0] for c in knowledge.cloths.values() if c.kind == "cloth" and c.names]
    dice.shuffle(names)
    names = names[:200] if alike else names
    found = []
    for number in range(count):
        words = f"{dice.choice(COLOURS)} {dice.choice(names)}"
        if not alike or dice.random() < 0.5:
            words += f", {dice.choice((90, 120, 150, 200)) if alike else dice.randrange(60, 320) + number / count:.4g} gsm"
        length = round(dice.uniform(0.4, 5), 2)
        found.append(
            Piece(
                f"piece {number}", words, dice.choice((None, 112.0, 140.0, 150.0)), (length,), bought=str(dice.randrange(2010, 2026)),
                prewashed=dice.choice((None, True, False)), reserved=(Reserved("coat", length / 2),) if dice.random() < 0.1 else (),
            )
        )  # fmt: skip
    return found


def processor():
    """Seconds of processor time so far, of this process and those that it waited for."""
    both = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(used.ru_utime + used.ru_stime for used in both)


def main(count: int = 5000) -> None:
    import numpy

    from advisor import check, picking_many
    from advisor.knowledge import load
    from advisor.makes import parse_make
    from advisor.parallel import cores
    from advisor.stash import ranking, store
    from advisor.stash.pieces import words_for

    print(f"Python {platform.python_version()}, numpy {numpy.__version__}, {cores()} cores, load {os.getloadavg()[0]:.1f}")
    knowledge, make = load(), parse_make(MAKE)
    features = ["wrap front", "flounce 12 cm deep", "narrow rolled hem", "French seams", "tie belt"]
    print(f"{'stash of ' + format(count, ','):<26}{'s':>7}{'cpu s':>7}{'pieces/s':>10}{'check loop s':>14}{'ratio':>7}{'cpu ratio':>11}")
    for name, alike, columns in (("as people keep them", True, True), ("every one another", False, True), ("the same, no numpy", False, False)):
        pieces = pieces_of(knowledge, count, alike=alike)
        sample = random.Random(1).sample(pieces, SAMPLE)
        check(words_for(sample[0]), features, season="summer", care="30 machine wash", knowledge=knowledge)
        start, used = time.perf_counter(), time.process_time()
        for piece in sample:
            check(words_for(piece), features, season="summer", care="30 machine wash", knowledge=knowledge)
        loop, loop_used = ((t / SAMPLE) * count for t in (time.perf_counter() - start, time.process_time() - used))
        usual = picking_many.EARNS
        picking_many.EARNS = usual if columns else count + 1
        start, used = time.perf_counter(), processor()
        part, _ = ranking.rank_pieces(make, pieces, (), knowledge)
        took, took_used = time.perf_counter() - start, processor() - used
        picking_many.EARNS = usual
        assert len(part.ranking) + len(part.rejected) + len(part.not_read) == count
        print(f"{name:<26}{took:>7.2f}{took_used:>7.2f}{count / took:>10,.0f}{loop:>14.1f}{loop / took:>7.0f}{loop_used / took_used:>11.0f}")
        if columns:
            _command(pieces, count, store)


def _command(pieces, count, store) -> None:
    """The whole command, from the shell."""
    with tempfile.TemporaryDirectory() as folder:
        stash, make = Path(folder) / "stash.db", Path(folder) / "make.yaml"
        make.write_text(MAKE)
        with store.changing(stash, make=True) as db:
            for piece in pieces:
                store.add(db, piece)
        start, used = time.perf_counter(), processor()
        subprocess.run(
            [sys.executable, "-m", "advisor", "pick", str(make), "--stash", str(stash), "--only-stash", "--json"],
            check=True, stdout=subprocess.DEVNULL,
        )  # fmt: skip
        took = time.perf_counter() - start
        print(f"{'  the whole command':<26}{took:>7.2f}{processor() - used:>7.2f}{count / took:>10,.0f}")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
