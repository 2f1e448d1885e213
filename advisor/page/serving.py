"""Starting the page: a free port, the address, and what must be said before a home network may look in."""

from __future__ import annotations

import errno
import secrets
import socket
import threading
from pathlib import Path

from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.page.app import build
from advisor.page.desk import Desk
from advisor.page.safety import Guard

PORT = 8731
LETTERS = "23456789abcdefghjkmnpqrstuvwxyz"
"""Of a one-time code: none that are taken for another when typed from a screen."""


def bound(host: str, port: int, *, must: bool) -> socket.socket:
    """A socket that listens on this port, or on a free one where it is taken and need not be this; raises `Unclear`."""
    for wanted in (port,) if must else (port, 0):
        # The protocol is named, or asyncio would not switch off Nagle's algorithm and every answer would wait 40 ms.
        sock = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        sock.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            sock.bind((host, wanted))
        except OSError as error:
            sock.close()
            if error.errno == errno.EADDRINUSE and not must and wanted:
                continue
            raise Unclear(f"port {wanted} on {host}", f"a port that is free ({error.strerror})", "another --port") from None
        return sock
    raise AssertionError("unreachable")


def home_address() -> str:
    """This computer's address on the home network, found without sending anything; raises `Unclear`."""
    probe = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
    try:
        probe.connect(("192.0.2.1", 9))  # a documentation address (RFC 5737): a datagram socket sends nothing on connect
        found = str(probe.getsockname()[0])
    except OSError:
        found = ""
    finally:
        probe.close()
    if not found or found.startswith("127.") or found == "0.0.0.0":
        raise Unclear("--phone without a network", "a computer that is on the home network")
    return found


def is_private(address: str) -> bool:
    """Whether an address belongs to a home network (RFC 1918, or link-local) and not to the open internet."""
    from ipaddress import ip_address

    return ip_address(address).is_private


def code() -> str:
    """A one-time code of eight letters and figures, 39 bits."""
    return "".join(secrets.choice(LETTERS) for _ in range(8))


def guard_for(host: str, port: int, secret_code: str = "") -> Guard:
    """The names under which the page may be asked for."""
    names = {host} if secret_code else {host, "127.0.0.1", "localhost"}
    hosts = {f"{name}:{port}" for name in names} | ({*names} if port == 80 else set())
    return Guard(frozenset(hosts), secret_code)


def run(knowledge: Knowledge, stash: Path, sock: socket.socket, guard: Guard) -> None:
    """Serves until it is stopped."""
    import uvicorn

    desk = Desk(knowledge, stash)
    threading.Thread(target=desk.warm, daemon=True).start()
    config = uvicorn.Config(
        build(desk, guard), log_level="warning", access_log=False, server_header=False, lifespan="off",
        timeout_graceful_shutdown=2, h11_max_incomplete_event_size=64_000,
    )  # fmt: skip
    uvicorn.Server(config).run(sockets=[sock])
