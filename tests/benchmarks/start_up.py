"""How long a whole command takes beside the least that typer itself takes, and how long a warm check takes.

    python tests/benchmarks/start_up.py [ROUNDS]

Both commands run in turn in one process's children, in this environment; the ratio is the median of pairs.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

FLOOR = "import typer\n\ndef main() -> None:\n    print('one line')\n\ntyper.run(main)\n"
ASKED = {
    "check": [
        "check",
        "viscose challis, 95 gsm, frays badly",
        "--for",
        "covered buttons",
        "--for",
        "flounce",
    ],
    "press": ["press", "acetate satin lining"],
    "prewash": ["prewash", "linen 185 gsm", "--care", "40 wash, line dry"],
}


def seconds(command: list[str]) -> float:
    start = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start


def main(rounds: int = 15) -> None:
    from advisor import check

    with tempfile.TemporaryDirectory() as folder:
        floor = Path(folder) / "floor.py"
        floor.write_text(FLOOR)
        print(f"{'command':<10}{'ms':>8}{'typer ms':>10}{'ratio':>8}")
        for name, words in ASKED.items():
            ours, theirs = [sys.executable, "-m", "advisor", *words], [sys.executable, str(floor)]
            seconds(ours), seconds(theirs)
            pairs = [(seconds(ours), seconds(theirs)) for _ in range(rounds)]
            ratio = statistics.median(a / b for a, b in pairs)
            a, b = (statistics.median(p[i] for p in pairs) * 1000 for i in (0, 1))
            print(f"{name:<10}{a:>8.0f}{b:>10.0f}{ratio:>8.2f}")
    check(ASKED["check"][1], ["covered buttons", "flounce"])
    times = []
    for _ in range(200):
        start = time.perf_counter()
        check(ASKED["check"][1], ["covered buttons", "flounce"])
        times.append(time.perf_counter() - start)
    print(f"warm check in process: median {statistics.median(times) * 1000:.1f} ms")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
