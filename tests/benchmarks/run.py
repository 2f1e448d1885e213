"""Every benchmark, as a table; the figures are kept with the versions of everything they rest on.

    python tests/benchmarks/run.py [start] [inference] [growth] [lists] [--rows N] [--seconds N]

Without names all are run. `results.json` beside this file keeps the last figures of each, `growth-*.svg` the pictures.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections.abc import Callable
from dataclasses import asdict
from datetime import date
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent.parent)]

import growth  # noqa: E402
import inference  # noqa: E402
import listing_speed  # noqa: E402
import start_up  # noqa: E402
from measuring import Figure, machine  # noqa: E402

RESULTS = HERE / "results.json"


def _growth() -> list[Figure]:
    rules, cloths = growth.of_rules(), growth.of_cloths()
    growth.draw(HERE / "growth-rules.svg", rules, "rules", "ms a cloth")
    growth.draw(HERE / "growth-cloths.svg", cloths, "cloths", "s")
    return growth.figures(rules, cloths)


def _lists(rows: int, seconds: float) -> list[Figure]:
    with tempfile.TemporaryDirectory() as folder:
        whole = listing_speed.whole_list(Path(folder), rows)
    return [*listing_speed.numeric(), *listing_speed.free_text(), *whole, *listing_speed.millions(seconds)]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("names", nargs="*", metavar="NAME", help="start, inference, growth or lists")
    parser.add_argument("--rows", type=int, default=1_000_000, help="rows of the whole list")
    parser.add_argument("--seconds", type=float, default=240, help="how long millions of rows are judged")
    given = parser.parse_args()
    parts: dict[str, Callable[[], list[Figure]]] = {
        "start": lambda: [*start_up.commands(), start_up.warm()],
        "inference": lambda: [*inference.against_clips(), *inference.compiling()],
        "growth": _growth,
        "lists": lambda: _lists(given.rows, given.seconds),
    }
    if unknown := [name for name in given.names if name not in parts]:
        parser.error(f"{unknown[0]}: expected {', '.join(parts)}")
    kept = json.loads(RESULTS.read_text(encoding="utf-8")) if RESULTS.exists() else {}
    for name in given.names or parts:
        before = machine()
        figures = parts[name]()
        print(f"\n{name}")
        for figure in figures:
            print(figure.line(), flush=True)
        kept[name] = {
            "day": date.today().isoformat(),
            "machine": before,
            "figures": [{**asdict(figure), "met": figure.met} for figure in figures],
        }
        RESULTS.write_text(json.dumps(kept, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
