"""Prints the ratios that this project watches: `python -m tests.benchmarks.run`, on a busy machine with `--fewer 8`."""

from __future__ import annotations

from argparse import ArgumentParser

from tests.benchmarks import cold_start, engines, files, fleets, judging, studies


def main() -> None:
    """Measure everything, the machine otherwise quiet."""
    parser = ArgumentParser()
    parser.add_argument("--fewer", type=int, default=1, help="divides the numbers of rounds and of cars")
    fewer: int = parser.parse_args().fewer

    def some(number: int, least: int = 1) -> int:
        return max(least, number // fewer)

    seconds = cold_start.measure(some(cold_start.ROUNDS))
    base = seconds["import yaml, click"]
    for name, taken in seconds.items():
        print(f"{name:24} {1000 * taken:6.0f} ms {taken / base:6.2f}")
    engine, by_hand, clauses = judging.measure(some(judging.ROUNDS))
    print(f"judging {clauses} clauses {1000 * engine:7.2f} ms")
    print(f"the same by hand   {1000 * by_hand:7.2f} ms")
    print(f"ratio              {engine / by_hand:7.1f}")
    plain, reading, linting = files.measure(some(files.ROUNDS))
    print(f"yaml.load of a pack{1000 * plain:7.1f} ms")
    print(f"reading it strictly{1000 * reading:7.1f} ms, {reading / plain:.1f} times that, at most 3")
    print(f"linting it         {1000 * linting:7.1f} ms, {linting / plain:.1f} times that, at most 10")
    for what, spent in studies.measure(some(studies.CARS, 5)).items():
        print(f"{what:45} {spent:6.2f} s of processor time", flush=True)
    for what, spent, ratio in fleets.measure(some(fleets.CARS, 5 * fleets.FEWER)):
        print(f"{what:62} {spent:8.2f} ms a car {ratio:8.2f}", flush=True)
    beside = engines.measure(some(engines.ROUNDS))
    for name, taken in beside.items():
        print(f"{name:38} {1e6 * taken:9.1f} us {taken / beside['by hand, in floats']:8.1f}")


if __name__ == "__main__":
    main()
