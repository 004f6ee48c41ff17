"""Which of the procedures beside a pack is for which edition."""

from __future__ import annotations

from collections.abc import Iterable

from checker.reading.document import Document


def for_edition(procedures: Iterable[Document], edition: str) -> list[Document]:
    """Those that are for an edition: that name it, or none."""
    return [one for one in procedures if edition in (editions_of(one) or (edition,))]


def editions_of(procedure: Document) -> tuple[str, ...]:
    """The editions that a procedure is for; none where it is for every edition of its formula."""
    named = procedure.get(("editions",))
    return tuple(one for one in named if isinstance(one, str)) if isinstance(named, list) else ()
