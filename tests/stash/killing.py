"""Programs that are killed at a moment of choice, as a fault of the power would."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]


def python(code: str, *arguments: object, **options: Any) -> subprocess.Popen[str]:
    """A program of its own that runs this code."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.Popen([sys.executable, "-c", code, *map(str, arguments)], text=True, env=environment, **options)


def killed(code: str, *arguments: object, after: float, ready: str) -> str:
    """What a program printed until it was killed `after` seconds past its `ready` line."""
    with tempfile.TemporaryDirectory() as folder:
        told = Path(folder) / "told"
        with told.open("w") as out:  # read by a handle of our own: the program's place in the file must not move
            child = python(code, *arguments, stdout=out, stderr=subprocess.STDOUT)
        deadline = time.monotonic() + 60
        while child.poll() is None and time.monotonic() < deadline and ready not in told.read_text():
            time.sleep(0.002)
        time.sleep(after)
        child.send_signal(signal.SIGKILL)
        child.wait()
        return told.read_text()
