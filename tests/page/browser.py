"""A real browser for the page: Debian's Chromium, without a window, told to ask nobody but the page."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

SIZES = {"phone": (360, 740), "table": (1280, 800)}
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip


def chromium() -> str | None:
    """Where Chromium is, if it is anywhere."""
    named = os.environ.get("CHROMIUM")
    return named if named and os.path.exists(named) else shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")


class Watch:
    """What a page did that it should not: errors in its console, faults of its script, requests to another host."""

    def __init__(self, page, home: str) -> None:
        self.faults: list[str] = []
        self.expected: set[str] = set()
        """Words of console lines that a test brings about itself."""
        page.on("console", lambda m: self._say("console", m.text) if m.type in ("error", "warning") else None)
        page.on("pageerror", lambda e: self._say("script", str(e)))
        page.on("request", lambda r: None if r.url.startswith((home, "data:", "blob:")) else self._say("outside", r.url))

    def _say(self, kind: str, text: str) -> None:
        if not any(word in text for word in self.expected):
            self.faults.append(f"{kind}: {text}")


@contextmanager
def serving(desk) -> Iterator[str]:
    """The page on a free port, in a thread; gives its address."""
    import threading
    import time

    import uvicorn

    from advisor.page.app import build
    from advisor.page.serving import bound, guard_for

    sock = bound("127.0.0.1", 0, must=True)
    port = sock.getsockname()[1]
    server = uvicorn.Server(uvicorn.Config(build(desk, guard_for("127.0.0.1", port)), log_level="error", lifespan="off", timeout_graceful_shutdown=1))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [sock]}, daemon=True)
    thread.start()
    for _ in range(100):
        if server.started:
            break
        time.sleep(0.05)
    try:
        yield f"http://127.0.0.1:{port}"
    finally:
        server.should_exit = True
        thread.join(10)
        sock.close()
