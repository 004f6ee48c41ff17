"""What stands before every page: who is asked, from where, and how much may be sent.

A browser names in `Host` whom it believes to ask, so a name that a stranger points at this machine is refused; `Origin`
names the page that sends a form, so only our own pages may. What comes back may load nothing from elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LARGEST_BYTES = 64 * 1024
"""Of what is sent with one request, unless an application says otherwise."""

_POLICY = "; ".join(
    (
        "default-src 'none'",
        "style-src 'self'",
        "script-src 'self'",
        "connect-src 'self'",
        "img-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
_ALWAYS = {
    "content-security-policy": _POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    # a form of a page without any referrer would come with no origin
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}
_HARMLESS = ("GET", "HEAD")


class Guard:
    """Lets through what a browser sends that was led here by our own pages."""

    def __init__(
        self,
        app: ASGIApp,
        hosts: Collection[str],
        scheme: str,
        largest_bytes: int,
        larger: Mapping[str, int],
        refused: Callable[[Request, HTTPException], Response],
    ) -> None:
        self._app = app
        self._refused = refused
        self._hosts = hosts
        self._scheme = scheme
        self._largest = largest_bytes
        self._larger = larger

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        scope["scheme"] = self._scheme
        taken, largest = 0, self._larger.get(scope["path"], self._largest)

        async def bounded() -> Message:
            nonlocal taken
            message = await receive()
            taken += len(message.get("body", b""))
            if taken > largest:
                raise too_large(largest)
            return message

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in _ALWAYS.items():
                    headers[name] = value
                headers.setdefault("cache-control", "no-store")
            await send(message)

        refusal = self._refusal(scope["method"], Headers(scope=scope), largest)
        if refusal is None:
            await self._app(scope, bounded, guarded)
        else:
            await self._refused(Request(scope), refusal)(scope, receive, guarded)

    def _refusal(self, method: str, headers: Headers, largest: int) -> HTTPException | None:
        host = headers.get("host", "").lower()
        if host not in self._hosts:
            return HTTPException(
                421, "These pages are not asked for by that address. Use the one that was given out."
            )
        if method in _HARMLESS:
            return None
        origin = headers.get("origin")
        elsewhere = origin is not None and origin != f"{self._scheme}://{host}"
        if elsewhere or headers.get("sec-fetch-site", "same-origin") != "same-origin":
            return HTTPException(403, "This was sent by a page from elsewhere. Nothing was entered.")
        length = headers.get("content-length", "0")
        if not (length.isascii() and length.isdigit()):
            return HTTPException(400, "How much is sent cannot be read. Nothing was entered.")
        return too_large(largest) if int(length) > largest else None


def too_large(largest_bytes: int) -> HTTPException:
    """More was sent than is taken."""
    return HTTPException(
        413, f"More than {largest_bytes // 1024} KiB were sent, which is not taken. Nothing was entered."
    )
