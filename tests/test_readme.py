"""The README's examples are what the advisor answers today.

`python tests/test_readme.py` writes them anew after the knowledge or the wording has changed; read the difference, as the
sentences around an example may speak of it. Examples that need a stash or a make of their own are held by other tests.
"""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
EXAMPLE = re.compile(r"(?<=```\n)\$ advisor (?P<typed>(?:check|press|prewash|pick [^\n]*--cloth) [^\n]*)\n(?P<shown>.*?)(?=\n```)", re.S)
CUT = "…"
"""The line that stands for the rest of an answer."""


def answer(typed: str, stash: Path) -> list[str]:
    """What a maker without a stash or settings reads, on 80 columns."""
    own = {**os.environ, "ADVISOR_STASH": str(stash), "XDG_CONFIG_HOME": str(stash.parent), "COLUMNS": "80", "NO_COLOR": "1"}
    told = subprocess.run([sys.executable, "-m", "advisor", *shlex.split(typed)], capture_output=True, text=True, env=own, cwd=ROOT, check=True)
    return told.stdout.rstrip().splitlines()


def anew(example: re.Match[str], stash: Path) -> str:
    """The example with the answer of today, cut off after as many lines as before."""
    shown, today = example["shown"].splitlines(), answer(example["typed"], stash)
    if shown[-1] == CUT:
        today = [*today[: len(shown) - 1], CUT]
    return "\n".join([f"$ advisor {example['typed']}", *today])


def test_the_readme_shows_another_answer_than_the_one_that_is_given(tmp_path):
    text = README.read_text(encoding="utf-8")
    examples = list(EXAMPLE.finditer(text))
    assert len(examples) >= 4
    for example in examples:
        assert example.group(0) == anew(example, tmp_path / "none.db")


if __name__ == "__main__":
    nowhere = Path("/nonexistent/none.db")
    README.write_text(EXAMPLE.sub(lambda e: anew(e, nowhere), README.read_text(encoding="utf-8")), encoding="utf-8")
