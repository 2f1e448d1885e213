"""Posted forms: read within limits, their token checked, and handed to a plain function in a thread."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response

from advisor.errors import Unclear
from advisor.page.safety import SESSION

MOST_FIELDS = 400
MOST_TEXT = 200_000
"""Characters of one field: a make's file pasted whole is the longest."""


@dataclass(frozen=True)
class Upload:
    """A file that came with a form: its name as the sender called it (never used as a path), and its bytes."""

    name: str
    data: bytes


@dataclass(frozen=True)
class Posted:
    """The fields of a form as they came."""

    pairs: tuple[tuple[str, str], ...]
    files: dict[str, Upload] = field(default_factory=dict, hash=False)
    fits: bool = False

    def text(self, name: str) -> str:
        return next((value for key, value in self.pairs if key == name), "")

    def every(self, name: str) -> list[str]:
        return [value for key, value in self.pairs if key == name]

    @property
    def fields(self) -> dict[str, str]:
        """The first text of each field, to fill the form in again."""
        return dict(reversed(self.pairs))

    def sure(self) -> None:
        """Raises `Unclear` where the form's token is not this session's; the page is then shown again, filled in."""
        if not self.fits:
            raise Unclear(
                "a page that was opened before the advisor was last started",
                "the same button once more; everything that you typed is still here",
            )


def posted(handler: Callable[[Request, Posted], Response]) -> Callable[[Request], Awaitable[Response]]:
    """An endpoint that reads the form, then runs `handler` in a thread."""

    async def endpoint(request: Request) -> Response:
        pairs: list[tuple[str, str]] = []
        files: dict[str, Upload] = {}
        async with request.form(max_files=2, max_fields=MOST_FIELDS, max_part_size=MOST_TEXT * 4) as form:
            for name, value in form.multi_items():
                if isinstance(value, UploadFile):
                    data = await value.read()
                    if data or value.filename:
                        files[name] = Upload((value.filename or "")[-100:], data)
                else:
                    pairs.append((name, value[:MOST_TEXT]))
        given = dict(pairs).get("token", "")
        guard = request.app.state.guard
        fits = guard.fits(request.cookies.get(SESSION, ""), given)
        return await run_in_threadpool(handler, request, Posted(tuple(pairs), files, fits))

    return endpoint
