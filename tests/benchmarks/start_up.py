"""How long a whole command takes beside the least that typer itself takes, and how long a warm check takes.

    python tests/benchmarks/start_up.py [ROUNDS]

Both commands run in turn, in this environment, with their byte code at hand as after an installation; the ratio is the
median of pairs, so that whatever else the machine does weighs on both.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from measuring import Figure

FLOOR = "import typer\n\ndef main() -> None:\n    print('one line')\n\ntyper.run(main)\n"
CLOTH, FEATURES = "viscose challis, 95 gsm, frays badly", ["covered buttons", "flounce"]
ASKED = {
    "check": ["check", CLOTH, "--for", "covered buttons", "--for", "flounce"],
    "press": ["press", "acetate satin lining"],
    "prewash": ["prewash", "linen 185 gsm", "--care", "40 wash, line dry"],
}


def commands(rounds: int = 15) -> list[Figure]:
    """Each command as a ratio to a typer program of one command that prints one line."""
    found = []
    with tempfile.TemporaryDirectory() as folder:
        floor = Path(folder) / "floor.py"
        floor.write_text(FLOOR)
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": folder}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)

        def seconds(command: list[str]) -> float:
            start = time.perf_counter()
            subprocess.run(command, check=True, stdout=subprocess.DEVNULL, env=environment)
            return time.perf_counter() - start

        for name, words in ASKED.items():
            ours, theirs = [sys.executable, "-m", "advisor", *words], [sys.executable, str(floor)]
            seconds(ours), seconds(theirs)
            pairs = [(seconds(ours), seconds(theirs)) for _ in range(rounds)]
            a, b = (statistics.median(p[i] for p in pairs) * 1000 for i in (0, 1))
            ratio = statistics.median(mine / least for mine, least in pairs)
            found.append(Figure(f"advisor {name} / typer", ratio, "×", 1.5, f"{a:.0f} ms to {b:.0f} ms"))
    return found


def warm(rounds: int = 300) -> Figure:
    """One check in a process that has done some already."""
    from advisor import check

    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        check(CLOTH, FEATURES)
        times.append(time.perf_counter() - start)
    times = sorted(times[10:])
    least = times[len(times) // 10] * 1000
    return Figure("warm check", statistics.median(times) * 1000, "ms", 3, f"10th centile {least:.1f} ms")


def main(rounds: int = 15) -> None:
    for figure in (*commands(rounds), warm()):
        print(figure.line())


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
