"""Nothing in a pack's folder is passed over: what isn't recognised is an error, never a rule less."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from checker.cli.main import main
from checker.kinds.judging.assessment import PASS
from checker.meeting.taking.opening import Opening, open_meeting
from checker.pack.editions.edition import newest
from checker.pack.editions.finding import find_pack, find_packs, open_folder
from checker.pack.editions.folder_files import word_of
from checker.pack.editions.in_force import load_pack
from checker.pack.keeping.kept import pack_on
from checker.pack.lint.everything import lint
from checker.pack.model import Pack
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.report.one_car.blank import blank_declaration
from checker.verdict.run import inspect_document
from tests.conftest import ROOT
from tests.examples import examples
from tests.pack.folders import EDITION, bulletin, write

ON = date(2026, 7, 5)
NARROWER = '{change: "1", at: check.at_most, for: 1400 mm, read: 1300 mm}'
CAR = parse_document(b"{formula: kart, car: {number: '27'}, frame: {width: 1350 mm}}", "car.yaml", "CD")
"""Narrow enough for the edition, too wide for its bulletin."""

Corruption = Callable[[Path], object]


def _renamed(to: str) -> Corruption:
    return lambda file: file.rename(file.with_name(to))


def _edited(pattern: str, by: str) -> Corruption:
    return lambda file: file.write_text(re.sub(pattern, by, file.read_text()))


def _rewritten(change: Callable[[str], str | bytes]) -> Corruption:
    def corrupt(file: Path) -> None:
        changed = change(file.read_text())
        file.write_bytes(changed if isinstance(changed, bytes) else changed.encode())

    return corrupt


def _in_its_place(make: Callable[[Path], object]) -> Corruption:
    def corrupt(file: Path) -> None:
        file.unlink()
        make(file)

    return corrupt


def _misspelt_behind(head: str) -> Corruption:
    return _rewritten(
        lambda text: f"{head}\n" + text.replace("bulletin:", "buletin:").replace("amends:", "amnds:")
    )


OTHERS = (
    *("formula: kart", "procedure: kart", "approvals: []", "interpretations: []", "cases: []"),
    *("instruments: {}", "import: {}", "formula: kart\ncar: {number: '27'}"),
)
LONG = "# long\n" * 20000

REFUSED: dict[str, tuple[Corruption, str]] = {
    "UTF-16": (_rewritten(lambda text: text.encode("utf-16")), "PK111"),
    "another word": (_edited("^bulletin:", "Bulletin:"), "PK613"),
    "a misspelt word": (_edited("^bulletin:", "bulletn:"), "PK613"),
    "no word": (_edited("^bulletin:.*\n", ""), "PK613"),
    "emptied": (_rewritten(lambda _: ""), "PK120"),
    "only a comment": (_rewritten(lambda _: "# nothing\n"), "PK120"),
    "a dangling link": (_in_its_place(lambda file: file.symlink_to("gone")), "PK110"),
    "a link to itself": (_in_its_place(lambda file: file.symlink_to(file.name)), "PK110"),
    "a folder": (_in_its_place(lambda file: file.mkdir()), "PK613"),
    "a pipe": (_in_its_place(os.mkfifo), "PK613"),
    ".yaml.txt": (_renamed("b.yaml.txt"), "PK613"),
    ".yaml~": (_renamed("b.yaml~"), "PK613"),
    ".txt": (_renamed("b.txt"), "PK613"),
    ".json": (_renamed("b.json"), "PK613"),
    "two words": (_rewritten(lambda text: f"{text}approvals: []\n"), "PK613"),
    "behind the word of an edition": (_rewritten(lambda text: f"pack: kart\n{text}"), "PK613"),
    "behind the word of a declaration": (_rewritten(lambda text: f"formula: kart\n{text}"), "PK613"),
    "behind the word of a procedure": (_rewritten(lambda text: f"procedure: kart\n{text}"), "PK613"),
    "far behind the word of a declaration": (
        _rewritten(lambda text: f"formula: kart\n{LONG}{text}"),
        "PK613",
    ),
    "far behind the word of a procedure": (
        _rewritten(lambda text: f"procedure: kart\n{LONG}{text}"),
        "PK613",
    ),
    "far behind a register": (_rewritten(lambda text: f"approvals: []\n{LONG}{text}"), "PK613"),
    "far behind a named case": (
        _rewritten(
            lambda text: f"- name: a\n  expect: {{}}\n{LONG}- " + text.replace("\n", "\n  ").rstrip(" ")
        ),
        "PK613",
    ),
    "in capitals behind the word of a declaration": (
        _rewritten(
            lambda text: "formula: kart\n" + text.replace("bulletin", "Bulletin").replace("amends", "Amends")
        ),
        "PK613",
    ),
    **{
        f"misspelt behind the word of {word.split(':')[0]}": (_misspelt_behind(word), "PK613")
        for word in OTHERS
    },
    "with every word of its own misspelt behind a declaration's": (
        _rewritten(
            lambda text: (
                "formula: kart\n"
                + text.replace("bulletin:", "Buletin:")
                .replace("amends:", "amens:")
                .replace("in_force:", "inforce:")
                .replace("changes:", "chnges:")
            )
        ),
        "PK613",
    ),
    "with its days given twice, the second far below": (
        _rewritten(
            lambda text: (
                text.replace("from: 2026-06-01", "from: 2027-06-01") + LONG + "in_force: {from: 2026-06-01}\n"
            )
        ),
        "PK113",
    ),
    "in quotes behind another word": (
        _rewritten(lambda text: "formula: kart\n" + text.replace("bulletin:", '"bulletin":')),
        "PK613",
    ),
    "the word of a procedure": (_edited("^bulletin:", "procedure:"), "PK613"),
    "the word of a declaration": (_edited("^bulletin:", "formula:"), "PK613"),
    "the word of gear": (_edited("^bulletin:", "instruments:"), "PK613"),
    "in a list with a name": (
        _rewritten(lambda text: "- name: B1\n  " + text.replace("\n", "\n  ").rstrip(" ")),
        "PK613",
    ),
    "in a list by another word": (
        _rewritten(
            lambda text: "- " + text.replace("bulletin:", "Bulletin:").replace("\n", "\n  ").rstrip(" ")
        ),
        "PK613",
    ),
    "two words, neither first": (_rewritten(lambda text: f"edition: 1\n{text}approvals: []\n"), "PK613"),
    "in a list": (_rewritten(lambda text: "- " + text.replace("\n", "\n  ")), "PK613"),
    "behind a register that begins as a declaration does": (
        _rewritten(
            lambda _: (
                "formula: kart\ncar: {number: '27'}\napprovals: [{reference: A-1, clauses: ['1'], reason: none}]\n"
            )
        ),
        "PK613",
    ),
    "as a declaration that cites approvals": (
        _rewritten(lambda text: f"formula: kart\ncar: {{number: '27'}}\napprovals: [A-1]\n{text}"),
        "PK613",
    ),
    "misspelt as a declaration that cites approvals": (
        _misspelt_behind("formula: kart\ncar: {number: '27'}\napprovals: [A-1]"),
        "PK613",
    ),
    "an unclosed quotation mark": (_edited("^bulletin: ", 'bulletin: "'), "PK112"),
}
READ: dict[str, Corruption] = {
    "CR": _rewritten(lambda text: text.replace("\n", "\r")),
    "CR LF": _rewritten(lambda text: text.replace("\n", "\r\n")),
    "a byte order mark": _rewritten(lambda text: "\ufeff" + text),
    "the word in quotes": _edited("^bulletin:", '"bulletin":'),
    "indented": _rewritten(lambda text: re.sub("^", "  ", text, flags=re.MULTILINE).rstrip(" ")),
    "in braces": _rewritten(
        lambda text: json.dumps(yaml.safe_load(text.replace("2026-06-01", "'2026-06-01'")))
    ),
    "its keys in another order": _rewritten(
        lambda text: text.split("\n", 1)[1] + text.split("\n", 1)[0] + "\n"
    ),
    "a long comment first": _rewritten(lambda text: "# long\n" * 20000 + text),
    "a long comment inside": _rewritten(lambda text: text.replace("\n", "\n" + "# long\n" * 20000, 1)),
    ".YAML": _renamed("b.YAML"),
    ".yml": _renamed("b.yml"),
    "hidden": _renamed(".b.yaml"),
}


def judged(place: Path) -> str:
    """The outcome of the width by the bulletin of a pack."""
    return outcome_by(load_pack(open_folder(place), ON))


def outcome_by(pack: Pack) -> str:
    return inspect_document(pack, CAR, ON, "entrant", only=["1"]).outcomes[0].assessment.outcome


def kart(folder: Path) -> Path:
    """A pack by which the car fails, and only because of its bulletin."""
    write(
        folder,
        {"e.yaml": EDITION, "b.yaml": bulletin(NARROWER), "README.md": "# Kart\n", ".gitignore": "*.tmp\n"},
    )
    return folder


@pytest.mark.parametrize(("corrupt", "code"), REFUSED.values(), ids=REFUSED)
def test_a_file_that_is_not_known_for_what_it_is_is_refused_however_the_pack_is_loaded(
    tmp_path: Path, corrupt: Corruption, code: str
) -> None:
    folder = kart(tmp_path / "kart")
    assert judged(folder) == judged(folder / "e.yaml") == "fail"
    corrupt(folder / "b.yaml")
    ways: list[Callable[[], Any]] = [
        lambda: judged(folder),
        lambda: newest(open_folder(folder)).pack_on(ON),
        lambda: open_meeting(tmp_path / "m", Opening(str(folder), ON.isoformat(), ("KV",))),
    ]
    if not (folder / "b.txt").exists() and not (folder / "b.json").exists():
        ways.append(lambda: judged(folder / "e.yaml"))  # which may stand among other texts
    for way in ways:
        with pytest.raises(InputError) as caught:
            way()
        assert code in [problem.code for problem in caught.value.problems]
        told = [(problem.span.file if problem.span else problem.message) for problem in caught.value.problems]
        assert any("b." in text for text in told), told
    assert code in [problem.code for problem in lint(folder)]


@pytest.mark.parametrize("rewrite", READ.values(), ids=READ)
def test_however_a_bulletin_is_written_or_called_it_is_found(tmp_path: Path, rewrite: Corruption) -> None:
    folder = kart(tmp_path / "kart")
    rewrite(folder / "b.yaml")
    assert judged(folder) == judged(folder / "e.yaml") == "fail"


def test_a_file_that_may_not_be_read_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = kart(tmp_path / "kart")
    whole = open

    def locked(file: Any, *arguments: Any, **named: Any) -> Any:
        if str(file).endswith("b.yaml"):
            raise PermissionError(13, "Permission denied")
        return whole(file, *arguments, **named)

    monkeypatch.setattr("builtins.open", locked)
    with pytest.raises(InputError) as caught:
        judged(folder)
    assert [problem.message for problem in caught.value.problems] == [
        f"cannot read '{folder / 'b.yaml'}': you are not allowed to read it"
    ]


@pytest.mark.parametrize(
    ("name", "text", "message", "hint"),
    [
        ("b.yaml", "bulletn: B1\n", "'bulletn' does not tell what this file is", "Did you mean 'bulletin'?"),
        ("b.yaml", "shopping: [nuts]\n", "this file does not tell what it is", "an edition begins with `pack:`"),
        ("b.yaml.txt", "", "'b.yaml.txt' is none of the files that a pack has", "name it b.yaml if it belongs"),
        ("notes.txt", "", "'notes.txt' is none of the files that a pack has", "move what does not belong"),
    ],
)  # fmt: skip
def test_the_cure_is_told(tmp_path: Path, name: str, text: str, message: str, hint: str) -> None:
    write(tmp_path, {"e.yaml": EDITION, name: text})
    (problem,) = lint(tmp_path)
    assert problem.message == message
    assert problem.hint.startswith(hint)
    assert problem.span is not None
    assert problem.span.file == str(tmp_path / name)


def test_what_belongs_to_a_pack_or_stands_beside_it_is_known(tmp_path: Path) -> None:
    edition = EDITION.replace(
        "clauses:", "materials: {exotic: {words_from: exotic.words}}\ncases: in.cases\nclauses:"
    )
    write(tmp_path, {
        "e.yaml": edition, "exotic.words": "- beryllium\n", "in.cases": "- {name: all, expect: {'1': fail}}\n",
        "more.yaml": "- one\n- two\n", "cases.yaml": "cases: []\n", "listed.yaml": "- name: a\n  expect: {}\n",
        "approvals.yaml": "approvals: []\n", "how.yaml": "procedure: kart\n", "car.yaml": "formula: kart\ninstruments: {}\n",
        "club.yaml": "instruments: {}\n", "sheet.yaml": "import: weighings\n", "pack.schema.json": "{}",
        "LICENSE": "", "readme.txt": "", "._e.yaml": "\x00", ".swp": "",
    })  # fmt: skip
    (tmp_path / "old").mkdir()
    (tmp_path / "old" / "b.yaml").write_text(bulletin(NARROWER))
    folder = open_folder(tmp_path)
    assert (folder.bulletins, folder.procedures) == ((), (str(tmp_path / "how.yaml"),))
    assert judged(tmp_path) == PASS


def test_whatever_a_car_s_file_holds_it_is_known_for_one_beside_its_pack(tmp_path: Path) -> None:
    car, text = tmp_path / "car.yaml", "formula: kart\ncar: {number: '27'}\n"
    keys = yaml.safe_load(blank_declaration(load_pack(find_pack("dunlin"), ON), None)).keys() - {
        "formula",
        "car",
    }
    assert "approvals" in keys
    for key in keys:
        for value in ("", " []"):
            car.write_text(f"{text}{key}:{value}\n")
            assert word_of(str(car)) == "formula", key


def test_a_car_that_cites_approvals_stands_beside_its_pack(tmp_path: Path) -> None:
    folder = kart(tmp_path / "kart")
    (folder / "car.yaml").write_text("formula: kart\napprovals: [A-1, A-2]\ncar: {number: '27'}\n")
    (folder / "blank.yaml").write_text(blank_declaration(load_pack(open_folder(folder), ON), None))
    assert judged(folder) == judged(folder / "e.yaml") == "fail"
    assert "PK613" not in [problem.code for problem in lint(folder)]


def test_a_bulletin_in_a_folder_below_is_named_as_left_aside_on_its_days_and_linted(tmp_path: Path) -> None:
    folder = kart(tmp_path / "kart")
    (folder / "2026" / "sent").mkdir(parents=True)
    below = folder / "2026" / "sent" / "b.yaml"
    (folder / "b.yaml").rename(below)
    write(
        folder,
        {
            "2026/other.yaml": bulletin(NARROWER, "O1").replace("pack: kart", "pack: other"),
            "2026/notes.yaml": "}",
        },
    )
    opened = open_folder(folder)
    assert load_pack(opened, ON).because == (
        "2026-07-05 lies within 2026-01-01 to 2026-12-31; without bulletin B1 "
        f"({Path('2026/sent/b.yaml')}), which lies in a folder below that is not searched"
    )
    assert "without" not in load_pack(opened, date(2026, 5, 1)).because
    assert "without" not in load_pack(open_folder(folder / "e.yaml"), ON).because, (
        "it may stand among whatever else"
    )
    [warned] = [problem for problem in lint(folder) if problem.code == "PK614"]
    assert warned.warning
    assert warned.span is not None
    assert warned.span.file == str(below)
    assert pack_on(opened, ON).because == pack_on(opened, ON).because
    below.write_text(bulletin(NARROWER, "B7"))
    assert "without bulletin B7" in pack_on(opened, ON).because, (
        "what was kept is not taken for what is there now"
    )
    (folder / "2026").rename(folder / ".2026")
    assert "without" not in load_pack(open_folder(folder), ON).because


def test_a_pack_that_cannot_be_used_gives_way_to_no_other_of_its_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert find_pack("dunlin").place != str(Path("rulepacks/mine"))
    kart(Path("rulepacks/kart"))
    write(Path("rulepacks/notes"), {"plan.txt": "", "a.json": ""})
    text = (ROOT / "rulepacks/dunlin/2026.1.yaml").read_text()
    write(Path("rulepacks/mine"), {"1.yaml": text, "b.yaml": "bulletn: x\n"})
    with pytest.raises(InputError) as caught:
        find_pack("Dunlin")
    assert [problem.code for problem in caught.value.problems] == ["PK613"]
    assert find_pack("kart").name == "kart"
    packs, problems = find_packs()
    assert [problem.code for problem in problems] == ["PK613"]
    assert "kart" in [pack.name for pack in packs]
    assert main(["pack", "show"]) == 3
    Path("rulepacks/mine/1.yaml").write_bytes(text.encode("utf-16"))
    for formula in ("dunlin", "teal"):  # what it is the pack of cannot be told
        with pytest.raises(InputError) as caught:
            find_pack(formula)
        assert "PK111" in [problem.code for problem in caught.value.problems]


def test_a_pack_given_as_a_file_says_which_bulletins_it_leaves_aside(tmp_path: Path) -> None:
    folder = kart(tmp_path)
    write(folder, {"f.yaml": bulletin(NARROWER, "F1").replace("pack: kart", "pack: other")})
    pack = load_pack(open_folder(folder / "e.yaml"), ON)
    assert pack.because == (
        "2026-07-05 lies within 2026-01-01 to 2026-12-31; with bulletin B1 from 2026-06-01; "
        "without bulletin F1 (f.yaml), which amends edition 1 of 'other'"
    )


def test_a_study_of_a_folder_refuses_a_bulletin_for_a_pack_that_is_not_there(tmp_path: Path) -> None:
    folder = kart(tmp_path)
    (folder / "b.yaml").write_text(bulletin(NARROWER).replace("pack: kart", "pack: cart"))
    with pytest.raises(InputError) as caught:
        newest(open_folder(folder)).pack_on(ON)
    assert [problem.code for problem in caught.value.problems] == ["PK635"]


@pytest.mark.deep
def test_in_the_dunlin_folder_no_bulletin_is_lost(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for file in (ROOT / "rulepacks/dunlin").glob("*.*"):
        (tmp_path / file.name).write_bytes(file.read_bytes())
    command = [
        "inspect",
        str(ROOT / "samples/cars/built-2025.yaml"),
        "--on",
        "2026-07-05",
        "--pack",
        str(tmp_path),
    ]
    assert main(command) == 1
    original = (tmp_path / "2026-B1.yaml").read_text()
    for word in ("Bulletin:", "bulletn:", "amends-nothing:"):
        (tmp_path / "2026-B1.yaml").write_text(original.replace("bulletin: 2026", f"{word} 2026"))
        capsys.readouterr()
        assert main(command) == 3
        assert "PK613" in capsys.readouterr().err
    (tmp_path / "2026-B1.yaml").write_text(original.replace("bulletin:", '"bulletin":'))
    assert main(command) == 1


# --- the law -------------------------------------------------------------------------------------------------

BYTES = st.sampled_from([bytes([byte]) for byte in b"\n\r\t #\"'{}[]:,-%&*!|>@`?\x00\x85\xff aB0"])
NAMES = st.one_of(
    st.from_regex(
        r"[#_ab]{0,2}b(\.(yaml|yml|YAML|Yml|yam|json|txt|bak|md|orig))?[~.]?(txt)?", fullmatch=True
    ),
    st.just(".b.yaml"),
)
"""A file that is hidden and not YAML by its name is nobody's rule."""


def keys_of(value: Any) -> set[str]:
    """Every key in plain data."""
    if isinstance(value, dict):
        return {str(key) for key in value}.union(*map(keys_of, value.values()))
    return set().union(*map(keys_of, value)) if isinstance(value, list) else set()


@settings(examples(200), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_no_corrupted_file_ever_turns_a_fail_into_met(tmp_path_factory: Any, data: st.DataObject) -> None:
    """Bytes put in, taken out or exchanged, a file cut short or called otherwise: the pack is refused, or it still fails.

    What an edit makes the page say otherwise in so many words (another day or number, a part taken out) is another
    rule and no corruption; a word that means nothing never is.
    """
    folder = kart(tmp_path_factory.mktemp("law"))
    file = folder / "b.yaml"
    before = file.read_bytes()
    text = before
    for _ in range(data.draw(st.integers(0, 3))):
        start = data.draw(st.integers(0, len(text)))
        end = min(start + data.draw(st.sampled_from([0, 1, 1, 2, 8, 999])), len(text))
        text = text[:start] + b"".join(data.draw(st.lists(BYTES, max_size=2))) + text[end:]
    file.write_bytes(text)
    name = data.draw(st.one_of(st.just("b.yaml"), NAMES))
    assume(name not in ("", ".", ".."))
    file.rename(folder / name)
    try:
        pack = load_pack(open_folder(folder), ON)
    except InputError:
        return
    outcome = outcome_by(pack)
    if outcome == PASS:
        old, new = (yaml.load(data_, yaml.CSafeLoader) for data_ in (before, text))
        assert old != new, "a file is passed over because of its name"
        assert "bulletin" in new, "a bulletin is no bulletin any more, and nothing is said"
        assert keys_of(new) <= keys_of(old), "a word that means nothing is passed over"
