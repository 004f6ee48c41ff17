"""Lots that anybody can draw again: an order that follows from words and numbers alone.

Each car's lot is the SHA-256 of the seed, a colon and its number; the cars go by their lots, the smallest first. So the
draw can be checked with any tool that computes SHA-256, and does not depend on this program or its language.
"""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256


def lot(seed: str, car: str) -> str:
    """A car's lot, in hex."""
    return sha256(f"{seed}:{car}".encode()).hexdigest()


def in_drawn_order(seed: str, cars: Iterable[str]) -> list[str]:
    """Cars in the order of their lots."""
    return sorted(cars, key=lambda car: lot(seed, car))
