"""The gear of the day: what it resolves, whether its checks were good, and which cars a bad check puts in doubt.

A pad that passed its check in the morning and fails it at noon was bad from some unknown moment in between. So a failed
check casts doubt on every car weighed since the last good check of that pad, and a pad that failed stays in doubt until
it passes again. A zero says nothing of the pad under load: zero checks and test weights are two series, each with its
own last good one. Order is that of the record, never that of the clock, save for a table that tells when its rows were
read; and an official who knows since when a pad was out can say so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from checker.car.declaration.gear_findings import same_factor
from checker.car.declaration.instruments import instruments_in
from checker.car.described.instrument import ZERO, Instrument
from checker.car.described.standard import WHEELS
from checker.car.gear.pad_checks import factor_of
from checker.car.remarks import Notice
from checker.meeting.record.car_contents import Weighed
from checker.meeting.record.car_day import Record, moment_of
from checker.meeting.record.contents import GearChecked
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import refusal
from checker.pack.model import Pack
from checker.quantities.dimension import MASS
from checker.quantities.display import decimal_text
from checker.quantities.folding import fold
from checker.quantities.kind import quantity
from checker.quantities.literal import parse_literal, parse_quantity
from checker.quantities.misread import LiteralError
from checker.quantities.units import Unit, parse_unit
from checker.reading.document import Document
from checker.reading.file_reader import Codes, FileReader
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import dataclass

KILOGRAM = parse_unit("kg", None)


@dataclass(frozen=True, slots=True)
class Gear:
    """Something that is measured with."""

    name: str
    instrument: Instrument
    unit: Unit | None
    """What its display shows, where its description says."""

    @property
    def weighs(self) -> bool:
        return self.unit is not None and self.unit.kind == quantity(MASS)

    def allowance(self, *values: Fraction) -> Fraction:
        """How far the sum of these readings may be out, at the worst, in base units."""
        gear = self.instrument
        return sum(
            (gear.permissible_error.at(v) + gear.common_error * abs(v) + gear.resolution / 2 for v in values),
            ZERO,
        )


def gear_of(pack: Pack, described: Document | None) -> dict[str, Gear]:
    """All gear by name: the pack's, and what the meeting describes, which goes before."""
    found = {
        name: Gear(name, instrument, _unit(pack.document, name, pack.vocabulary.currency))
        for name, instrument in pack.vocabulary.instruments.items()
    }
    return found if described is None else {**found, **described_gear(described, pack.vocabulary.currency)}


def described_gear(document: Document, currency: str | None) -> dict[str, Gear]:
    """The instruments of a club's gear file, which may also hold its `checks`.

    Raises:
        InputError: MT211, with every mistake found.
    """
    reader = FileReader(document, Codes("MT", 211))
    reader.known_keys(("instruments", "checks"), what="a gear file")
    found = instruments_in(reader, currency)
    if not reader.get("instruments"):
        hint = "write instruments: {pads: {resolution: 0.5 kg, ...}}"
        reader.problem(211, "the file describes no gear", hint=hint)
    reader.problems.raise_if_any()
    return {
        name: Gear(name, instrument, _unit(document, name, currency)) for name, instrument in found.items()
    }


def _unit(document: Document, name: str, currency: str | None) -> Unit | None:
    """The unit that gear shows: that of its resolution, of the interval on its plate, or of its permissible error."""
    for path in (("resolution",), ("permissible_error", "interval"), ("permissible_error",)):
        text = document.get(("instruments", name, *path))
        if isinstance(text, str):
            unit = parse_literal(text, currency).unit
            if unit is not None and unit.kind.name != "percent":
                return unit
    return None


def named_gear(all_gear: Mapping[str, Gear], name: str) -> Gear:
    """The gear of that name.

    Raises:
        InputError: MT211, there is none.
    """
    for gear in all_gear.values():
        if fold(gear.name) == fold(name):
            return gear
    hint = did_you_mean(name, all_gear) or f"known: {', '.join(all_gear)}"
    raise refusal("MT211", f"no gear '{name}' is described, in the pack or for this meeting", hint)


def scales_of(all_gear: Mapping[str, Gear], described: Document | None) -> Gear | None:
    """What cars are weighed on where nobody says: what the meeting brought, else the pack's `pads`."""
    own = described.get(("instruments",)) if described is not None else None
    for gear in all_gear.values():
        if gear.weighs and isinstance(own, dict) and gear.name in own:
            return gear
    return all_gear.get("pads") or next((gear for gear in all_gear.values() if gear.weighs), None)


def read_mass(text: str, gear: Gear | None, *, below_zero: bool = False) -> str:
    """A mass as it is recorded; a bare number is in what the gear's display shows, else it needs its unit.

    Args:
        below_zero: Whether it may be, as what a pad shows with nothing on it.

    Raises:
        InputError: MT209, it is no mass.
    """
    written = " ".join(text.split())
    if gear is not None and gear.weighs and gear.unit is not None and _is_bare(written):
        written = f"{written.replace(',', '.')} {gear.unit.name}"
    try:
        literal = parse_quantity(written, KILOGRAM.kind, None)
    except LiteralError as error:
        raise refusal("MT209", f"'{text}' is no mass: {error.message}", error.hint) from None
    if not isinstance(literal.value, Fraction) or (literal.value < 0 and not below_zero):
        raise refusal("MT209", f"'{text}' is below zero", "write what the display shows")
    return written


def _is_bare(text: str) -> bool:
    digits = text.removeprefix("-").replace(",", ".", 1)
    whole, _, part = digits.partition(".")
    return whole.isascii() and whole.isdigit() and (not part or (part.isascii() and part.isdigit()))


def kg(text: str) -> Fraction:
    """A recorded mass in kg."""
    value = parse_quantity(text, KILOGRAM.kind, None).value
    assert isinstance(value, Fraction)
    return value


def checked(gear: Gear, pad: str, applied: str, shown: str, since: str = "") -> GearChecked:
    """A check of gear: what stood on it, what it showed, and whether that is within what it may be out.

    Args:
        since: When the gear began to be out, in UTC; only where it is bad.

    Raises:
        InputError: MT209 a mass cannot be read, MT211 no such pad.
    """
    wheel = fold(pad).replace(" ", "_")
    if wheel and wheel not in WHEELS:
        hint = did_you_mean(pad, WHEELS) or f"pads bear the names of wheels: {', '.join(WHEELS)}"
        raise refusal("MT211", f"there is no pad '{pad}'", hint)
    on, shows = read_mass(applied, gear), read_mass(shown, gear, below_zero=True)
    allowed = gear.allowance(kg(on))
    good = abs(kg(shows) - kg(on)) <= allowed
    return GearChecked(
        gear.name, wheel, on, shows, allowed=f"{decimal_text(allowed)} kg", good=good, since=since
    )


def notices(day: Day, all_gear: Mapping[str, Gear]) -> list[Notice]:
    """Of each scale whether its newest checks show all pads out by one same part, though each may be good by itself."""
    shown: dict[str, dict[str, dict[Fraction, Fraction]]] = {}
    for record in day.gear_checks:
        check = record.content
        pads = shown.setdefault(check.gear, {})
        pads.setdefault(check.pad, {})[kg(check.applied)] = kg(check.shown)
    found: list[Notice] = []
    for name, pads in shown.items():
        gear = all_gear.get(name)
        plate = ("",) if set(pads) == {""} else ()
        common = factor_of(pads, gear.instrument, plate) if gear is not None else None
        if common is not None:
            found.append(same_factor(name, common[0], ("the plate",) if plate else common[1]))
    return found


# -- what a bad check puts in doubt --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class DoubtedWeighing:
    """A weighing that a bad check puts in doubt."""

    car: str
    weighing: Record[Weighed]
    check: Record[GearChecked]


def doubts(day: Day) -> list[DoubtedWeighing]:
    """Every weighing that counts today and is in doubt, in the order of the record."""
    series = _all_series(day)
    found: dict[int, DoubtedWeighing] = {}
    for car in day.cars.values():
        for occasion in car.occasions():
            for weighing in car.weighings(occasion):
                check = _bad_check(series, weighing)
                if check is not None:
                    found[weighing.place] = DoubtedWeighing(car.number, weighing, check)
    return [found[place] for place in sorted(found)]


def is_doubted(day: Day, weighings: Sequence[Record[Weighed]]) -> bool:
    """Whether a bad check puts any of these weighings in doubt, whether they still count or not."""
    series = _all_series(day)
    return any(_bad_check(series, weighing) is not None for weighing in weighings)


def _all_series(day: Day) -> dict[str, list[list[Record[GearChecked]]]]:
    """The checks of each gear, by its folded name: one list for each series, in order."""
    found: dict[str, dict[tuple[str, str, bool], list[Record[GearChecked]]]] = {}
    for check in day.gear_checks:
        series = _series(check)
        found.setdefault(series[0], {}).setdefault(series, []).append(check)
    return {
        gear: [
            sorted(checks, key=lambda check: check.read_at) if any(c.there for c in checks) else checks
            for checks in by_series.values()
        ]
        for gear, by_series in found.items()
    }


def _bad_check(
    series: Mapping[str, list[list[Record[GearChecked]]]], weighing: Record[Weighed]
) -> Record[GearChecked] | None:
    """The bad check next before or after a weighing, in any series of its gear, or one that says that the gear was out
    already when the weighing was read."""
    for checks in series.get(fold(weighing.content.gear), ()):
        later = [check for check in checks if _comes_before(weighing, check)]
        before = [check for check in checks if check not in later]
        for check in (*later, *before[-1:]):
            if check.content.good:
                continue
            since = check.content.since
            if (
                moment_of(since) <= weighing.read_at
                if since and check in later
                else check in (*later[:1], *before)
            ):
                return check
    return None


def _comes_before(weighing: Record[Weighed], check: Record[GearChecked]) -> bool:
    """By the time it was read where a table tells that, for tables and merged records come late; else by the order of
    the record."""
    if weighing.content.taken or weighing.there or check.there:
        return weighing.read_at < check.read_at
    return weighing.place < check.place


def _series(check: Record[GearChecked]) -> tuple[str, str, bool]:
    """Gear, pad, and whether something stood on it."""
    content = check.content
    return fold(content.gear), content.pad, kg(content.applied) > 0
