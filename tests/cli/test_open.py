"""`checker open`: what it lacks is told in a line, and nothing is served or written then."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.pages.serving import lacking
from tests.cli.running import run


def test_without_the_extra_it_says_how_to_get_it(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lacking, "find_spec", lambda _: None)
    ran = run(capsys, "open", "samples/cars/legal.yaml")
    assert ran.code == 3
    assert "pip install 'scrutineering-checker[pages]'" in ran.err
    assert "Traceback" not in ran.err


@pytest.mark.usefixtures("at_root")
@pytest.mark.parametrize(
    ("arguments", "code", "told"),
    [
        (["none.yaml"], 3, "checker open none.yaml --formula NAME"),
        (["samples/cars/legal.yaml", "--formula", "dunlin"], 3, "is there already"),
        (["none.yaml", "--mapping", "m.yaml"], 2, "--mapping is for --parts"),
        (["none.yaml", "--formula", "dunlin", "--parts", "none.csv"], 3, "none.csv"),
        (["none.yaml", "--from", "README.md"], 3, "README.md"),
    ],
)
def test_what_cannot_be_opened_is_told(
    capsys: pytest.CaptureFixture[str], arguments: list[str], code: int, told: str
) -> None:
    ran = run(capsys, "open", *arguments)
    assert ran.code == code
    assert told in ran.err
    assert not Path("none.yaml").exists()
