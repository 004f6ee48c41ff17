from __future__ import annotations

import json

from hypothesis import given
from hypothesis import strategies as st

from checker.reading.excerpt import as_data, one_line, render
from checker.reading.problems import Problem, Span

LINE = "    limit: {value: 620, unit: kgs}"
UNIT = Span("rulepacks/dunlin/pack.yaml", 41, 31, 41, 34, LINE)


def shown(line: str, column: int, end_column: int, end_line: int = 7) -> list[str]:
    """The excerpt alone: the line and the marker."""
    return render(Problem("PK104", "m", Span("x", 7, column, end_line, end_column, line))).split("\n")[1:]


def test_a_problem_is_shown_with_its_line_a_marker_and_the_cure() -> None:
    problem = Problem(
        "PK104", "'kgs' is not a unit of mass", UNIT, hint="Use one of: kg, g, lb", clause="3.1"
    )
    assert render(problem) == (
        "rulepacks/dunlin/pack.yaml:41:31: PK104 'kgs' is not a unit of mass\n"
        "   41 |     limit: {value: 620, unit: kgs}\n"
        "      |                               ^^^\n"
        "   clause 3.1. Use one of: kg, g, lb"
    )


def test_a_warning_says_so() -> None:
    problem = Problem("PK206", "the fact is never used", UNIT, warning=True)
    assert render(problem).startswith(
        "rulepacks/dunlin/pack.yaml:41:31: PK206 warning: the fact is never used\n"
    )
    assert one_line(problem) == "rulepacks/dunlin/pack.yaml:41:31: warning: the fact is never used [PK206]"


def test_related_places_follow() -> None:
    problem = Problem(
        "PK113", "'a' is given twice", UNIT, related=(("first given here", Span("p", 3, 5, 3, 6)),)
    )
    assert render(problem).split("\n")[-1] == "   first given here: p:3:5"


def test_only_what_is_there_is_shown() -> None:
    assert render(Problem("PK110", "cannot read 'x'")) == "PK110 cannot read 'x'"
    assert (
        render(Problem("PK501", "m", Span("x", 1, 1, 1, 1), clause="3.1")) == "x:1:1: PK501 m\n   clause 3.1."
    )
    assert one_line(Problem("PK110", "cannot read 'x'")) == "error: cannot read 'x' [PK110]"


def test_the_marker_covers_the_span() -> None:
    assert shown("ab: cd", 5, 7) == ["    7 | ab: cd", "      |     ^^"]
    assert shown("ab: cd", 5, 5)[1] == "      |     ^"
    assert shown("ab: cd", 5, 3, end_line=9)[1] == "      |     ^^"
    assert shown("ab: cd  ", 5, 3, end_line=9)[1] == "      |     ^^"
    assert shown("ab:", 4, 4)[1] == "      |    ^"
    assert shown("ab:", 9, 12)[1] == "      |    ^"
    assert shown("ab: cd", 5, 99)[1] == "      |     ^^"


def test_a_large_line_number_moves_line_and_marker_alike() -> None:
    lines = render(Problem("PK104", "m", Span("x", 1234567, 2, 1234567, 3, "abc"))).split("\n")
    assert lines[1:] == ["1234567 | abc", "        |  ^"]


def test_tabs_wide_letters_and_marks_do_not_shift_the_marker() -> None:
    assert shown("\tab: cd", 6, 8) == ["    7 |  ab: cd", "      |      ^^"]
    assert shown("日本: cd", 5, 7) == ["    7 | 日本: cd", "      |       ^^"]
    assert shown("a: 日本x", 4, 6)[1] == "      |    ^^^^"
    assert shown("e\u0301: cd", 5, 7) == ["    7 | e\u0301: cd", "      |    ^^"]


def test_control_characters_are_shown_and_do_nothing() -> None:
    line, marker = shown("a\x1b[2J: cd", 8, 10)
    assert line == "    7 | a\\x1b[2J: cd"
    assert marker == "      | " + " " * 10 + "^^"


def test_no_part_of_a_problem_can_inject_terminal_codes() -> None:
    bad = "\x1b]0;x\x07\u202e\r\n"
    problem = Problem("PK104", bad, Span(bad, 1, 1, 1, 2, bad), bad, bad, ((bad, Span(bad, 1, 1, 1, 1)),))
    assert render(problem).replace("\n", "").isprintable()
    assert len(render(problem).split("\n")) == 5
    assert one_line(problem).isprintable()


def test_a_long_line_is_cut_round_the_marker() -> None:
    line = "".join(f"key{n:03}: value, " for n in range(100))
    for key in (0, 3, 50, 97, 99):
        column = line.index(f"key{key:03}") + 1
        text, marker = shown(line, column, column + 6)
        assert len(text) <= 100
        assert text[marker.index("^") : marker.rindex("^") + 1] == f"key{key:03}"
        assert text.startswith("    7 | ...") is (key > 3)
        assert text.endswith("...") is (key < 97)


def test_a_long_marker_is_cut_too() -> None:
    text, marker = shown("a: " + "x" * 500, 4, 504)
    assert len(text) == 100
    assert len(marker) <= 100
    assert text[:20] == "    7 | a: xxxxxxxxx"


@given(
    st.text(st.sampled_from("ab日\u0301\t\x1b: "), max_size=300),
    st.integers(0, 310),
    st.integers(0, 20),
)
def test_an_excerpt_is_never_wider_than_a_hundred_columns(line: str, start: int, length: int) -> None:
    lines = shown(line, start + 1, start + length + 1)
    if not line:
        assert lines == []
        return
    text, marker = lines
    assert text.isprintable()
    assert sum(2 if letter == "日" else 0 if letter == "\u0301" else 1 for letter in text) <= 100
    assert set(marker) <= set(" |^")
    assert "^" in marker
    assert len(marker) <= 101


def test_as_data_is_fit_for_json() -> None:
    problem = Problem("PK113", "m", UNIT, "h", "3.1", (("first given here", Span("p", 3, 5, 3, 6)),), True)
    assert as_data(problem) == {
        "code": "PK113",
        "severity": "warning",
        "message": "m",
        "file": "rulepacks/dunlin/pack.yaml",
        "line": 41,
        "column": 31,
        "end_line": 41,
        "end_column": 34,
        "hint": "h",
        "clause": "3.1",
        "related": [
            {"what": "first given here", "file": "p", "line": 3, "column": 5, "end_line": 3, "end_column": 6}
        ],
    }
    without = as_data(Problem("PK110", "m"))
    assert (without["file"], without["line"], without["severity"]) == (None, None, "error")
    assert set(without) == set(as_data(problem))
    assert json.loads(json.dumps(without)) == without
