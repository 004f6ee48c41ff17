"""What the car weighs, on which wheels, in any state.
A state differs from the weighing by what it names: fuel on board, the driver, the tyre set, wear. What it
leaves out is as weighed. The weights are those of the weighing plus what each difference adds
(`checker.car.weights.differences`), so a state equal to the weighing gives the weighing itself, to the last digit.

Single wheels and the cross weight depend on springs, bars and pressures. They are measured, never
predicted: in any state but the weighed one they are unknown.
"""

from __future__ import annotations

from fractions import Fraction

from checker.car.described.asking import Described
from checker.car.described.standard import WHEELS
from checker.car.reasons import NotOfCar
from checker.car.weights.differences import WeightChange, changes
from checker.car.weights.geometry import MaybeFraction
from checker.car.weights.what_if import altered
from checker.quantities.amount import Statement, kilograms
from checker.quantities.kind import Unknown, unite, where_known
from checker.reading.quick_dataclasses import dataclass, field

PAIRS = ("total", "front", "rear", "left", "right")
"""What can be told in every state; `inside` and `outside` are two of these."""


@dataclass(frozen=True, slots=True)
class State:
    """One state of the car. None: as weighed."""

    fuel: Fraction | Unknown | None = None
    """mm3 on board; unknown where it is a full tank of unknown capacity."""
    driver: str | None = None
    """ "out" or "aboard"."""
    tyres: str | Unknown | None = None
    """Name of the tyre set; unknown where every set is meant and none is declared."""
    wear: Fraction | None = None
    """0 new to 1 worn, all four wheels alike."""
    fuel_fact: str = ""
    """The fact that says how much fuel it is, as "fuel.capacity": then the fact's error is the fuel's."""
    words: str = field(default="as weighed", compare=False)
    """For reports: "0 L on board, driver out, dry tyres, worn"."""
    _hash: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        # States are looked up again and again, and a fraction takes long to hash.
        object.__setattr__(self, "_hash", hash((self.fuel, self.driver, self.tyres, self.wear)))

    def __hash__(self) -> int:
        return self._hash

    @property
    def is_as_weighed(self) -> bool:
        return self.fuel is None and self.driver is None and self.tyres is None and self.wear is None


class Weights:
    __slots__ = ("_base", "_found", "_inside", "changes")

    def __init__(self, car: Described, state: State | None, which: int | None) -> None:
        """As `Car.weights`, which keeps what it has worked out.

        Args:
            state: None: as weighed.
            which: Which repeat reading counts, from 0; None: the mean of all.
        """
        self._base = car.worked_out(as_weighed, which).result
        self._found: dict[str, MaybeFraction] = {}
        self._inside = car.inside
        wanted = None if state is None or state.is_as_weighed else state
        what_if = car.worked_out(altered)
        self.changes: tuple[WeightChange, ...] = (
            *(WeightChange(words, kg, what_if.in_order) for words, kg in what_if.result),
            *(() if wanted is None else changes(car, wanted)),
        )
        """What differs from the weighing, each with what it adds."""

    def weight(self, name: str) -> MaybeFraction:
        """`weight.NAME` in kg, or unknown.

        Raises:
            KeyError: There is no weight of that name.
        """
        if name == "cross":
            inside = self._inside
            outside = "right" if inside == "left" else "left"
            return where_known(
                lambda a, b: a + b, self._wheel(f"front_{outside}"), self._wheel(f"rear_{inside}")
            )
        name = by_side(self._inside, name)
        if name in WHEELS:
            return self._wheel(name)
        if name not in self._found:
            parts = [amount for _, amount in self.steps(name)]
            self._found[name] = where_known(lambda first, *more: sum(more, first), *parts)
        return self._found[name]

    def percentage(self, name: str) -> MaybeFraction:
        """`percentage.NAME`, the part of the total as a ratio (53 % is 53/100), or unknown."""
        return share_of(self.weight(name), self.weight("total"))

    def steps(self, name: str) -> tuple[tuple[str | Statement, MaybeFraction], ...]:
        """How the weight of two wheels or all is made up: the weighing first, then each change, in kg.

        Raises:
            KeyError: It is not one of `PAIRS`, `inside` and `outside`.
        """
        name = by_side(self._inside, name)
        return (
            ("as weighed", self._base[name]),
            *((change.words, change.kg[name]) for change in self.changes),
        )

    def _wheel(self, name: str) -> MaybeFraction:
        if self.changes:
            return Unknown.because(NotOfCar.AS_WEIGHED_ONLY, name)
        return self._base[name]


def share_of(part: MaybeFraction, total: MaybeFraction) -> MaybeFraction:
    """The part of a total as a ratio, or unknown."""
    if isinstance(part, Unknown) or isinstance(total, Unknown):
        return unite(value for value in (part, total) if isinstance(value, Unknown))
    if total <= 0:
        return Unknown.because(NotOfCar.NO_TOTAL, kilograms(Fraction(0)))
    return part / total


def by_side(inside: str, name: str) -> str:
    """The name with left or right for inside or outside."""
    if not name.endswith("side"):
        return name
    outside = "right" if inside == "left" else "left"
    return name.replace("inside", inside).replace("outside", outside)


def as_weighed(car: Described, which: int | None) -> dict[str, MaybeFraction]:
    """kg of every pair and wheel, as far as the weighing tells them.

    Args:
        which: Which repeat reading counts, from 0; None: the mean of all.
    """
    loads = car.loads(which)
    if not loads:
        nothing = Unknown(absent=("weighing.readings",))
        return dict.fromkeys((*PAIRS, *WHEELS), nothing)
    untold = Unknown.because(NotOfCar.GIVES_ONLY, " and ".join(loads))
    found: dict[str, MaybeFraction] = dict.fromkeys((*PAIRS, *WHEELS), untold)
    found.update(loads)
    if len(loads) == len(WHEELS):
        for name in PAIRS[1:]:
            found[name] = sum(
                (load for wheel, load in loads.items() if name in wheel.split("_")), Fraction(0)
            )
    found["total"] = sum(loads.values(), Fraction(0))
    return found
