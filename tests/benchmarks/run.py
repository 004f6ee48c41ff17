"""Prints the ratios that this project watches: `python -m tests.benchmarks.run`."""

from __future__ import annotations

from tests.benchmarks import cold_start, engines, files, fleets, judging, studies


def main() -> None:
    """Measure everything, the machine otherwise quiet."""
    seconds = cold_start.measure()
    base = seconds["import yaml, click"]
    for name, taken in seconds.items():
        print(f"{name:24} {1000 * taken:6.0f} ms {taken / base:6.2f}")
    engine, by_hand, clauses = judging.measure()
    print(f"judging {clauses} clauses {1000 * engine:7.2f} ms")
    print(f"the same by hand   {1000 * by_hand:7.2f} ms")
    print(f"ratio              {engine / by_hand:7.1f}")
    plain, reading, linting = files.measure()
    print(f"yaml.load of a pack{1000 * plain:7.1f} ms")
    print(f"reading it strictly{1000 * reading:7.1f} ms, {reading / plain:.1f} times that, at most 3")
    print(f"linting it         {1000 * linting:7.1f} ms, {linting / plain:.1f} times that, at most 10")
    for what, spent in studies.measure().items():
        print(f"{what:33} {spent:6.2f} s of processor time")
    for what, spent, ratio in fleets.measure():
        print(f"{what:62} {spent:8.2f} ms a car {ratio:8.2f}")
    beside = engines.measure()
    for name, taken in beside.items():
        print(f"{name:38} {1e6 * taken:9.1f} us {taken / beside['by hand, in floats']:8.1f}")


if __name__ == "__main__":
    main()
