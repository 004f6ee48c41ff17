"""Draws what judging costs over cars, clauses and corners of a condition: `python -m tests.benchmarks.plots`.

It writes `cost.svg` beside this file. Each cost is shown as a multiple of the smallest case, so that another machine
draws the same picture; the dashed line is what growing with the number alone would give.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from time import process_time

from checker.pack.editions.loading import load_edition
from checker.reading.strict_yaml import parse_document
from checker.verdict.inspection import inspect_car
from checker.verdict.run import inspect_document
from tests import fleet
from tests.benchmarks.engines import NAMES, clauses
from tests.building import DAY, car_of, pack_of
from tests.conftest import ROOT

Points = list[tuple[int, float]]
ROUNDS = 5
WIDE, HIGH, LEFT, BELOW = 260, 180, 46, 40


def least(work: Callable[[], Callable[[], object]]) -> float:
    """Seconds of processor time, the least of several rounds; each is made ready first."""
    found = []
    for _ in range(ROUNDS):
        ready = work()
        began = process_time()
        ready()
        found.append(process_time() - began)
    return min(found)


def over_cars() -> Iterator[tuple[int, float]]:
    """Cars of a fleet read from JSON and judged by the Dunlin pack."""
    pack = load_edition(str(ROOT / "rulepacks/dunlin/2026.1.yaml"))
    for number in (5, 10, 20, 40):
        lines = [json.dumps(car).encode() for car in fleet.cars(number, seed=5)]

        def work(lines: list[bytes] = lines) -> None:
            for line in lines:
                inspect_document(pack, parse_document(line, "fleet.jsonl", "CD"), DAY, "entrant")

        yield number, least(lambda work=work: work)  # type: ignore[misc]


def over_clauses() -> Iterator[tuple[int, float]]:
    """Limits of plain facts with an error, and formulas of two of them."""
    facts = "facts: {" + ", ".join(f"f.{x}: {{type: number, uncertainty: 0.5}}" for x in NAMES) + "}"
    text = "f: {" + ", ".join(f"{x}: {200 + place}" for place, x in enumerate(NAMES)) + "}"
    every = [ours for ours, *_ in clauses()] * 8
    for number in (20, 40, 80, 160, 320):
        checks = (
            f'"{at}": {{title: T, text: W, check: {{{one}}}}}\n' for at, one in enumerate(every[:number])
        )
        pack = pack_of("".join(checks), facts)

        def ready() -> Callable[[], object]:
            car = car_of(pack, text)  # noqa: B023 (used before the next turn)
            return lambda: inspect_car(pack, car, DAY, "entrant")  # noqa: B023

        yield number, least(ready)


def over_corners() -> Iterator[tuple[int, float]]:
    """One clause on a weight in every state: more tyre sets make more corners."""
    pack = pack_of('"1": {title: T, text: W, check: {limit: weight.total, at_least: 600 kg, condition: any}}')
    for sets in (1, 2, 4, 6):
        tyres = ", ".join(
            f"set{n}: {{front: {{mass: 14 kg, section: 215 mm}}, rear: {{mass: {14 + n} kg, section: 215 mm}}}}"
            for n in range(sets)
        )
        text = f"""
weighing: {{instrument: pads, fuel: 6 L, driver: out, tyres: set0, wear: new, readings: [
  {{front_left: 150 kg, front_right: 148 kg, rear_left: 172 kg, rear_right: 170 kg}}]}}
instruments: {{pads: {{resolution: 0.5 kg, permissible_error: 0.5 kg}}}}
dimensions: {{wheelbase_left: 2200 mm, wheelbase_right: 2204 mm, front_width_over_tyres: 1715 mm,
  rear_width_over_tyres: 1700 mm}}
tyres: {{{tyres}}}
fuel: {{capacity: 22 L, unusable: 0 L, density: {{value: 0.75 kg/L, uncertainty: 0.01 kg/L}},
  at: {{behind_front_axle: 1760 mm, right_of_centre: 60 mm}}}}
driver: {{mass: {{value: 82 kg, uncertainty: 0.3 kg}}, at: {{behind_front_axle: 1210 mm, right_of_centre: 30 mm}}}}
wear: {{front_left: 0.4 kg, front_right: 0.6 kg, rear_left: 0.4 kg, rear_right: 0.6 kg}}
"""

        def ready(text: str = text) -> Callable[[], object]:
            car = car_of(pack, text)
            return lambda: inspect_car(pack, car, DAY, "entrant")

        yield 8 * sets, least(ready)


def panel(at: int, title: str, points: Points) -> str:
    """One picture: the cost over a number, both as multiples of the first."""
    (first, base), last = points[0], points[-1]
    across, up = last[0] / first, max(last[0] / first, last[1] / base)

    def place(number: float, cost: float) -> str:
        x = LEFT + (number / first - 1) / (across - 1) * (WIDE - LEFT - 12)
        y = HIGH - BELOW - (cost / base - 1) / (up - 1) * (HIGH - BELOW - 34)
        return f"{x:.1f},{y:.1f}"

    line = " ".join(place(*one) for one in points)
    dots = "".join('<circle cx="{}" cy="{}" r="2.5"/>'.format(*place(*one).split(",")) for one in points)
    straight = f"{place(first, base)} {place(last[0], base * across)}"
    told = f"{first} to {last[0]}: {last[1] / base:.1f} times the cost of {first}"
    return (
        f'<g transform="translate({at * WIDE} 0)"><text x="{LEFT}" y="16" class="head">{title}</text>'
        f'<path d="M{LEFT} 26V{HIGH - BELOW}H{WIDE - 12}" class="axis"/><polyline points="{straight}" class="even"/>'
        f'<polyline points="{line}" class="cost"/>{dots}<text x="{LEFT}" y="{HIGH - 18}">{told}</text></g>'
    )


def main() -> None:
    every = (("cars", over_cars), ("clauses", over_clauses), ("corners", over_corners))
    panels = []
    for at, (title, measure) in enumerate(every):
        points = list(measure())
        print(title, *(f"{number}: {1000 * cost:.1f} ms" for number, cost in points))
        panels.append(panel(at, f"Cost over {title}", points))
    style = (
        "text{font:11px sans-serif;fill:#222}.head{font-weight:bold}.axis{fill:none;stroke:#888}"
        ".cost{fill:none;stroke:#06c;stroke-width:2}.even{fill:none;stroke:#aaa;stroke-dasharray:4 4}circle{fill:#06c}"
    )
    whole = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {3 * WIDE} {HIGH}" role="img" '
        f'aria-label="What judging costs over cars, clauses and corners"><style>{style}</style>'
        f'<rect width="100%" height="100%" fill="#fff"/>{"".join(panels)}</svg>\n'
    )
    Path(__file__).with_name("cost.svg").write_text(whole, encoding="utf-8")


if __name__ == "__main__":
    main()
