"""Who acts: officials sign on at a device with their initials and a PIN, for a while.

The PIN of an official who signs entries is that of the key; of any other it is made from the pages' secret, printed
where the pages are started, and handed out there. Attempts are limited by device and by official.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from math import ceil
from threading import RLock

from checker.meeting.record.signing import Signer, unlocked
from checker.pages.serving.tokens import is_sealed, new_visit, sealed
from checker.pages.weigh_in.kept_sign_ons import KeptSignOns
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import dataclass

PIN_DIGITS = 6
MOST_WRONG, MOST_WRONG_OF_ONE = 5, 20
"""Wrong PINs within a quarter of an hour: from one device, and of one official by whatever devices."""
_SECONDS_COUNTED = 15 * 60
IDLE_SECONDS, LONGEST_SECONDS = 2 * 3600, 12 * 3600
"""A session ends when nothing was done for so long, and at the latest after so long."""
_RENEWED_AFTER = 60

Clock = Callable[[], float]


class Attempts:
    """Counts wrong PINs; what is older than a quarter of an hour is forgotten, and a restart forgets nothing."""

    def __init__(self, clock: Clock = time.time, kept: KeptSignOns | None = None) -> None:
        self._clock = clock
        self._kept = kept or KeptSignOns()
        self.alone = RLock()
        """Held while a PIN is looked at and counted, or many at once would be tried before one is counted."""

    def wait_minutes(self, device: str, initials: str) -> int:
        """How long nothing is tried any more; 0 where it may be."""
        return max(self._wait(f"at {device}", MOST_WRONG), self._wait(f"of {initials}", MOST_WRONG_OF_ONE))

    def wrong(self, device: str, initials: str) -> None:
        """Count one; on disk when this returns.

        Raises:
            InputError: PG106, it is counted, but cannot be kept.
        """
        with self.alone:
            for name in (f"at {device}", f"of {initials}"):
                self._kept.wrong.setdefault(name, []).append(self._clock())
            for name in list(self._kept.wrong):
                self._kept.wrong[name] = self._counted(name)
                if not self._kept.wrong[name]:
                    del self._kept.wrong[name]
            self._kept.save()

    def _counted(self, name: str) -> list[float]:
        """Those within a quarter of an hour; what the clock has not reached yet was before it was set back."""
        now = self._clock()
        return [one for one in self._kept.wrong.get(name, ()) if 0 <= now - one < _SECONDS_COUNTED]

    def _wait(self, name: str, most: int) -> int:
        times = self._counted(name)
        return ceil((_SECONDS_COUNTED - (self._clock() - times[-most])) / 60) if len(times) >= most else 0


@dataclass(frozen=True, slots=True)
class Session:
    """An official at one device."""

    initials: str
    name: str
    """Random."""
    began: int
    seen: int
    """When something was last done, in seconds since 1970 as `began`."""


class Officials:
    """Those who have signed on to the meeting, and the devices at which they act."""

    def __init__(
        self,
        secret: bytes,
        key_files: Sequence[str] = (),
        clock: Clock = time.time,
        kept: KeptSignOns | None = None,
    ) -> None:
        self._secret = secret
        self._key_files = key_files
        self.signers: dict[str, Signer] = {}
        """The keys that are unlocked, by initials."""
        self._clock = clock
        self._kept = kept or KeptSignOns()
        self.attempts = Attempts(clock, self._kept)

    def pin(self, initials: str) -> str:
        """The PIN of an official who does not sign entries with a key."""
        number = int(sealed(self._secret, "pin", initials), 16) % 10**PIN_DIGITS
        return f"{number:0{PIN_DIGITS}}"

    def is_right(self, initials: str, pin: str, keys: Mapping[str, str]) -> bool:
        """Whether that is the official's PIN; it unlocks the key of one who signs.

        Args:
            keys: The public keys of those who sign, by initials.
        """
        public = keys.get(initials)
        if public is None:
            return is_sealed(
                self._secret, "asked", self.pin(initials), sealed(self._secret, "asked", pin.replace(" ", ""))
            )
        for file in self._key_files:
            try:
                signer = unlocked(file, pin)
            except InputError:
                continue
            if signer.public == public:
                self.signers[initials] = signer
                return True
        return False

    # -- sessions ----------------------------------------------------------------------------------------

    def begin(self, initials: str, visit: str) -> str:
        """What a device keeps while an official acts at it."""
        now = int(self._clock())
        return self._told(Session(initials, new_visit(), now, now), visit)

    def session(self, text: str, visit: str, keys: Mapping[str, str]) -> Session | None:
        """The session that a device shows; None where there is none, or it has ended."""
        parts = text.split(".")
        if len(parts) != 5 or not is_sealed(
            self._secret, "session", f"{visit}.{text.rpartition('.')[0]}", parts[4]
        ):
            return None
        told = Session(bytes.fromhex(parts[0]).decode(), parts[1], int(parts[2]), int(parts[3]))
        now = self._clock()
        locked = told.initials in keys and told.initials not in self.signers
        is_over = now - told.seen > IDLE_SECONDS or now - told.began > LONGEST_SECONDS
        return None if is_over or locked or told.name in self._kept.ended else told

    def renewed(self, session: Session, visit: str) -> str:
        """What the device keeps from now on; "" where that is too soon."""
        now = int(self._clock())
        if now - session.seen < _RENEWED_AFTER:
            return ""
        return self._told(Session(session.initials, session.name, session.began, now), visit)

    def end(self, session: Session) -> None:
        """The official leaves the device; on disk when this returns.

        Raises:
            InputError: PG106, it has ended, but that cannot be kept.
        """
        now = self._clock()
        ended = {**self._kept.ended, session.name: session.began}
        self._kept.ended = {name: began for name, began in ended.items() if now - began <= LONGEST_SECONDS}
        self._kept.save()

    def _told(self, session: Session, visit: str) -> str:
        text = f"{session.initials.encode().hex()}.{session.name}.{session.began}.{session.seen}"
        return f"{text}.{sealed(self._secret, 'session', f'{visit}.{text}')}"
