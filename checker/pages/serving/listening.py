"""Where a server listens, and by which names it may be asked for."""

from __future__ import annotations

import errno
import socket

from checker.reading.problems import InputError, Problem

LOOPBACK = "127.0.0.1"
"""What only the machine itself can reach."""
_WEB_PORTS = {"http": 80, "https": 443}


def listen(address: str, port: int) -> socket.socket:
    """A socket that waits for browsers.

    Args:
        address: IPv4, one of the machine's own.
        port: 0 for any that is free.

    Raises:
        InputError: PG102, it cannot be had.
    """
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # else a restart waits for a minute
        listening.bind((address, port))
        listening.listen(128)
    except OSError as error:
        listening.close()
        raise InputError([_refused(error, address, port)]) from None
    return listening


def _refused(error: OSError, address: str, port: int) -> Problem:
    if error.errno == errno.EADDRINUSE:
        message = f"port {port} of {address} is taken by another program"
        cure = "end that one, or choose another: --port 0 takes any that is free"
    elif error.errno in (errno.EACCES, errno.EPERM):
        message, cure = f"port {port} is kept for the system", "choose one from 1024 on, or --port 0"
    elif error.errno == errno.EADDRNOTAVAIL:
        message, cure = f"{address} is no address of this machine", "give one of its own"
    else:
        message, cure = f"port {port} of {address} cannot be had: {error.strerror or error}", ""
    return Problem("PG102", message, None, hint=cure)


def port_of(listening: socket.socket) -> int:
    """Its port."""
    port: int = listening.getsockname()[1]
    return port


def hosts_of(names: tuple[str, ...], port: int, scheme: str = "http") -> frozenset[str]:
    """What a browser that was sent here says whom it asks: each name with the port, without it where that is usual."""
    told = {f"{name}:{port}" for name in names}
    return frozenset(told | set(names) if _WEB_PORTS[scheme] == port else told)
