"""Runs an application until Ctrl-C."""

from __future__ import annotations

import socket
from contextlib import suppress
from types import FrameType

import uvicorn
from starlette.applications import Starlette

from checker.reading.quick_dataclasses import dataclass

_SECONDS_TO_END = 2
_MOST_CONNECTIONS = 1000


@dataclass(frozen=True, slots=True)
class Certificate:
    """Files with which connections are encrypted."""

    certificate: str
    key: str


class _Server(uvicorn.Server):
    """Tells pages that go on by themselves that the end has come, so that none holds it up."""

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        app = self.config.app
        assert isinstance(app, Starlette)
        app.state.ending.set()
        super().handle_exit(sig, frame)


def serve(app: Starlette, listening: socket.socket, certificate: Certificate | None = None) -> None:
    """Serve until Ctrl-C, which is the way to end it and no failure."""
    config = uvicorn.Config(
        app,
        log_config=None,
        log_level="critical",
        access_log=False,
        lifespan="off",
        ws="none",
        server_header=False,
        proxy_headers=False,
        limit_concurrency=_MOST_CONNECTIONS,
        timeout_graceful_shutdown=_SECONDS_TO_END,
        ssl_certfile=certificate.certificate if certificate else None,
        ssl_keyfile=certificate.key if certificate else None,
    )
    with suppress(KeyboardInterrupt), listening:
        _Server(config).run([listening])
