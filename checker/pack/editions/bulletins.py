"""Bulletins: dated amendments to an edition, each change at a named place.

A bulletin says what stands there now and what is to stand there. So it cannot hit the wrong place: where something
else stands, it is refused. This module reads what a bulletin says; `consolidation` carries it out.
"""

from __future__ import annotations

from datetime import date

from checker.pack.reading.source import PackSource
from checker.pack.sections.header import SECTIONS, read_in_force
from checker.quantities.folding import fold
from checker.reading.document import Document
from checker.reading.nearest import did_you_mean
from checker.reading.paths import format_path, parse_path
from checker.reading.problems import InputError, Path, Problems
from checker.reading.quick_dataclasses import KW_ONLY, dataclass
from checker.reading.values import Plain

CHANGE, ADD, WITHDRAW = "change", "add", "withdraw"

_KEYS = ("bulletin", "amends", "in_force", "reason", "changes")
_VERBS = {CHANGE: (CHANGE, "at", "for", "read"), ADD: (ADD, "read"), WITHDRAW: (WITHDRAW,)}
_FIXED = ("pack", "edition", "in_force", "clauses", "cases")
"""Sections that a bulletin cannot name: the edition's own name and days, its cases, all clauses at once."""
_OPEN = tuple(section for section in SECTIONS if section not in _FIXED)


@dataclass(frozen=True, slots=True)
class Amendment:
    """One change of a bulletin."""

    verb: str
    """`CHANGE`, `ADD` or `WITHDRAW`."""
    part: str
    """What is changed, as written: a clause's number, or section.name."""
    at: Path
    """The place inside that part; () for the whole of it."""
    source: Document
    place: Path
    """Where in `source` the change stands."""

    @property
    def given(self) -> dict[str, Plain]:
        """The change as written."""
        return self.source.mapping(self.place)


@dataclass(frozen=True, slots=True)
class Bulletin:
    """A dated amendment."""

    name: str
    pack: str
    edition: str
    first_day: date
    _: KW_ONLY
    last_day: date | None
    reason: str
    changes: tuple[Amendment, ...]
    document: Document


def read_bulletin(document: Document) -> Bulletin:
    """What a bulletin says, before it is laid over an edition.

    Raises:
        InputError: With every mistake found: 101, 102, 106, 108 and 601 in its head, 632 for a place that cannot
            be read.
    """
    source = PackSource(document)
    bulletin = _read(source)
    source.problems.raise_if_any()
    assert bulletin is not None, "without problems there is a bulletin"
    return bulletin


def _read(source: PackSource) -> Bulletin | None:
    data = source.mapping()
    if not data:
        source.problem(108, "a bulletin is a mapping", hint="begin with bulletin: and its name")
        return None
    source.known_keys(_KEYS, what="a bulletin")
    for key in ("bulletin", "amends", "in_force", "reason", "changes"):
        if key not in data:
            source.problem(108, f"the bulletin has no `{key}`", hint=_NEEDED[key])
    first, last = read_in_force(source)
    amends = source.mapping("amends")
    source.known_keys(("pack", "edition"), "amends", what="`amends`")
    for key in ("pack", "edition"):
        if "amends" in data and key not in amends:
            source.problem(108, f"`amends` does not say which {key}", "amends", hint=_NEEDED["amends"])
    changes = source.get("changes")
    if "changes" in data and (not isinstance(changes, list) or not changes):
        source.problem(108, "`changes` needs a list", "changes", hint=_NEEDED["changes"])
    listed = changes if isinstance(changes, list) else []
    read = tuple(
        amendment
        for place in range(len(listed))
        if (amendment := read_amendment(source, ("changes", place))) is not None
    )
    return Bulletin(
        source.in_quotes("bulletin"),
        source.text("amends", "pack"),
        source.in_quotes("amends", "edition"),
        first,
        last_day=last,
        reason=source.text("reason"),
        changes=read,
        document=source.document,
    )


_NEEDED = {
    "bulletin": 'bulletin: "2026-B1"',
    "amends": 'amends: {pack: dunlin, edition: "2026.1"}',
    "in_force": "in_force: {from: 2026-06-01}",
    "reason": "reason: why, in a few words",
    "changes": 'changes: [{change: "3.3", at: check.at_most, for: 53.0 %, read: 52.5 %}]',
}


def read_amendment(source: PackSource, place: Path) -> Amendment | None:
    """The change at `place`; None, with the problems noted, where it is none."""
    given = source.get(*place)
    verbs = [verb for verb in _VERBS if isinstance(given, dict) and verb in given]
    if not isinstance(given, dict) or len(verbs) != 1:
        message = f"this change says {' and '.join(verbs)}" if verbs else "this is no change"
        source.problem(108, message, *place, hint="a change begins with one of change, add, withdraw")
        return None
    verb = verbs[0]
    if not source.known_keys(_VERBS[verb], *place, what=f"`{verb}`"):
        return None
    part = _part(source, place, verb)
    if part is None:
        return None
    if verb == ADD and "read" not in given:
        source.problem(108, "`add` needs `read` with what is to stand there", *place)
        return None
    if verb == CHANGE and "for" not in given and "read" not in given:
        hint = "for: what stands there now, read: what is to"
        source.problem(108, "`change` needs `for`, `read` or both", *place, hint=hint)
        return None
    hint = 'as in at: check.at_most, or at: "rows[1].value"'
    at = (
        source.parsed(parse_path, 632, "a place", *place, "at", hint=hint) if source.has(*place, "at") else ()
    )
    return None if at is None else Amendment(verb, part, at, source.document, place)


def _part(source: PackSource, place: Path, verb: str) -> str | None:
    given = source.get(*place, verb)
    if isinstance(given, str) and given.strip():
        return given.strip()
    written = source.document.written((*place, verb))
    source.problem(102, f"'{written}' needs quotes" if written else f"`{verb}` names nothing", *place, verb)
    return None


def path_of(amendment: Amendment, document: Document, problems: Problems) -> Path | None:
    """The path in the pack that an amendment is about; None, with the problem noted, where the pack has no such part.

    A clause is named by its number, anything else as section.name. The part itself need not be there yet.
    """
    part = amendment.part
    numbers = tuple(document.mapping(("clauses",)))
    section, dot, name = part.partition(".")
    if part in numbers:
        return ("clauses", part, *amendment.at)
    if section in _OPEN:
        return (section, *((name,) if dot else ()), *amendment.at)
    span = amendment.source.span((*amendment.place, amendment.verb))
    if section in SECTIONS:
        hint = f'name the clause by its number alone: "{name}"' if section == "clauses" and dot else ""
        problems.add("PK632", f"a bulletin cannot {amendment.verb} `{section}`", span, hint=hint)
        return None
    section_meant = did_you_mean(section, _OPEN)
    if amendment.verb == ADD and not section_meant:
        return ("clauses", part)
    hint = (
        did_you_mean(part, numbers)
        or section_meant
        or "a clause is named by its number, else write section.name"
    )
    problems.add("PK602", f"there is no clause {part}", span, hint=hint, clause=part)
    return None


def named(path: Path) -> str:
    """A place in words: "clause 3.3, check.at_most"."""
    if path[:1] == ("clauses",) and len(path) > 1:
        rest = format_path(path[2:])
        return f"clause {path[1]}" + (f", {rest}" if rest else "")
    return format_path(path)


def amends(document: Document, pack: str, edition: str) -> bool:
    """Whether a bulletin amends that edition, or does not say clearly that it amends another."""
    named, its_edition = document.get(("amends", "pack")), document.get(("amends", "edition"))
    other_pack = isinstance(named, str) and fold(named) != fold(pack)
    other_edition = isinstance(its_edition, str) and its_edition != edition
    return not (other_pack or other_edition)


def refuse_stranger(bulletin: Bulletin, pack: str, editions: dict[str, date | None], own: str) -> bool:
    """Whether a bulletin in force amends another edition of this pack, and so says nothing of this one.

    Args:
        bulletin: In force on the day asked for.
        pack: The formula's name.
        editions: Every edition of the folder with its last day.
        own: The edition that is in force.

    Raises:
        InputError: 635, it amends another pack or an edition that is not there; 636, it comes into force after its
            edition has ended.
    """
    problems = Problems()
    at = bulletin.document.span
    if fold(bulletin.pack) != fold(pack):
        message = f"bulletin {bulletin.name} amends '{bulletin.pack}'; this is the pack '{pack}'"
        problems.add("PK635", message, at(("amends", "pack")), hint=did_you_mean(bulletin.pack, [pack]))
    elif bulletin.edition not in editions:
        message = f"bulletin {bulletin.name} amends edition {bulletin.edition}, which is not here"
        hint = did_you_mean(bulletin.edition, editions) or f"editions here: {', '.join(editions)}"
        problems.add("PK635", message, at(("amends", "edition")), hint=hint)
    elif bulletin.edition != own:
        last = editions[bulletin.edition]
        if last is not None and bulletin.first_day > last:
            message = (
                f"bulletin {bulletin.name} comes into force on {bulletin.first_day.isoformat()}, but edition"
                f" {bulletin.edition}, which it amends, ended on {last.isoformat()}"
            )
            hint = f"amend edition {own}, which is in force then"
            problems.add("PK636", message, at(("in_force", "from")), hint=hint)
    if problems.found:
        raise InputError(problems.found)
    return bulletin.edition != own
