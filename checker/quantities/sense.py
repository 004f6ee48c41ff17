"""How a value is held to a bound. The words are those of packs and of documents."""

from __future__ import annotations

from enum import StrEnum


class Sense(StrEnum):
    """What a bound asks of a value."""

    AT_LEAST = "at_least"
    ABOVE = "above"
    AT_MOST = "at_most"
    BELOW = "below"
    EXACTLY = "exactly"
    NOMINAL = "nominal"
    """The middle of a band, which goes from `MINUS` below it to `PLUS` above it."""
    PLUS = "plus"
    MINUS = "minus"
    OTHER_THAN = "other_than"
    """A value that may not be, which only a list of such values makes."""
    VALID_UNTIL = "valid_until"
    """A last day."""

    @property
    def is_lower(self) -> bool:
        """The value may not be less."""
        return self in (Sense.AT_LEAST, Sense.ABOVE)

    @property
    def is_upper(self) -> bool:
        """The value may not be more."""
        return self in (Sense.AT_MOST, Sense.BELOW)

    @property
    def is_inclusive(self) -> bool:
        """One side is open, and the bound itself passes."""
        return self in (Sense.AT_LEAST, Sense.AT_MOST)

    @property
    def is_spread(self) -> bool:
        """No bound of itself: how wide a band is."""
        return self in (Sense.PLUS, Sense.MINUS)

    @property
    def twin(self) -> Sense | None:
        """The same bound, strict for inclusive or the other way round."""
        return _TWINS.get(self)

    @property
    def words(self) -> str:
        """As in "at most"."""
        return self.replace("_", " ")


_TWINS = {
    Sense.AT_LEAST: Sense.ABOVE,
    Sense.ABOVE: Sense.AT_LEAST,
    Sense.AT_MOST: Sense.BELOW,
    Sense.BELOW: Sense.AT_MOST,
}

WRITTEN = tuple(Sense)[:6]
"""Those that a limit is written with, each alone a bound."""
