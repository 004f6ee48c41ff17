"""The text in force: an edition with its bulletins laid over it.

Bulletins are carried out as edits of the edition's document, in the order of their first day, then of their name.
Every new value keeps the place where its bulletin wrote it, so that a mistake found later is shown there; and every
change is remembered, so that a printed rulebook can say where each of its words comes from.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Sequence
from datetime import date
from typing import Any

from checker.pack.editions.bulletins import ADD, CHANGE, WITHDRAW, Amendment, Bulletin, named, path_of
from checker.pack.editions.collisions import Touch, refuse_collisions
from checker.pack.model import Origin
from checker.reading.document import REMOVE, Document, Edit
from checker.reading.nearest import did_you_mean
from checker.reading.paths import format_path
from checker.reading.problems import InputError, Path, Problems, Span
from checker.reading.quick_dataclasses import dataclass, field

CODE_CHANGED = {CHANGE: "changed", ADD: "added", WITHDRAW: "withdrawn"}


@dataclass(frozen=True, slots=True)
class Consolidated:
    """An edition and what bulletins made of it."""

    document: Document
    origins: tuple[Origin, ...] = ()
    """Every change in the order carried out."""


def in_order(bulletins: Sequence[Bulletin]) -> list[Bulletin]:
    """By first day, then by name; numbers in names count as numbers (B2 before B10)."""
    return sorted(bulletins, key=lambda b: (b.first_day, natural(b.name)))


def natural(name: str) -> list[tuple[int, int, str]]:
    """A key that sorts "6.10" after "6.9"."""
    parts = re.findall(r"[0-9]+|[^0-9]+", name)
    return [(0, int(part), "") if part[0].isdecimal() else (1, 0, part) for part in parts]


def consolidate(edition: Document, bulletins: Sequence[Bulletin]) -> Consolidated:
    """The edition's text as these bulletins have it.

    Raises:
        InputError: With every mistake found: 602 no such clause; 630 `for` is not what stands there; 631 two bulletins
            of one first day touch one path; 632 no such part or place; 633 something stands there already; 634 changed
            after it was withdrawn.
    """
    work = _Work(edition)
    for bulletin in in_order(bulletins):
        for amendment in bulletin.changes:
            work.carry_out(amendment, bulletin)
    refuse_collisions(work.touched, work.problems)
    work.problems.raise_if_any()
    return Consolidated(work.document, tuple(work.origins))


def amended(
    document: Document, amendments: Sequence[Amendment], name: str, first: date, last: date | None
) -> Consolidated:
    """A document with the changes of one bulletin, or of one approval, carried out.

    Raises:
        InputError: As `consolidate`.
    """
    source = amendments[0].source if amendments else document
    return consolidate(
        document,
        [Bulletin(name, "", "", first, last_day=last, reason="", changes=tuple(amendments), document=source)],
    )


@dataclass(slots=True)
class _Work:
    """The text while bulletins are laid over it."""

    document: Document
    problems: Problems = field(default_factory=Problems)
    origins: list[Origin] = field(default_factory=list)
    touched: list[Touch] = field(default_factory=list)
    withdrawn: dict[Path, Origin] = field(default_factory=dict)
    in_order: list[str] | None = None
    """Numbers of clauses in their order once one was added, those that were withdrawn among them."""

    def carry_out(self, amendment: Amendment, bulletin: Bulletin) -> None:
        """Make one change, or note why it cannot be made."""
        gone = self.withdrawn.get(("clauses", amendment.part))
        if gone is not None and amendment.verb != ADD:
            self._problem(
                634, f"clause {amendment.part} was withdrawn by bulletin {gone.bulletin}", amendment, gone
            )
            return
        path = path_of(amendment, self.document, self.problems)
        if path is None:
            return
        self.touched.append((path, bulletin, amendment))
        gone = next((o for n in range(len(path) + 1) if (o := self.withdrawn.get(path[:n]))), None)
        if gone is not None and amendment.verb != ADD:
            self._problem(634, f"{named(path)} was withdrawn by bulletin {gone.bulletin}", amendment, gone)
        elif amendment.verb == ADD:
            self._add(path, amendment, bulletin)
        elif amendment.verb == WITHDRAW:
            self._withdraw(path, amendment, bulletin)
        else:
            self._change(path, amendment, bulletin)

    # --- the three verbs -----------------------------------------------------------------------------------

    def _add(self, path: Path, amendment: Amendment, bulletin: Bulletin) -> None:
        if self.document.has(path):
            already = self._last_at(path)
            said = (
                f"bulletin {already.bulletin} added {named(path)} already"
                if already
                else f"{named(path)} is there already"
            )
            self._problem(633, said, amendment, path=path, hint="to replace it say `change`")
            return
        if not self._room_for(path, amendment):
            return
        self.withdrawn.pop(path, None)
        self._set(path, amendment, bulletin, None)

    def _withdraw(self, path: Path, amendment: Amendment, bulletin: Bulletin) -> None:
        if not self.document.has(path):
            self._absent(path, amendment)
            return
        was = self.document.get(path)
        self._edit(Edit(path, REMOVE, amendment.source, (*amendment.place, WITHDRAW)))
        self.withdrawn[path] = self._remember(path, amendment, bulletin, was)

    def _change(self, path: Path, amendment: Amendment, bulletin: Bulletin) -> None:
        given = amendment.given
        there = self.document.has(path)
        if "for" not in given:
            if there:
                shown = _shown(self.document.get(path))
                hint = f"say `for:` and what it replaces, {shown}"
                self._problem(633, f"{named(path)} is there already", amendment, path=path, hint=hint)
            elif self._room_for(path, amendment):
                self._set(path, amendment, bulletin, None)
            return
        if not there:
            self._absent(path, amendment)
            return
        was = self.document.get(path)
        if not same_text(was, given["for"]):
            self._stale(path, amendment, bulletin, was)
            return
        if "read" in given:
            self._set(path, amendment, bulletin, was)
            return
        self._edit(Edit(path, REMOVE, amendment.source, (*amendment.place, "for")))
        self._remember(path, amendment, bulletin, was)

    # --- edits ---------------------------------------------------------------------------------------------

    def _set(self, path: Path, amendment: Amendment, bulletin: Bulletin, was: object) -> None:
        source_path = (*amendment.place, "read")
        value = amendment.given["read"]
        self._edit(Edit(path, value, amendment.source, source_path, after=self._before_it(path)))
        self._remember(path, amendment, bulletin, was)

    def _edit(self, change: Edit) -> None:
        try:
            self.document = self.document.edited([change], "PK632")
        except InputError as error:
            self.problems.found.extend(error.problems)

    def _before_it(self, path: Path) -> str:
        """The clause that a new clause is to follow: the one before it in the order of numbers."""
        if len(path) != 2 or path[0] != "clauses":
            return ""
        there = self.document.mapping(("clauses",))
        if self.in_order is None:
            self.in_order = sorted(there, key=natural)
        number = str(path[1])
        place = bisect_left(self.in_order, natural(number), key=natural)
        if place == len(self.in_order) or self.in_order[place] != number:
            self.in_order.insert(place, number)
        return next((before for before in reversed(self.in_order[:place]) if before in there), "")

    def _remember(self, path: Path, amendment: Amendment, bulletin: Bulletin, was: Any) -> Origin:
        verb = CODE_CHANGED[amendment.verb]
        span = amendment.source.span(amendment.place)
        origin = Origin(
            path,
            verb,
            bulletin.name,
            bulletin.first_day,
            last_day=bulletin.last_day,
            was=was,
            reason=bulletin.reason,
            span=span,
        )
        self.origins.append(origin)
        return origin

    # --- what is wrong -------------------------------------------------------------------------------------

    def _room_for(self, path: Path, amendment: Amendment) -> bool:
        """Whether the mapping or list that a new part belongs into is there (632 noted)."""
        above = path[:-1]
        if len(path) > 1 and above and above != (path[0],) and not self.document.has(above):
            self._absent(above, amendment)
            return False
        return True

    def _absent(self, path: Path, amendment: Amendment) -> None:
        """Say what is not there, and what is there instead of it."""
        known = path
        while known and not self.document.has(known):
            known = known[:-1]
        there, wanted = self.document.get(known), path[len(known)]
        hint = ""
        if isinstance(there, dict) and isinstance(wanted, str):
            hint = did_you_mean(wanted, there) or f"there are: {', '.join(list(there)[:12])}"
        elif isinstance(there, list):
            hint = f"there are {len(there)} entries, counted from [0]"
        where = f" in {named(known)}" if known else ""
        self._problem(632, f"there is no {format_path((wanted,))}{where}", amendment, hint=hint)

    def _stale(self, path: Path, amendment: Amendment, bulletin: Bulletin, was: object) -> None:
        last = self._last_at(path)
        if last is not None and last.bulletin != bulletin.name and last.first_day == bulletin.first_day:
            return  # told as a collision
        written = _shown(amendment.given["for"])
        message = f"{named(path)}: `for` says {written}, but {_shown(was)} stands there"
        hint = f"bulletin {last.bulletin} put it there on {last.first_day.isoformat()}" if last else ""
        self._problem(630, message, amendment, path=path, hint=hint, at="for")

    def _last_at(self, path: Path) -> Origin | None:
        return next((o for o in reversed(self.origins) if path[: len(o.path)] == o.path), None)

    def _problem(
        self,
        number: int,
        message: str,
        amendment: Amendment,
        other: Origin | None = None,
        *,
        path: Path | None = None,
        hint: str = "",
        at: str = "",
    ) -> None:
        span = amendment.source.span((*amendment.place, at or amendment.verb))
        related: tuple[tuple[str, Span], ...] = ()
        if other is not None and other.span is not None:
            related = (("withdrawn here", other.span),)
        elif path is not None:
            related = (("stands here", self.document.span(path)),)
        clause = amendment.part if path is not None and path[:1] == ("clauses",) else ""
        self.problems.add(f"PK{number}", message, span, hint=hint, clause=clause, related=related)


def same_text(a: object, b: object) -> bool:
    """Whether two pieces of plain data say the same: blanks do not count, nor the order of keys."""
    if isinstance(a, str) and isinstance(b, str):
        return a.split() == b.split()
    if isinstance(a, dict) and isinstance(b, dict):
        return a.keys() == b.keys() and all(same_text(a[key], b[key]) for key in a)
    if isinstance(a, list) and isinstance(b, list):
        return len(a) == len(b) and all(map(same_text, a, b))
    return isinstance(a, bool) == isinstance(b, bool) and bool(a == b)


def _shown(value: Any) -> str:
    """A value on one line, cut where it is long."""
    from checker.reading.printer import to_yaml

    text = " ".join(to_yaml(value).split())
    return f"'{text}'" if len(text) <= 80 else f"'{text[:77]}...'"
