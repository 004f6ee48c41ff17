"""Signatures of entries: an official's key, kept outside the record and unlocked by a PIN.

Initials say who an entry is said to be by; a signature shows that whoever made it had the official's key. The key is
Ed25519 (RFC 8032, recalled), kept as encrypted PKCS #8; the library that signs is loaded only here.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import Any

from checker.meeting.record.branches import original
from checker.meeting.record.chain import RecordEntry, RecordFault
from checker.meeting.record.content_form import NotReadable, read_content
from checker.meeting.record.contents import Brought, SignedOn
from checker.meeting.record.refusal import refusal
from checker.reading.file_bytes import open_file
from checker.reading.quick_dataclasses import dataclass

SHORTEST_PIN = 6
KEY_DIGITS = 64
_CODE = "MT220"


@dataclass(frozen=True, slots=True)
class Signer:
    """An unlocked key."""

    public: str
    """In hex, as the record keeps it."""
    _private: Any

    def sign(self, text: str) -> str:
        """The signature of an entry's line, in hex."""
        signed: bytes = self._private.sign(text.encode("utf-8", "surrogatepass"))
        return signed.hex()


def _library() -> Any:
    try:
        from cryptography.hazmat.primitives.asymmetric import ed25519
    except ImportError:
        hint = "install it with the program: pip install 'scrutineering-checker[sign]'"
        raise refusal(_CODE, "what signs entries is not installed", hint) from None
    return ed25519


def new_key(file: str, pin: str) -> Signer:
    """A new key in a file of its own, readable by its owner only.

    Raises:
        InputError: MT220, the PIN is too short, the file is there already or cannot be written.
    """
    ed25519 = _library()
    from cryptography.hazmat.primitives import serialization as form

    if len(pin) < SHORTEST_PIN:
        hint = "whoever has the file can try PINs as fast as the computer goes: a few words are better"
        raise refusal(_CODE, f"a PIN has at least {SHORTEST_PIN} characters", hint)
    private = ed25519.Ed25519PrivateKey.generate()
    data = private.private_bytes(
        form.Encoding.PEM, form.PrivateFormat.PKCS8, form.BestAvailableEncryption(pin.encode())
    )
    try:
        number = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with open(number, "wb") as opened:
            opened.write(data)
    except OSError as error:
        raise refusal(_CODE, f"the key '{file}' cannot be written: {error.strerror or error}") from None
    return _signer(private)


def unlocked(file: str, pin: str) -> Signer:
    """The key of a file.

    Raises:
        InputError: MT220, there is none, or the PIN is another.
    """
    ed25519 = _library()
    from cryptography.hazmat.primitives.serialization import load_pem_private_key

    try:
        with open_file(file) as opened:
            private = load_pem_private_key(opened.read(), pin.encode())
    except OSError as error:
        raise refusal(_CODE, f"the key '{file}' cannot be read: {error.strerror or error}") from None
    except (ValueError, TypeError):
        raise refusal(_CODE, f"the key '{file}' is not unlocked by this PIN") from None
    if not isinstance(private, ed25519.Ed25519PrivateKey):
        raise refusal(_CODE, f"'{file}' is no key of this program")
    return _signer(private)


def _signer(private: Any) -> Signer:
    return Signer(private.public_key().public_bytes_raw().hex(), private)


def _is_by(public: str, text: str, signed: str) -> bool:
    ed25519 = _library()
    from cryptography.exceptions import InvalidSignature

    try:
        key = ed25519.Ed25519PublicKey.from_public_bytes(bytes.fromhex(public))
        key.verify(bytes.fromhex(signed), text.encode("utf-8", "surrogatepass"))
    except (InvalidSignature, ValueError):
        return False
    return True


def signature_faults(
    entries: Sequence[RecordEntry], signed: Mapping[int, str], *, check: bool
) -> list[RecordFault]:
    """Every entry that an official who signs did not sign, or that bears what is no signature of his.

    Args:
        entries: All of them, in order.
        signed: The signatures by the number of their entry.
        check: Whether to check them, which takes the library; without it only that they are there.

    Raises:
        InputError: MT220, the library is not installed.
    """
    keys: dict[str, str] = {}
    found: list[RecordFault] = []
    for entry in entries:
        what, public = f"entry {entry.number} ({entry.kind})", keys.get(entry.by)
        signature = signed.get(entry.number)
        if public is None and signature is not None:
            found.append(RecordFault(entry.number, "MT412", f"{what} is signed, and {entry.by} has no key"))
        elif public is not None and signature is None:
            found.append(RecordFault(entry.number, "MT412", f"{what} is not signed, though {entry.by} signs"))
        elif (
            public is not None
            and signature is not None
            and check
            and not _is_by(public, entry.text, signature)
        ):
            found.append(
                RecordFault(entry.number, "MT412", f"{what} bears no signature by the key of {entry.by}")
            )
        if entry.kind in (SignedOn.KIND, Brought.KIND):
            try:
                content = read_content(entry)
                if isinstance(content, Brought) and not content.left:
                    content = read_content(original(content))
            except NotReadable:
                continue
            if isinstance(content, SignedOn) and content.key:
                keys[content.initials] = content.key
    return found
