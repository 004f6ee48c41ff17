"""Fuzzing guided by coverage: `python -m tests.deep.guided TARGET [--seconds 600] [--seed 1]`; needs `pip install atheris`.

A finding ends the run, and its bytes are left in the folder that is named.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

import atheris  # type: ignore[import-not-found,import-untyped,unused-ignore]

with atheris.instrument_imports(include=["checker"]):
    from tests.deep.fuzzing import TARGETS, WORDS, seeds_of, tried


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("target", choices=TARGETS)
    parser.add_argument("--seconds", type=int, default=600)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    corpus = Path(tempfile.mkdtemp(prefix=f"fuzz-{asked.target}-"))
    for place, seed in enumerate(seeds_of(asked.target)):
        (corpus / f"seed-{place}").write_bytes(seed)
    words = corpus.with_suffix(".words")
    escaped = ("".join(f"\\x{byte:02x}" for byte in word) for word in WORDS)
    words.write_text("".join(f'"{word}"\n' for word in escaped))
    print(f"findings and inputs: {corpus}", file=sys.stderr)
    options = [f"-max_total_time={asked.seconds}", f"-seed={asked.seed}", "-max_len=60000", f"-dict={words}"]
    options += [f"-artifact_prefix={corpus}/finding-", "-print_final_stats=1", str(corpus)]
    atheris.Setup([sys.argv[0], *options], lambda data: tried(asked.target, data))
    atheris.Fuzz()


if __name__ == "__main__":
    main()
