"""Our own styles and scripts: read once, from a list, and each served under a name that holds its hash."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping
from hashlib import sha256
from importlib.resources import files
from types import MappingProxyType

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from checker.report.html.rendering import page_style

PAGE_STYLE = "page.css"
_TYPES = {"css": "text/css; charset=utf-8", "js": "text/javascript; charset=utf-8"}


def read_assets(package: str, *names: str) -> dict[str, bytes]:
    """Files of the folder `assets` of a package, by their names."""
    return {name: files(package).joinpath("assets", name).read_bytes() for name in names}


class Assets:
    """What may be fetched beside pages; every page has the style sheet of the reports."""

    def __init__(self, given: Mapping[str, bytes]) -> None:
        self._all = {PAGE_STYLE: page_style().encode(), **given}
        self.addresses: Mapping[str, str] = MappingProxyType(
            {name: f"/assets/{sha256(data).hexdigest()[:16]}/{name}" for name, data in self._all.items()}
        )
        """By name: where it is fetched from."""

    def routes(self) -> list[Route]:
        """One for each."""
        return [Route(self.addresses[name], _sender(name, data)) for name, data in self._all.items()]


def _sender(name: str, data: bytes) -> Callable[[Request], Awaitable[Response]]:
    headers = {"cache-control": "public, max-age=31536000, immutable"}
    media_type = _TYPES[name.rpartition(".")[2]]

    async def send(_: Request) -> Response:
        return Response(data, media_type=media_type, headers=headers)

    return send
