"""What a verification found: the document, and the text."""

from __future__ import annotations

from checker.meeting.record.chain import printed
from checker.meeting.standing.verifying import Verification
from checker.report.amounts import Data, begun
from checker.report.page import GREEN, RED, YELLOW, Page


def verification_document(found: Verification) -> Data:
    return {
        **begun("verification"),
        "file": found.path,
        "sound": found.sound,
        "entries": found.entries,
        "last_hash": found.hash,
        "faults": [{"code": f.code, "entry": f.number or None, "message": f.message} for f in found.faults],
        "recomputed": found.recomputed,
        "skipped": found.skipped,
        "clock": list(found.clock),
        "recorded_with": found.other_program,
        "signed": found.signed,
        "unsigned_by": list(found.unsigned_by),
        "signatures_unchecked": found.signatures_unchecked,
        "matched": [
            {
                "printed": m.printed,
                "entry": m.number,
                "kind": m.kind,
                "at": m.at,
                "by": m.by,
                "following": m.following,
                "there": m.there or None,
            }
            for m in found.matched
        ],
    }


def verification_text(document: Data, page: Page) -> None:
    """Faults first, then what was looked at."""
    for fault in document["faults"]:
        page.put(f"{fault['code']} {fault['message']}", 0, 6, RED)
    if document["faults"]:
        page.blank()
        number = len(document["faults"])
        page.put(f"{document['file']}: {number} fault{'' if number == 1 else 's'} found.", style=RED)
    else:
        page.put(f"{document['file']}: sound.", style=GREEN)
    page.put(f"{document['entries']} entries, last hash {printed(document['last_hash'], 64)}")
    for match in document["matched"]:
        merged = f"entry {match['there']} of a merged record, here " if match["there"] else ""
        what = f"{merged}entry {match['entry']} ({match['kind']}, by {match['by']}, {match['at']})"
        follow = {0: "nothing follows it", 1: "1 entry follows it"}
        words = follow.get(match["following"], f"{match['following']} entries follow it")
        page.put(f"The hash {printed(match['printed'], 64)} is that of {what}; {words}.", 0, 2, GREEN)
    if document["signed"]:
        checked = "; what checks signatures is not installed" if document["signatures_unchecked"] else ""
        page.put(f"{document['signed']} entries are signed{checked}.")
    if document["unsigned_by"]:
        who = ", ".join(document["unsigned_by"])
        page.put(f"Entries that are not signed bear the initials {who}: initials are not proof.")
    if document["skipped"]:
        page.put(f"No verdict was worked out again: {document['skipped']}.", style=YELLOW)
    else:
        page.put(f"{document['recomputed']} recorded verdicts were worked out again from the frozen pack.")
    if document["recorded_with"]:
        page.put(
            f"Verdicts were recorded with version {document['recorded_with']} of the program.", style=YELLOW
        )
    for sentence in document["clock"]:
        page.put(f"Note: {sentence}.", style=YELLOW)
    if not document["faults"] and not document["matched"]:
        page.put(
            "A record that is sound in itself may still have lost its tail, or have been built anew: compare it with a "
            "hash that was printed, with --hash."
        )
