"""How the club goes about scrutineering: how often a car is weighed, what counts, what is looked at in which order.

The rulebook says what is legal; this says how the day runs. It stands in a file of its own, `procedure.yaml` beside the
pack, and is kept in the record with the pack. Without one, a car is weighed once, may be weighed again, and no step is
laid down.
"""

from __future__ import annotations

from collections.abc import Mapping

from checker.car.gear.weighing import PADS
from checker.pack.model import Pack
from checker.quantities.folding import fold
from checker.reading.document import Document
from checker.reading.file_reader import Codes, FileReader
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field
from checker.reading.values import Plain

MEAN, LAST = "mean", "last"
ALWAYS, AFTER_A_FAIL, NEVER = "always", "after a fail", "never"
_CODES = Codes("MT", 250)


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
    _: KW_ONLY
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
    return _Reader(document, _CODES, pack=pack).procedure()


PRESENTED = ("fuel", "driver", "tyres", "wear")
"""What can be laid down of a car on the scales."""

KEYS = (
    "procedure",
    "editions",
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


@dataclass(slots=True, kw_only=True)
class _Reader(FileReader):
    pack: Pack

    def procedure(self) -> Procedure:
        self._keys(KEYS, what="a procedure")
        formula = self.get("procedure")
        if not isinstance(formula, str) or fold(formula) != fold(self.pack.name):
            message = f"this is no procedure of the formula {self.pack.name}"
            self.problem(250, message, "procedure", hint=f"begin it with procedure: {self.pack.name}")
        editions = self.texts("editions")
        if self.has("editions") and self.pack.edition not in editions:
            told = ", ".join(editions) or "none"
            message = f"this procedure is for editions {told}; the pack's edition is {self.pack.edition}"
            self.problem(250, message, "editions", hint='editions stand in quotes: ["2026.1"]')
        reweigh = self._keys(("when", "at_most", "incidents"), "reweigh", what="`reweigh`")
        self._keys(("weighings", "prepare", "clauses"), "after_race", what="`after_race`")
        found = Procedure(
            weighings=self.count(1, "weighings"),
            pads=self.word(PADS, "pads"),
            counts=self.word((MEAN, LAST), "counts"),
            presented=self._presented(),
            reweigh=self.word((ALWAYS, AFTER_A_FAIL, NEVER), "reweigh", "when"),
            reweigh_at_most=self.count(0, "reweigh", "at_most") if "at_most" in reweigh else None,
            incidents=self.texts("reweigh", "incidents"),
            prepare=self.texts("prepare"),
            steps=self._steps(),
            after_race_weighings=self.count(1, "after_race", "weighings"),
            after_race_prepare=self.texts("after_race", "prepare"),
            after_race_clauses=self._clauses("after_race", "clauses"),
            success=self._success() if self.has("success") else None,
        )
        self.problems.raise_if_any()
        return found

    # -- sections ----------------------------------------------------------------------------------------

    def _presented(self) -> dict[str, str]:
        given = self._keys(PRESENTED, "presented", what="`presented`")
        return {key: self.text("presented", key, needed=True) for key in given}

    def _steps(self) -> tuple[Step, ...]:
        found: list[Step] = []
        for at in range(len(self.listed("steps"))):
            given = self._keys(("name", "weighing", "clauses"), "steps", at, what="a step")
            weighing = self.truth("steps", at, "weighing")
            clauses = self._clauses("steps", at, "clauses")
            if "name" not in given or weighing == bool(clauses):
                hint = "write {name: scales, weighing: true} or {name: papers, clauses: [...]}"
                message = "a step has a name, and either the weighing or clauses"
                self.problem(250, message, "steps", at, hint=hint)
                continue
            found.append(Step(self.text("steps", at, "name", needed=True), weighing, clauses))
        return tuple(found)

    def _success(self) -> Success | None:
        keys = ("place", "places", "others", "carried_over", "due")
        given = self._keys(keys, "success", what="`success`")
        if not set(keys[:3]) <= set(given):
            hint = "write success: {place: FACT, places: {winner: 1, second: 2}, others: lower}"
            self.problem(250, "`success` needs place, places and others", "success", hint=hint)
            return None
        words = self.mapping("success", "places", needed=True)
        places = {self.count(1, "success", "places", word): word for word in words}
        due = self.text("success", "due")
        if due and due not in self.pack.derived:
            hint = did_you_mean(due, self.pack.derived)
            self.problem(250, f"the pack derives no value '{due}'", "success", "due", hint=hint)
        carried = self._fact("success", "carried_over")
        if bool(due) != bool(carried):
            message = "`due` and `carried_over` go together"
            self.problem(250, message, "success", "due", hint="state both, or neither")
        others = self.text("success", "others", needed=True)
        return Success(self._fact("success", "place"), places, others, carried, due)

    # -- values ------------------------------------------------------------------------------------------

    def _keys(self, known: tuple[str, ...], *path: str | int, what: str) -> dict[str, Plain]:
        """The mapping at `path`, every key of which is known and has a value."""
        self.known_keys(known, *path, what=what, filled=True)
        return self.mapping(*path, needed=not path or isinstance(path[-1], int))

    def _clauses(self, *path: str | int) -> tuple[str, ...]:
        numbers = self.texts(*path)
        for at, number in enumerate(numbers):
            if number and number not in self.pack.clauses:
                hint = did_you_mean(number, self.pack.clauses) or "clause numbers stand in quotes"
                self.problem(250, f"the pack has no clause {number}", *path, at, hint=hint)
        return numbers

    def _fact(self, *path: str | int) -> str:
        name = self.text(*path)
        if name and name not in self.pack.vocabulary.facts:
            hint = did_you_mean(name, self.pack.vocabulary.facts)
            self.problem(250, f"the pack has no fact '{name}'", *path, hint=hint)
        return name
