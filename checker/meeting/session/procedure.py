"""How the club goes about scrutineering: how often a car is weighed, what counts, what is looked at in which order.

The rulebook says what is legal; this says how the day runs. It stands in a file of its own, `procedure.yaml` beside the
pack, and is kept in the record with the pack. Without one, a car is weighed once, may be weighed again, and no step is
laid down.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from checker.car.gear.weighing import PADS
from checker.meeting.record.refusal import CODES
from checker.pack.model import Pack
from checker.quantities.folding import fold
from checker.reading.document import Document
from checker.reading.file_reader import FileReader
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path

MEAN, LAST = "mean", "last"
ALWAYS, AFTER_A_FAIL, NEVER = "always", "after a fail", "never"
_CODE = "MT250"
assert _CODE in CODES


@dataclass(frozen=True, slots=True)
class Step:
    """One station of the day: the scales, or clauses that are looked at."""

    name: str
    weighing: bool = False
    clauses: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Success:
    """How a place at one meeting becomes success ballast at the next, in the pack's own facts."""

    place: str
    """The fact that takes the place at the meeting before."""
    places: Mapping[int, str]
    """The word for each place that counts."""
    others: str
    """The word for every other place."""
    carried_over: str = ""
    """The fact that takes what was due before; "" where nothing adds up."""
    due: str = ""
    """The derived value of the pack that tells what is due."""


@dataclass(frozen=True, slots=True)
class Procedure:
    """How a day runs."""

    weighings: int = 1
    pads: str = PADS[0]
    """How the pads stand for the second and every later weighing of a set."""
    counts: str = MEAN
    """Which of a set's weighings count: their mean, or the last."""
    presented: Mapping[str, str] = field(default_factory=dict)
    """What a car is to be like on the scales: fuel, driver, tyres, wear."""
    reweigh: str = ALWAYS
    reweigh_at_most: int | None = None
    incidents: tuple[str, ...] = ()
    """What is a reason to weigh again though the car did not fail, and uses up nobody's re-weighing."""
    prepare: tuple[str, ...] = ()
    steps: tuple[Step, ...] = ()
    after_race_weighings: int = 1
    after_race_prepare: tuple[str, ...] = ()
    after_race_clauses: tuple[str, ...] = ()
    """Clauses that are looked at after a race, whatever happened in it."""
    success: Success | None = None

    def weighings_on(self, first: bool) -> int:
        """How many weighings a set has, at scrutineering (`first`) or after a race."""
        return self.weighings if first else self.after_race_weighings


def read_procedure(document: Document, pack: Pack) -> Procedure:
    """The procedure that a file describes, for one pack.

    Raises:
        InputError: MT250, with every mistake found.
    """
    return _Reader(document, pack).procedure()


_KEYS = (
    "procedure",
    "weighings",
    "pads",
    "counts",
    "presented",
    "reweigh",
    "prepare",
    "steps",
    "after_race",
    "success",
)


class _Reader(FileReader):
    def __init__(self, document: Document, pack: Pack) -> None:
        super().__init__(document, _CODE)
        self._pack = pack

    def procedure(self) -> Procedure:
        top = self.mapping((), _KEYS)
        formula = self.document.get(("procedure",))
        if not isinstance(formula, str) or fold(formula) != fold(self._pack.name):
            message = f"this is no procedure of the formula {self._pack.name}"
            self.note(("procedure",), message, f"begin it with procedure: {self._pack.name}")
        reweigh = self.mapping(("reweigh",), ("when", "at_most", "incidents")) if "reweigh" in top else {}
        after = (
            self.mapping(("after_race",), ("weighings", "prepare", "clauses")) if "after_race" in top else {}
        )
        found = Procedure(
            weighings=self.count(("weighings",), 1) if "weighings" in top else 1,
            pads=self.word(("pads",), PADS) if "pads" in top else PADS[0],
            counts=self.word(("counts",), (MEAN, LAST)) if "counts" in top else MEAN,
            presented=self._presented() if "presented" in top else {},
            reweigh=self.word(("reweigh", "when"), (ALWAYS, AFTER_A_FAIL, NEVER))
            if "when" in reweigh
            else ALWAYS,
            reweigh_at_most=self.count(("reweigh", "at_most"), 0) if "at_most" in reweigh else None,
            incidents=self._texts(("reweigh", "incidents")) if "incidents" in reweigh else (),
            prepare=self._texts(("prepare",)) if "prepare" in top else (),
            steps=self._steps() if "steps" in top else (),
            after_race_weighings=self.count(("after_race", "weighings"), 1) if "weighings" in after else 1,
            after_race_prepare=self._texts(("after_race", "prepare")) if "prepare" in after else (),
            after_race_clauses=self._clauses(("after_race", "clauses")) if "clauses" in after else (),
            success=self._success() if "success" in top else None,
        )
        self.problems.raise_if_any()
        return found

    # -- sections ----------------------------------------------------------------------------------------

    def _presented(self) -> dict[str, str]:
        given = self.mapping(("presented",), ("fuel", "driver", "tyres", "wear"))
        return {key: self.text(("presented", key)) for key in given}

    def _steps(self) -> tuple[Step, ...]:
        found: list[Step] = []
        for at in range(len(self.listed(("steps",)))):
            path: Path = ("steps", at)
            given = self.mapping(path, ("name", "weighing", "clauses"))
            weighing = given.get("weighing", False)
            if not isinstance(weighing, bool):
                self.note((*path, "weighing"), "`weighing` is true or false", "weighing: true")
                weighing = False
            clauses = self._clauses((*path, "clauses")) if "clauses" in given else ()
            if "name" not in given or weighing == bool(clauses):
                hint = "write {name: scales, weighing: true} or {name: papers, clauses: [...]}"
                self.note(path, "a step has a name, and either the weighing or clauses", hint)
                continue
            found.append(Step(self.text((*path, "name")), weighing, clauses))
        return tuple(found)

    def _success(self) -> Success | None:
        given = self.mapping(("success",), ("place", "places", "others", "carried_over", "due"))
        if not {"place", "places", "others"} <= set(given):
            hint = "write success: {place: FACT, places: {winner: 1, second: 2}, others: lower}"
            self.note(("success",), "`success` needs place, places and others", hint)
            return None
        places: dict[int, str] = {}
        for word in self.mapping(("success", "places"), None):
            places[self.count(("success", "places", word), 1)] = word
        due = self.text(("success", "due")) if "due" in given else ""
        if due and due not in self._pack.derived:
            hint = did_you_mean(due, self._pack.derived)
            self.note(("success", "due"), f"the pack derives no value '{due}'", hint)
        carried = self._fact(("success", "carried_over")) if "carried_over" in given else ""
        if bool(due) != bool(carried):
            self.note(("success",), "`due` and `carried_over` go together", "state both, or neither")
        return Success(
            self._fact(("success", "place")), places, self.text(("success", "others")), carried, due
        )

    # -- values ------------------------------------------------------------------------------------------

    def _texts(self, path: Path) -> tuple[str, ...]:
        return tuple(self.text((*path, at)) for at in range(len(self.listed(path))))

    def _clauses(self, path: Path) -> tuple[str, ...]:
        numbers = self._texts(path)
        for at, number in enumerate(numbers):
            if number and number not in self._pack.clauses:
                hint = did_you_mean(number, self._pack.clauses) or "clause numbers stand in quotes"
                self.note((*path, at), f"the pack has no clause {number}", hint)
        return numbers

    def _fact(self, path: Path) -> str:
        name = self.text(path)
        if name and name not in self._pack.vocabulary.facts:
            self.note(path, f"the pack has no fact '{name}'", did_you_mean(name, self._pack.vocabulary.facts))
        return name
