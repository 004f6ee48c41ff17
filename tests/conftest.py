"""What all tests share: the root of the source tree, and golden reports.

`pytest --accept` rewrites the golden files; their diff is then reviewed like code.
"""

from __future__ import annotations

import gc
import os
import re
import shutil
import signal
import sys
from collections.abc import Callable
from difflib import unified_diff
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import settings

from tests.examples import ANEW, DEEP, QUICK, draw_nothing_from_the_sources
from tests.sharing import share

ROOT = Path(__file__).resolve().parent.parent
GOLDEN = ROOT / "tests" / "golden"

# What a test starts, and the next run, compile nothing anew; what tests write needs no disk, where there is room.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
os.environ.pop("COLUMNS", None)  # a terminal's, which a report that is piped would take
sys.dont_write_bytecode = False
_IN_MEMORY = Path("/dev/shm")
if os.access(_IN_MEMORY, os.W_OK) and shutil.disk_usage(_IN_MEMORY).free > 2 << 30:
    os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(_IN_MEMORY))

# Tests that are started in the background of a shell, where Ctrl-C is ignored, send it all the same.
if signal.getsignal(signal.SIGINT) == signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

_DIGEST = re.compile(r"\b[0-9a-f]{64}\b|\b[0-9a-f]{12}\b")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--accept", action="store_true", help="rewrite golden files with what is printed now")
    parser.addoption("--anew", action="store_true", help="try laws on examples that no run drew before")


def _is_quick(config: pytest.Config) -> bool:
    return "not deep" in config.option.markexpr


def pytest_configure(config: pytest.Config) -> None:
    """Without the deep tests, laws are tried on fewer examples and what is alike is shared. Before any test is read."""
    quick = _is_quick(config)
    settings.load_profile(ANEW if config.option.anew else QUICK if quick else DEEP)
    if quick:
        share()
        draw_nothing_from_the_sources()
    gc.disable()  # until all tests are read
    cache = TemporaryDirectory()
    os.environ["XDG_CACHE_HOME"] = cache.name
    config.add_cleanup(cache.cleanup)


@pytest.fixture(autouse=True, scope="session")
def _plans_on_a_busy_machine() -> None:
    """An inspection waits for its plan as long as it takes: what it tells hangs on no other program that runs."""
    from checker.studies.planning import advising

    advising.SECONDS = 120.0


def pytest_collection_finish() -> None:
    """What is read by now stays: looking through it for garbage again and again takes a tenth of the time."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(100_000, 50, 1000)
    gc.enable()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Those in a browser first: one of them plays a day of minutes, for which nothing else need wait at the end."""
    items.sort(key=lambda item: item.get_closest_marker("browser") is None)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """A file's tests go to one process, which makes what they share once; in the quick run of all, a room's tests do."""
    from xdist.scheduler import LoadFileScheduling

    if "or browser" in config.option.markexpr:
        config.option.loadscopereorder = False
    scheduling = LoadFileScheduling(config, log)
    if _is_quick(config) and config.args_source is pytest.Config.ArgsSource.TESTPATHS:
        scheduling._split_scope = lambda nodeid: "/".join(nodeid.split("/")[:-1][:2])
    return scheduling


@pytest.fixture
def at_root(monkeypatch: pytest.MonkeyPatch) -> Path:
    """Run in the root of the source tree, where samples/ and rulepacks/ are."""
    monkeypatch.chdir(ROOT)
    return ROOT


def without_digests(text: str) -> str:
    """The text with every digest blanked, so that a comment in a pack changes no golden report."""
    return _DIGEST.sub(lambda digest: "0" * len(digest[0]), text)


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """Compare a whole report with the file of that name in tests/golden; digests do not count."""

    def compare(name: str, text: str) -> None:
        file = GOLDEN / name
        shown = without_digests(text)
        if request.config.getoption("--accept"):
            file.parent.mkdir(exist_ok=True)
            file.write_text(shown, encoding="utf-8")
        assert file.exists(), f"there is no tests/golden/{name}; pytest --accept writes it"
        kept = file.read_text(encoding="utf-8")
        if shown != kept:
            lines = kept.splitlines(keepends=True), shown.splitlines(keepends=True)
            pytest.fail("".join(unified_diff(*lines, f"tests/golden/{name}", "printed now")), pytrace=False)

    return compare
