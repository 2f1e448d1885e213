"""`advisor page`: the local web page."""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path
from typing import Annotated

import typer

from advisor.cli.options import Folders
from advisor.cli.words import knowledge_from
from advisor.errors import Unclear

WARNING = """\
The page will be open to the home network, not only to this computer.
  - Anyone on the same network who has the code can read and change your stash.
  - The connection is not encrypted. Use it at home, never on a café's or a
    guest network.
  - The code in the address serves once, for one telephone. Ctrl-C closes the
    page again."""


def command(
    port: Annotated[int, typer.Option("--port", min=0, max=65535, help="Which port; a free one is taken if it is in use.")] = 8731,
    phone: Annotated[bool, typer.Option("--phone", help="Let one telephone on the home network in, with a one-time code.")] = False,
    yes: Annotated[bool, typer.Option("--yes", help="With --phone: I have read the warning.")] = False,
    stash: Annotated[Path | None, typer.Option("--stash", help="The stash's file, if not the usual one.", show_default=False)] = None,
    knowledge: Folders = [],  # noqa: B006
) -> None:
    """The page for the cutting table, on this computer alone unless --phone is said."""
    try:
        from advisor.page import serving
    except ModuleNotFoundError as error:
        if error.name and error.name.startswith("advisor"):
            raise
        raise Unclear(f"the page, which needs {error.name}", "the extra that brings it", "pip install 'fabric-advisor[page]'") from None
    from advisor.stash.place import default_path

    host, secret = "127.0.0.1", ""
    if phone:
        host = serving.home_address()
        if not serving.is_private(host):
            raise Unclear(f"--phone on the address {host}", "a home network; this address is on the open internet")
        print(WARNING, file=sys.stderr)
        if not yes:
            if not sys.stdin.isatty():
                raise Unclear("--phone without a yes", "--yes, once the warning is read")
            if not typer.confirm("Open it?", default=False, err=True):
                raise Unclear("a page that was not opened", "a yes, or no --phone")
        secret = serving.code()
    path = (stash or default_path()).absolute()
    os.environ["ADVISOR_STASH"] = str(path)  # so that 'piece:…' in a question means the stash that the page shows
    known = knowledge_from(knowledge)
    sock = serving.bound(host, port, must=False)
    at = sock.getsockname()[1]
    print(f"Open http://{host}:{at}/{f'?code={secret}' if secret else ''}", flush=True)
    print("Ctrl-C stops it.", flush=True)
    gc.enable()  # the command line switches it off for short commands; this one stays
    serving.run(known, path, sock, serving.guard_for(host, at, secret))
