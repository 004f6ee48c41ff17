"""Makes the files of the sample meeting: thirty declarations, a table from the pads, last meeting's results, the day.

Everything comes from the sample car `legal.yaml` and one seed, so the same files are made every time:

    python samples/meeting/make.py FOLDER

The day itself is played from these files by `replay.py`.
"""

from __future__ import annotations

import random
import re
import sys
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

SEED = 20260524
DAY = "2026-05-24"
BEFORE = "2026-05-03"
WHEELS = ("front_left", "front_right", "rear_left", "rear_right")
LEGAL = Path(__file__).resolve().parent.parent / "cars" / "legal.yaml"

BIRDS = (
    "Curlew", "Ruff", "Stilt", "Phalarope", "Puffin", "Razorbill", "Guillemot", "Fulmar", "Gannet", "Kittiwake", "Tern",
    "Skua", "Shelduck", "Teal", "Wigeon", "Pintail", "Gadwall", "Pochard", "Scoter", "Eider", "Smew", "Goosander",
    "Bittern", "Heron", "Egret", "Coot", "Moorhen", "Wagtail", "Merlin",
)  # fmt: skip

LIGHT, BALLAST, SEAL, LATE, WITHDRAWN, MISTYPED = "Smew", "Egret", "Teal", "Merlin", "Coot", "Puffin"
DRIFTED = ("Heron", "Moorhen", "Wagtail")
"""Weighed after a pad began to drift, and weighed again when that was found."""
IMPORTED = ("Tern", "Skua", "Shelduck", "Wigeon", "Pintail", "Gadwall")
"""Weighed by a display that writes a table."""

PAD_ERRORS = {"front_left": "0.1", "front_right": "-0.1", "rear_left": "0.0", "rear_right": "-0.1"}
DRIFT = Decimal(-9)
"""What the pad marked rear_left shows too little from noon on, in kg."""
STEP = Decimal("0.5")


@dataclass
class Car:
    """One car of the meeting, and what it really weighs on each wheel."""

    number: str
    name: str
    fuel: Decimal
    loads: dict[str, Decimal] = field(default_factory=dict)

    @property
    def file(self) -> str:
        return f"{self.number}-{self.name.lower()}.yaml"


def main(folder: Path) -> None:
    chance = random.Random(SEED)
    cars = make_cars(chance)
    (folder / "cars").mkdir(parents=True, exist_ok=True)
    for car in cars:
        (folder / "cars" / car.file).write_text(declaration(car, chance))
    places = [cars[0], cars[3], *cars[5:12]]
    rows = [f"{place};{car.number}" for place, car in enumerate(places, start=1)]
    (folder / f"results-{BEFORE}.csv").write_text("\n".join(["place;car", *rows]) + "\n")
    (folder / "pads.csv").write_bytes(pads_table(cars, chance))
    (folder / "pads-mapping.yaml").write_text(MAPPING)
    (folder / "day.yaml").write_text(Script(cars, chance).text())


def make_cars(chance: random.Random) -> list[Car]:
    base = {"front_left": "159.0", "front_right": "147.5", "rear_left": "148.5", "rear_right": "141.0"}
    cars = [Car("27", "Redshank", Decimal(6), {wheel: Decimal(load) for wheel, load in base.items()})]
    drawn = (str(int(chance.random() * 98) + 1) for _ in range(1000))
    numbers = iter([number for number in dict.fromkeys(drawn) if number != "27"])
    for name in BIRDS:
        fuel = Decimal(4 + int(chance.random() * 6))
        loads = {wheel: Decimal(load) + tenths(chance, 8) for wheel, load in base.items()}
        for wheel, share in zip(WHEELS, ("0.09", "0.11", "0.37", "0.43"), strict=True):
            loads[wheel] += ((fuel - 6) * Decimal("0.75") * Decimal(share)).quantize(Decimal("0.1"))
        if name == LIGHT:
            loads = {wheel: load - Decimal("2.1") for wheel, load in loads.items()}
        if name == BALLAST:
            loads = {wheel: load + Decimal("3.25") for wheel, load in loads.items()}
        cars.append(Car(str(next(numbers)), name, fuel, loads))
    return cars


def tenths(chance: random.Random, most: int) -> Decimal:
    """Up to so many tenths of a kilogram to either side."""
    return Decimal(int(chance.random() * (2 * most + 1)) - most) / 10


def shown(load: Decimal) -> str:
    """As a display of half kilograms shows it."""
    return str(((load / STEP).quantize(Decimal(1), ROUND_HALF_UP) * STEP).quantize(Decimal("0.1")))


# -- declarations --------------------------------------------------------------------------------------------


def declaration(car: Car, chance: random.Random) -> str:
    """The sample car's file with this car's number, name, weights and dates."""
    text = LEGAL.read_text()
    home = {wheel: shown(load + tenths(chance, 3)) for wheel, load in car.loads.items()}
    if car.name == LIGHT:
        home = {wheel: shown(car.loads[wheel] + Decimal("2.2")) for wheel in WHEELS}
    readings = ", ".join(f"{wheel}: {home[wheel]} kg" for wheel in WHEELS)
    built = f"{2017 + int(chance.random() * 8)}-{1 + int(chance.random() * 12):02}-{1 + int(chance.random() * 28):02}"
    story = {
        LIGHT: "Its home scales flatter it by two kilograms a wheel.",
        BALLAST: "Carries 24.0 kg of ballast.",
    }
    told = (
        f"# {car.name}, car {car.number}: an entry of the sample meeting. {story.get(car.name, '')}".rstrip()
    )
    changes = [
        (r"\$schema=\.\./\.\./", "$schema=../../../"),
        (r"(?m)^# Redshank:.*$", told),
        (r'number: "27", name: Redshank', f'number: "{car.number}", name: {car.name}'),
        (r"chassis_built: 2024-11-02", f"chassis_built: {built if car.number != '27' else '2024-11-02'}"),
        (rf"{BEFORE}", DAY),
        (r"results: .*\n", ""),
        (r"fuel: 6 L  ", f"fuel: {car.fuel} L  "),
        (r"    - \{front_left.*\}", f"    - {{{readings}}}"),
        (r"seals: .*\n", ""),
        (r"SO 4417", f"SO {4000 + int(car.number)}"),
        (r"SO 4418", f"SO {4200 + int(car.number)}"),
        (r"TX 20931", f"TX {20900 + int(car.number)}"),
        (r"LB-027", f"LB-{int(car.number):03}"),
    ]
    if car.name == BALLAST:
        changes += [
            (r"mass: 5\.5 kg, at: \{behind_front_axle: 1880", "mass: 9.0 kg, at: {behind_front_axle: 1880")
        ]
        changes += [
            (r"mass: 5\.5 kg", "mass: 9.0 kg"),
            (r"label: S1, mass: 4\.2 kg", "label: B3, mass: 6.0 kg"),
        ]
        changes += [(r", success: true", "")]
    elif car.name not in ("Redshank", "Stilt"):
        changes += [(r"  - \{label: S1,.*\n.*\n", "")]
    for pattern, replacement in changes:
        text, found = re.subn(pattern, replacement, text)
        assert found, f"legal.yaml no longer has {pattern}"
    return text


# -- weighings -----------------------------------------------------------------------------------------------


def weighing(car: Car, *, swapped: bool, drift: Decimal, chance: random.Random) -> list[str]:
    """What the display shows under each wheel, the pads' own errors included."""
    other = {
        "front_left": "front_right",
        "front_right": "front_left",
        "rear_left": "rear_right",
        "rear_right": "rear_left",
    }
    found: list[str] = []
    for wheel in WHEELS:
        pad = other[wheel] if swapped else wheel
        error = Decimal(PAD_ERRORS[pad]) + (drift if pad == "rear_left" else 0)
        found.append(shown(car.loads[wheel] + error + tenths(chance, 1)))
    return found


MAPPING = """\
# yaml-language-server: $schema=../../rulepacks/schemas/mapping.schema.json
# How the display of the pads writes its table: an invented one, of no maker.
import: weighings
columns: {car: Racer, front_left: Wheel FL, front_right: Wheel FR,
  rear_left: Wheel RL, rear_right: Wheel RR,
  fuel: Fuel L, pads: Pad set, time: Clock}
units: {loads: kg, fuel: L}
decimal: comma
time: serial 1900
zone: UTC
words:
  pads: {A: as marked, B: swapped side to side}
fixed: {gear: pads, driver: out, tyres: dry, wear: new}
"""


def pads_table(cars: list[Car], chance: random.Random) -> bytes:
    """A table as a spreadsheet saves it: byte order mark, semicolons, decimal commas, days as numbers."""
    rows = ["Clock;Racer;Wheel RR;Wheel RL;Wheel FR;Wheel FL;Fuel L;Pad set;Remark"]
    moment = Decimal("46166.4028")  # 24 May 2026, about 09:40
    for car in (car for car in cars if car.name in IMPORTED):
        for swapped in (False, True):
            fl, fr, rl, rr = weighing(car, swapped=swapped, drift=Decimal(0), chance=chance)
            cells = (str(moment), car.number, rr, rl, fr, fl, str(car.fuel), "B" if swapped else "A", "")
            rows.append(";".join(cells).replace(".", ","))
            moment += Decimal("0.0025")
    return b"\xef\xbb\xbf" + "\r\n".join(rows).encode() + b"\r\n"


# -- the day -------------------------------------------------------------------------------------------------


class Script:
    """The day as a list of steps, each at its time by an official."""

    def __init__(self, cars: list[Car], chance: random.Random) -> None:
        self.cars = {car.name: car for car in cars}
        self.chance = chance
        self.steps: list[tuple[int, str, str]] = []
        self._write()

    def text(self) -> str:
        lines = [
            "# yaml-language-server: $schema=day.schema.json",
            "# The sample meeting, step by step; made by make.py, played by replay.py. Times are UTC.",
            f"day: {DAY}",
            "title: Saltmere Oval Racing Club, third meeting of 2026",
            "officials: [KV, TB]",
            "steps:",
        ]
        for minute, by, step in self.steps:
            lines.append(f'  - {{at: "{minute // 60:02}:{minute % 60:02}", by: {by}, {step}}}')
        return "\n".join(lines) + "\n"

    def at(self, minute: int, by: str, step: str) -> None:
        self.steps.append((minute, by, step))

    def _write(self) -> None:
        late = self.cars[LATE]
        early = [car for car in self.cars.values() if car is not late]
        self.at(7 * 60, "KV", "do: enter, cars: [" + ", ".join(car.file for car in early) + "]")
        self.at(7 * 60 + 20, "KV", f"do: carry, results: results-{BEFORE}.csv")
        self._check(7 * 60 + 40)
        self.at(7 * 60 + 50, "KV", "do: draw, sample: 5, purpose: fuel samples, seed: tide table page 14")
        queue = [car for car in early if car.name not in (*DRIFTED, WITHDRAWN)]
        minute = 8 * 60
        for place, car in enumerate(queue):
            if place == 18:
                self.at(minute, "TB", "do: import, file: pads.csv, mapping: pads-mapping.yaml")
                for name in IMPORTED:
                    self.at(minute + 1, "KV", f'do: judge, car: "{self.cars[name].number}"')
                self._check(minute + 1)
            self._station(minute + 2, car, Decimal(0))
            minute += 9
        coot = self.cars[WITHDRAWN]
        self.at(11 * 60 + 50, "KV", f'do: withdraw, car: "{coot.number}", reason: gearbox failed in practice')
        self._check(12 * 60)
        for place, name in enumerate(DRIFTED):
            self._station(12 * 60 + 10 + 9 * place, self.cars[name], DRIFT)
        self._drift_found()
        self._late()
        self._protest()
        self._after_the_final()
        self.at(17 * 60 + 30, "KV", "do: close")
        self.steps.sort(key=lambda step: step[0])

    def _check(self, minute: int) -> None:
        self.at(minute, "TB", f"do: check, pads: [{', '.join(WHEELS)}], applied: 0 kg, shown: 0.0 kg")
        self.at(minute + 1, "TB", f"do: check, pads: [{', '.join(WHEELS)}], applied: 20 kg, shown: 20.0 kg")

    def _station(self, minute: int, car: Car, drift: Decimal) -> None:
        """Papers and seals, then the scales; the verdict is worked out when the car leaves."""
        number = car.number
        sump = 4200 + int(number) + (1 if car.name == SEAL else 0)
        seals = f'"seals.cylinder_head": SO {4000 + int(number)}, "seals.sump": SO {sump}'
        self.at(
            minute, "KV", f'do: seen, car: "{number}", clauses: ["11.1", "11.2", "11.3", "9.1", "9.5", "3.8"]'
        )
        self.at(minute + 1, "KV", f'do: measure, car: "{number}", facts: {{{seals}}}')
        if self.chance.random() < 0.4:
            self._tape(minute + 2, car)
        if car.name in IMPORTED:
            return
        for place, swapped in enumerate((False, True)):
            loads = weighing(car, swapped=swapped, drift=drift, chance=self.chance)
            if car.name == MISTYPED and not swapped:
                loads = [loads[1], loads[0], loads[3], loads[2]]
            self._weigh(minute + 3 + place, car, loads, "" if swapped else f"fuel: {car.fuel} L")
        if car.name == MISTYPED:
            loads = weighing(car, swapped=False, drift=drift, chance=self.chance)
            self._weigh(
                minute + 5,
                car,
                loads,
                "corrects: first, reason: left and right typed into each other's places",
            )
        self.at(minute + 6, "KV", f'do: judge, car: "{number}"')

    def _weigh(self, minute: int, car: Car, loads: list[str], more: str, again: str = "") -> None:
        more = ", ".join(part for part in (more, f"again: {again}" if again else "") if part)
        step = f'do: weigh, car: "{car.number}", loads: [{", ".join(loads)}]{f", {more}" if more else ""}'
        self.at(minute, "TB", step)

    def _tape(self, minute: int, car: Car) -> None:
        front = 1712 + int(self.chance.random() * 8)
        rear = 1722 + int(self.chance.random() * 8)
        facts = {
            "front_width_over_tyres": front,
            "rear_width_over_tyres": rear,
            "wheelbase_left": 2202,
            "wheelbase_right": 2197 + int(self.chance.random() * 3),
        }
        stated = ", ".join(f"dimensions.{name}: {value} mm" for name, value in facts.items())
        self.at(minute, "KV", f'do: measure, car: "{car.number}", facts: {{{stated}}}')
        self.at(
            minute,
            "KV",
            f'do: gauge, car: "{car.number}", fact: dimensions.ride_height, size: 85 mm, result: go',
        )

    def _drift_found(self) -> None:
        self.at(
            12 * 60 + 40, "TB", "do: check, pads: [front_left, front_right], applied: 20 kg, shown: 20.0 kg"
        )
        self.at(12 * 60 + 41, "TB", "do: check, pads: [rear_left], applied: 20 kg, shown: 11.0 kg")
        self.at(12 * 60 + 55, "TB", "do: check, pads: [rear_left], applied: 0 kg, shown: 0.0 kg")
        self.at(12 * 60 + 56, "TB", "do: check, pads: [rear_left], applied: 20 kg, shown: 20.0 kg")
        for place, name in enumerate(DRIFTED):
            car, minute = self.cars[name], 13 * 60 + 9 * place
            for turn, swapped in enumerate((False, True)):
                loads = weighing(car, swapped=swapped, drift=Decimal(0), chance=self.chance)
                fuel = "" if swapped else f"fuel: {car.fuel} L"
                self._weigh(
                    minute + turn, car, loads, fuel, "" if swapped else "pad rear_left failed its check"
                )
            self.at(minute + 3, "KV", f'do: judge, car: "{car.number}"')

    def _late(self) -> None:
        car = self.cars[LATE]
        self.at(13 * 60 + 30, "KV", f"do: enter, cars: [{car.file}], late: true")
        self._station(13 * 60 + 32, car, Decimal(0))
        self._check(13 * 60 + 45)

    def _protest(self) -> None:
        number, by = self.cars[BALLAST].number, self.cars["Redshank"].number
        text = "the seat plate is far thicker than a seat needs and is ballast"
        self.at(14 * 60, "KV", f'do: protest, car: "{number}", clause: "3.6", by_car: "{by}", text: {text}')
        self.at(
            14 * 60 + 20, "TB", f'do: measure, car: "{number}", facts: {{rulings.ballast_parts_mass: 3.5 kg}}'
        )
        self.at(14 * 60 + 21, "KV", f'do: judge, car: "{number}"')
        reason = "a plate of 3 mm would do; 3.5 kg of it are ballast"
        self.at(
            14 * 60 + 40,
            "KV",
            f'do: rule, car: "{number}", clause: "3.6", decision: reject, reason: {reason}, protest: last',
        )
        seal = self.cars[SEAL].number
        self.at(14 * 60 + 50, "KV", f'do: rule, car: "{seal}", clause: "2.7", decision: allow, '
                "reason: resealed in our presence; the log book is written up")  # fmt: skip
        self.at(14 * 60 + 52, "KV", f'do: note, car: "{seal}", topic: seal, part: sump, state: broken, '
                "text: seal found renumbered; new seal on order")  # fmt: skip

    def _after_the_final(self) -> None:
        for place, name in enumerate(("Redshank", "Fulmar", "Phalarope")):
            car, minute = self.cars[name], 16 * 60 + 40 + 8 * place
            burnt = car.fuel - 2
            shares = ("0.09", "0.11", "0.37", "0.43")
            worn = ("0.4", "0.6", "0.4", "0.6")
            loads = [
                shown(car.loads[wheel] - burnt * Decimal("0.75") * Decimal(share) - Decimal(lost))
                for wheel, share, lost in zip(WHEELS, shares, worn, strict=True)
            ]
            self._weigh(minute, car, loads, "fuel: 2 L, wear: worn, occasion: after the final")
            self.at(minute + 1, "KV", f'do: judge, car: "{car.number}"')
        lost = self.cars["Fulmar"].number
        step = "topic: lost, part: front wings, text: torn off in the last turn, occasion: after the final"
        self.at(17 * 60, "KV", f'do: note, car: "{lost}", {step}')


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).resolve().parent))
