"""Tokens against forged requests: a form counts only if it was shown to the very browser that sends it.

A browser gets a random name in a cookie that no other site's request carries; every form holds the hash of that name
under the server's secret. So nothing is kept here, and a form that is shown before a restart with the same secret is
taken after it.
"""

from __future__ import annotations

import hmac
import re
import secrets
from hashlib import sha256

FIELD = "token"
"""Its name in a form."""
_NAME = re.compile(r"[0-9a-f]{32}", re.ASCII)


def new_secret() -> bytes:
    """A secret for one server."""
    return secrets.token_bytes(32)


def new_visit() -> str:
    """A name for a browser."""
    return secrets.token_hex(16)


def is_visit(text: str) -> bool:
    """Whether it has the form of such a name."""
    return _NAME.fullmatch(text) is not None


def sealed(secret: bytes, purpose: str, text: str) -> str:
    """The hash of a text under a secret, for one purpose alone."""
    return hmac.new(secret, f"{purpose}\n{text}".encode(), sha256).hexdigest()


def is_sealed(secret: bytes, purpose: str, text: str, seal: str) -> bool:
    """Whether that is its hash; found out in a time that tells nothing."""
    return hmac.compare_digest(sealed(secret, purpose, text).encode(), seal.encode())
