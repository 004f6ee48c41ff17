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


def own_address() -> str:
    """The address by which the network that this machine is on reaches it; nothing is sent to find it.

    Raises:
        InputError: PG104, it is on none.
    """
    asking = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
    try:
        asking.connect(("192.0.2.1", 9))  # for documentation (RFC 5737); connecting names the own end alone
        address: str = asking.getsockname()[0]
    except OSError:
        address = ""
    finally:
        asking.close()
    if not address or address.startswith("127."):
        message, cure = (
            "this machine is on no network",
            "join the club's, or name its address: --address 192.168.8.2",
        )
        raise InputError([Problem("PG104", message, None, hint=cure)])
    return address
