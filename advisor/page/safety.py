"""What keeps the page to its own user: names of the host, one-time code, same-origin changes, size of a request, headers.

One plain ASGI layer around the whole page, so that no route can forget it. Changing requests need a session cookie
(SameSite=Strict) and its token in the form; the token is an HMAC of the cookie under a secret made at each start.
"""

from __future__ import annotations

import hmac
import secrets
from dataclasses import dataclass, field
from hashlib import sha256
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qs, urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.responses import PlainTextResponse, RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_BYTES = 16_000_000
"""The largest body of a request: a photograph from a telephone, or a long spreadsheet."""

TOO_LARGE = f"That is too large: at most {MOST_BYTES // 1_000_000} MB at a time. Go back: what you typed is still there."

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(self), geolocation=(), microphone=(), payment=(), usb=()",
    "x-frame-options": "DENY",
}
SESSION, DOOR = "advisor_session", "advisor_door"
SAFE = ("GET", "HEAD", "OPTIONS")


@dataclass(frozen=True)
class Guard:
    """The secrets and names of one run: the hosts it answers to, and the code that a phone must bring."""

    hosts: frozenset[str]
    code: str = ""
    secret: bytes = field(default_factory=lambda: secrets.token_bytes(32))

    def token(self, session: str) -> str:
        """The token that a form of this session must bring."""
        return hmac.new(self.secret, session.encode(), sha256).hexdigest()

    def fits(self, session: str, token: str) -> bool:
        return bool(session) and hmac.compare_digest(self.token(session), token)

    @property
    def door(self) -> str:
        """What the cookie holds once the code was brought: never the code itself."""
        return hmac.new(self.secret, f"door {self.code}".encode(), sha256).hexdigest()


class TooLarge(HTTPException):
    """A body beyond `MOST_BYTES`, found while it was still arriving."""

    def __init__(self) -> None:
        super().__init__(413, TOO_LARGE)


class Safety:
    """The layer itself."""

    def __init__(self, app: ASGIApp, guard: Guard) -> None:
        self.app, self.guard = app, guard
        self.spent = False
        """Whether the one-time code was used."""

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        cookies = _cookies(headers)
        session = cookies.get(SESSION, "")
        fresh = not _is_token(session)
        if fresh:
            session = secrets.token_urlsafe(24)
        scope["advisor"] = {"session": session, "token": self.guard.token(session)}

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                out = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    out.setdefault(name, value)
                if not scope["path"].startswith("/static/"):
                    out.setdefault("cache-control", "no-store")
                    if fresh:
                        out.append("set-cookie", f"{SESSION}={session}; Path=/; HttpOnly; SameSite=Strict")
            await send(message)

        refused = self._refused(scope, headers, cookies)
        if refused is not None:
            await refused(scope, receive, guarded)
            return
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > MOST_BYTES:
            await PlainTextResponse(TOO_LARGE, 413)(scope, receive, guarded)
            return
        taken = 0

        async def counted() -> Message:
            nonlocal taken
            message = await receive()
            if message["type"] == "http.request":
                taken += len(message.get("body", b""))
                if taken > MOST_BYTES:
                    raise TooLarge
            return message

        await self.app(scope, counted, guarded)

    def _refused(self, scope: Scope, headers: Headers, cookies: dict[str, str]) -> Any:
        """The answer to a request that may not pass, else None."""
        host = headers.get("host", "").lower()
        if host not in self.guard.hosts:
            return PlainTextResponse("This address is not the advisor's own. Use the one that it printed.", 421)
        if self.guard.code:
            brought = parse_qs(scope["query_string"].decode("latin-1")).get("code", [""])[0]
            if brought and not self.spent and hmac.compare_digest(brought.encode(), self.guard.code.encode()):
                self.spent = True
                answer = RedirectResponse("/", 303)
                answer.set_cookie(DOOR, self.guard.door, httponly=True, samesite="strict", path="/")
                return answer
            if not hmac.compare_digest(cookies.get(DOOR, "").encode(), self.guard.door.encode()):
                return PlainTextResponse(
                    "Open the page with the whole address that the advisor printed, code and all. "
                    "The code serves once; start 'advisor page --phone' again for a new one.",
                    403,
                )
        if scope["method"] not in SAFE and not _same_origin(headers, host):
            return PlainTextResponse("Only the advisor's own pages may change anything.", 403)
        return None


def _same_origin(headers: Headers, host: str) -> bool:
    """Whether a changing request comes from a page of our own; a browser always says so in one of these."""
    site, origin = headers.get("sec-fetch-site"), headers.get("origin")
    if site is not None and site != "same-origin":
        return False
    if origin is not None:
        return urlsplit(origin).netloc.lower() == host
    return site == "same-origin" or urlsplit(headers.get("referer", "")).netloc.lower() == host


def _cookies(headers: Headers) -> dict[str, str]:
    try:
        return {name: morsel.value for name, morsel in SimpleCookie(headers.get("cookie", "")).items()}
    except CookieError:
        return {}


def _is_token(text: str) -> bool:
    return len(text) == 32 and all(c.isalnum() or c in "-_" for c in text) and text.isascii()

