"""What a pack's cases decide, and what they never come to: clauses, branches, rows of tables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.car.scene import Scene
from checker.kinds.contract.check import Check
from checker.kinds.contract.wrapped import Wrapped
from checker.kinds.frame.framed import Framed
from checker.kinds.judging.assessment import FAIL, PASS, Assessment, DecisionRule
from checker.pack.check_parts import parts_of
from checker.pack.editions.loading import build_pack
from checker.pack.model import Clause, Pack
from checker.reading.document import Document
from checker.reading.problems import Path, Span
from checker.reading.quick_dataclasses import dataclass, field, replace
from checker.studies.cases.running import Run, judge

DECIDED = (PASS, FAIL)


@dataclass(frozen=True, slots=True)
class CoverageItem:
    """Something that a case can decide, or notice."""

    words: str
    """E.g. "clause 8.3", "row 2 of table minimum_weight", "at_most: 53.0 % as 53.1 %"."""
    span: Span
    clause: str = ""


@dataclass(slots=True)
class Count:
    """How much of one sort is decided, or noticed."""

    every: dict[CoverageItem, bool] = field(default_factory=dict)
    """Everything there is, and whether a case decides (notices) it."""

    @property
    def total(self) -> int:
        return len(self.every)

    @property
    def covered(self) -> int:
        return sum(self.every.values())

    @property
    def missing(self) -> list[CoverageItem]:
        """What no case decides (notices), in the order of the rulebook."""
        return [item for item, decided in self.every.items() if not decided]

    def expect(self, items: Iterator[CoverageItem]) -> None:
        """There are these things to be decided."""
        for item in items:
            self.every.setdefault(item, False)

    def decide(self, item: CoverageItem) -> None:
        """A case decides one of them."""
        self.every[item] = True


@dataclass(slots=True)
class Coverage:
    """What the cases of an edition decide, under all bulletins that they come to."""

    clauses: Count = field(default_factory=Count)
    branches: Count = field(default_factory=Count)
    rows: Count = field(default_factory=Count)


def coverage_of(first: Pack, runs: Sequence[Run]) -> Coverage:
    """What cases decide: a clause, branch or row counts when it took part in a pass or a fail that a case looks at.

    Args:
        first: The pack on the edition's first day, whose parts are to be covered whether or not a case asks for it.
        runs: The cases, judged.
    """
    coverage = Coverage()
    packs = {id(first.document): first}
    for run in runs:
        if run.pack is not None:
            packs.setdefault(id(run.pack.document), run.pack)
    watched = {key: _Watched(pack) for key, pack in packs.items()}
    for one in watched.values():
        coverage.clauses.expect(
            _clause_item(clause, one.pack.document) for clause in one.pack.clauses.values()
        )
        coverage.branches.expect(_branch_items(one.pack))
        coverage.rows.expect(_row_items(one.pack))
    for run in runs:
        if run.pack is not None and run.car is not None:
            _cover(coverage, run, watched[id(run.pack.document)])
    return coverage


def _cover(coverage: Coverage, run: Run, watched: _Watched) -> None:
    assert run.pack is not None
    assert run.car is not None
    pack = replace(run.pack, clauses=watched.clauses)
    document = run.pack.document
    for number in run.outcomes:
        watched.start()
        outcome = judge(pack, run.car, run.case, number)
        if outcome.outcome not in DECIDED:
            continue
        coverage.clauses.decide(_clause_item(outcome.clause, document))
        for path in watched.decided:
            coverage.branches.decide(_branch_item(path, document))
        for table, place in watched.rows:
            coverage.rows.decide(_row_item(table, place, document))


class _Watched:
    """A pack that tells which branches it judged and which rows it found."""

    def __init__(self, pack: Pack) -> None:
        self.pack = pack
        self.decided: list[Path] = []
        self.rows: list[tuple[str, int]] = []
        again = build_pack(pack.document, watch=lambda table, place: self.rows.append((table, place)))
        self.clauses = {number: self._watched(clause) for number, clause in again.clauses.items()}

    def start(self) -> None:
        self.decided.clear()
        self.rows.clear()

    def _watched(self, clause: Clause) -> Clause:
        here: Path = ("clauses", clause.number)
        earlier = tuple(
            replace(entry, check=entry.check and self._recorder(entry.check, (*here, "earlier", n, "check")))
            for n, entry in enumerate(clause.earlier)
        )
        return replace(clause, check=self._inside(clause.check, (*here, "check")), earlier=earlier)

    def _recorder(self, check: Check, path: Path) -> Check:
        return Recorder(self._inside(check, path), path, self.decided)

    def _inside(self, check: Check, path: Path) -> Check:
        """The check with a recorder round each branch."""
        if isinstance(check, Framed):
            return check.having((self._inside(check.check, path),))
        branches = zip(check.branches(), check.places(), strict=True)
        return check.having(tuple(self._recorder(branch, (*path, *place)) for branch, place in branches))


@dataclass(frozen=True, slots=True)
class Recorder(Wrapped):
    """A branch that notes when it is decided."""

    path: Path
    decided: list[Path]

    def assess(self, scene: Scene, rule: DecisionRule) -> Assessment:
        assessment = self.check.assess(scene, rule)
        if assessment.outcome in DECIDED:
            self.decided.append(self.path)
        return assessment


def _clause_item(clause: Clause, document: Document) -> CoverageItem:
    return CoverageItem(
        f"clause {clause.number}", document.key_span(("clauses", clause.number)), clause.number
    )


def _branch_items(pack: Pack) -> Iterator[CoverageItem]:
    for clause in pack.clauses.values():
        for part in parts_of(clause):
            if part.branch:
                yield _branch_item(part.path, pack.document)


def _branch_item(path: Path, document: Document) -> CoverageItem:
    number = str(path[1])
    older = f", older check {int(path[3]) + 1}" if path[2] == "earlier" else ""
    places = [str(int(part) + 1) for part in path[4 if older else 3 :] if isinstance(part, int)]
    branch = f", branch {'.'.join(places)}" if places else ""
    return CoverageItem(f"clause {number}{older}{branch}", document.span(path), number)


def _row_items(pack: Pack) -> Iterator[CoverageItem]:
    for table in pack.tables.values():
        for place in range(len(table.rows)):
            yield _row_item(table.name, place, pack.document)


def _row_item(table: str, place: int, document: Document) -> CoverageItem:
    return CoverageItem(f"row {place + 1} of table {table}", document.span(("tables", table, "rows", place)))
