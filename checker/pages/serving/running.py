"""Runs an application until Ctrl-C."""

from __future__ import annotations

import socket
import ssl
from contextlib import suppress
from types import FrameType

import uvicorn
from starlette.applications import Starlette

from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass

_SECONDS_TO_END = 2
_MOST_CONNECTIONS = 1000


@dataclass(frozen=True, slots=True)
class Certificate:
    """Files with which connections are encrypted."""

    certificate: str
    key: str

    @classmethod
    def read(cls, certificate: str, key: str) -> Certificate:
        """The two files, once it is sure that they go together.

        Raises:
            InputError: PG105, they cannot be used.
        """
        try:
            ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(certificate, key, password=lambda: "")
        except (OSError, ValueError) as error:
            reason = getattr(error, "reason", None) or getattr(error, "strerror", None) or error
            message = f"'{certificate}' and '{key}' cannot be used to encrypt: {reason}"
            hint = "give a certificate with its chain and its own private key without a password, both as PEM"
            raise InputError([Problem("PG105", message, None, hint=hint)]) from None
        return cls(certificate, key)


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
