"""A protest's bundle: files that a tribunal can read and check without this program."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping

from checker.meeting.record.car_contents import Protested, Ruled
from checker.meeting.record.chain import printed
from checker.meeting.record.rows import digest_of
from checker.meeting.standing.bundle import Bundle
from checker.meeting.standing.standing import EXCLUDED
from checker.reading.patterns import pattern
from checker.report.json_text import json_text
from checker.report.meeting.board import SHOWN
from checker.report.one_car.document import inspection_document
from checker.report.one_car.explain import explanation_text
from checker.report.one_car.explanation import explanation_document
from checker.report.one_car.text import inspection_text
from checker.report.page import Page
from checker.report.tables.table import Table
from checker.report.tables.text import as_csv
from checker.report.wording import outcome_word

_HARMLESS = pattern(r"[^A-Za-z0-9._-]+")
_EARLIEST = (1980, 1, 1, 0, 0, 0)
"""The time that every file of the archive bears, so that the same bundle has the same bytes."""


def bundle_files(bundle: Bundle) -> dict[str, bytes]:
    """Every file of the bundle by its name in it."""
    files = {
        f"declaration/{_safe(bundle.declaration_name)}": bundle.declaration,
        **{f"pack/{_safe_path(name)}": data for name, data in bundle.pack_files.items()},
        "readings.yaml": bundle.readings,
        "computation.txt": _computation(bundle).encode(),
        "computation.json": json_text(inspection_document(bundle.judgement.inspection), indent=2).encode(),
        "rulings.txt": _rulings(bundle).encode(),
        "gear-checks.csv": _gear_checks(bundle).encode(),
        "differences.csv": _differences(bundle).encode(),
        "chain.txt": "".join(f"{number} {hash_hex}\n" for number, hash_hex in bundle.chain).encode(),
        **{
            f"entries/{entry.number:06}-{_safe(entry.kind)}.json": entry.text.encode()
            for entry in bundle.entries
        },
        **{
            f"tables/{number:06}-{_safe(name.rpartition('/')[2])}": data
            for (number, name), data in bundle.tables.items()
        },
        "no-longer-counts.txt": _not_counting(bundle).encode(),
    }
    if bundle.procedure:
        files["procedure.yaml"] = bundle.procedure
    if bundle.gear:
        files["gear.yaml"] = bundle.gear
    files["README.txt"] = _readme(bundle).encode()
    sums = "".join(f"{digest_of(data)}  {name}\n" for name, data in sorted(files.items()))
    return {**dict(sorted(files.items())), "SHA256SUMS": sums.encode()}


def as_zip(files: Mapping[str, bytes], folder: str) -> bytes:
    """The files as a ZIP archive, all of them in one folder; the same files give the same bytes."""
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            info = zipfile.ZipInfo(f"{folder}/{name}", _EARLIEST)
            info.compress_type = zipfile.ZIP_DEFLATED
            info.external_attr = 0o644 << 16
            archive.writestr(info, data)
    return written.getvalue()


def _safe(name: str) -> str:
    """A name that is a file's name anywhere, and leads nowhere else."""
    return _HARMLESS.sub("_", name).strip(".") or "unnamed"


def _safe_path(name: str) -> str:
    return "/".join(_safe(part) for part in name.split("/"))


def _computation(bundle: Bundle) -> str:
    """The verdict, then every clause with the numbers that went in."""
    inspection = bundle.judgement.inspection
    page = Page(100)
    inspection_text(inspection_document(inspection), page, every_clause=True)
    for outcome in inspection.outcomes:
        page.blank()
        page.drawn("-" * 100)
        explanation_text(explanation_document(inspection, outcome.clause.number), page)
    return page.text()


def _rulings(bundle: Bundle) -> str:
    """Protests and decisions in the order of the day, each beside what was computed."""
    page = Page(100)
    for entry in bundle.records:
        content = entry.content
        gone = bundle.gone.get(entry.number)
        no_longer = f" (no longer counts since entry {gone})" if gone else ""
        if isinstance(content, Protested):
            who = f" by car {content.by_car}" if content.by_car else ""
            page.put(
                f"Entry {entry.number}, {entry.at}, taken by {entry.by}: protest{who} under clause {content.clause}"
            )
            page.put(content.text, 4)
        elif isinstance(content, Ruled):
            answers = f", on the protest of entry {content.protest}" if content.protest else ""
            page.put(
                f"Entry {entry.number}, {entry.at}, decided by {entry.by}{answers}: "
                f"clause {content.clause}: {content.decision}{no_longer}"
            )
            page.put(f"reason: {content.reason}", 4)
            computed = outcome_word(content.computed, "official")
            page.put(f"computed when it was decided: {computed}. {content.found}", 4)
        else:
            continue
        page.blank()
    return page.text() or "There was no protest and no ruling.\n"


def _gear_checks(bundle: Bundle) -> str:
    rows = [
        (r.number, r.at, r.by, r.content.gear, r.content.pad, r.content.applied, r.content.shown, r.content.allowed,
         "good" if r.content.good else "BAD")
        for r in bundle.gear_checks
    ]  # fmt: skip
    heading = ("entry", "time", "by", "gear", "pad", "applied", "shown", "allowed error", "result")
    return as_csv(Table(heading, rows))


def _differences(bundle: Bundle) -> str:
    rows = [(one.name, one.declared, one.measured, one.beyond) for one in bundle.differences]
    return as_csv(Table(("fact", "declared", "measured", "measuring error explains"), rows))


def _not_counting(bundle: Bundle) -> str:
    page = Page(100)
    for sentence in bundle.not_counting:
        page.put(sentence, 0, 4)
    return page.text() or "Every reading counts.\n"


def _readme(bundle: Bundle) -> str:
    opened, standing = bundle.opened.content, bundle.standing
    page = Page(80)
    page.put(
        f"CAR {standing.car} {standing.name}: EVERYTHING RECORDED AT {opened.title}, {opened.on}".upper()
    )
    page.blank()
    page.put(
        "This folder holds what the officials' record says of one car. Nothing in it needs the program that wrote it: "
        "everything is plain text, and every check below can be made with common tools."
    )
    page.heading("What is here")
    for name, words in (
        ("declaration/", "the file that the entrant handed in, to the last byte"),
        ("pack/", "the rulebook as it was read when the meeting opened"),
        ("procedure.yaml", "how the club goes about weighing (where it has laid that down)"),
        ("gear.yaml", "the gear in use, where it is described otherwise than in the pack"),
        ("readings.yaml", "what officials measured and what the organiser stated, as it was judged"),
        ("computation.txt", "the verdict, and for every clause the numbers, the formula and the limit"),
        ("computation.json", "the same for programs; `exact` values are fractions in the unit beside them"),
        ("rulings.txt", "protests and decisions, each beside what was computed"),
        ("gear-checks.csv", "zero and test-weight checks of the gear, all day"),
        ("differences.csv", "where measurements differ from the declaration by more than measuring error"),
        ("no-longer-counts.txt", "readings that were corrected, struck or weighed anew, by whom and why"),
        ("tables/", "tables that weighings were imported from, each behind the entry of its import"),
        (
            "entries/",
            "the entries of the record about this car and about the whole day, as they were written",
        ),
        ("chain.txt", "number and hash of every entry of the whole record"),
        ("SHA256SUMS", "the SHA-256 of every file here"),
    ):
        page.labelled(name, words, 20, 2)
    page.heading("How to check it")
    for words in (
        "1. That no file here was changed: compare it with SHA256SUMS, for instance with `sha256sum -c SHA256SUMS`.",
        "2. That an entry is as it was written: the SHA-256 of a file in entries/ is the hash that stands beside its "
        "number in chain.txt.",
        "3. That entries follow each other: `previous` in each entry is the hash of the entry before it in chain.txt.",
        "4. That the record is the one of that day: a hash printed on a slip or on the results that day stands in "
        "chain.txt beside its number.",
        "5. That the verdict follows: work out any clause in computation.txt by hand from the numbers that it names, "
        "or judge declaration/ with readings.yaml by pack/ with the program of that day.",
    ):
        page.put(words, 2, 5)
    page.heading("Where the record stood")
    page.put(f"{bundle.chain[-1][0]} entries; the last hash is {printed(bundle.chain[-1][1], 64)}.", 2, 4)
    known = standing.computed or standing.status == EXCLUDED
    status = SHOWN[standing.status] if known else "not judged since the last change"
    page.put(f"Car {standing.car}: {status}, officials' decisions taken in.", 2, 4)
    page.blank()
    page.put("The organising body's rules and its officials decide; a computation does not.")
    return page.text()
