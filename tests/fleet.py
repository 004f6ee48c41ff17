"""A fleet of believable Dunlin cars, as many as wanted and always the same: the comparison car with everything varied
that differs from garage to garage. Some are over one limit or another, as in life.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import Any

from checker.reading.strict_yaml import read_document

LEGAL = Path(__file__).parent.parent / "samples" / "cars" / "legal.yaml"

WADERS = (
    *(
        "Avocet",
        "Curlew",
        "Dotterel",
        "Godwit",
        "Greenshank",
        "Knot",
        "Lapwing",
        "Oystercatcher",
        "Phalarope",
    ),
    *("Plover", "Ruff", "Sanderling", "Snipe", "Stilt", "Stint", "Turnstone", "Whimbrel", "Woodcock"),
)
_MINIMUM_KG = ((1300, 560), (1600, 585), (9999, 610))


def cars(number: int, seed: int = 1) -> Iterator[dict[str, Any]]:
    """The declarations of so many cars."""
    base = read_document(LEGAL, "CD").data
    assert isinstance(base, dict)
    for place in range(number):
        yield car(place, base, Random(f"{seed} {place}"))


def car(place: int, base: dict[str, Any], chance: Random) -> dict[str, Any]:
    """One car of the fleet."""
    made: dict[str, Any] = json.loads(json.dumps(base, default=str))
    built = date(2018, 1, 1) + timedelta(days=chance.randrange(3000))
    name = f"{chance.choice(WADERS)} {place // len(WADERS) + 1}"
    made["car"].update(number=str(place + 1), name=name, chassis_built=built.isoformat())
    capacity = chance.choice((1198, 1270, 1396, 1428, 1498, 1540, 1588, 1640, 1715))
    made["engine"].update(capacity=f"{capacity} cc", chamber_volume=f"{round(capacity / 39.2, 1)} cc")
    _weigh(made, capacity, chance)
    made["driver"]["mass"] = f"{chance.randrange(66, 104)} kg"
    lowest = chance.randrange(85, 99)
    made["dimensions"].update(
        ride_height=[f"{lowest + chance.randrange(6)} mm" for _ in range(4)],
        rear_width_over_tyres=f"{chance.randrange(1698, 1742)} mm",
    )
    _parts(made, chance)
    return made


def _weigh(made: dict[str, Any], capacity: int, chance: Random) -> None:
    """Loads on the four pads, so that most cars are legal and some are not by a little."""
    least = next(kg for largest, kg in _MINIMUM_KG if capacity <= largest)
    total = least + 8 + max(-6.0, chance.gauss(10, 6))
    inside = chance.gauss(51.3, 0.65) / 100
    rear = chance.gauss(48.6, 0.5) / 100
    loads = {
        "front_left": total * inside * (1 - rear),
        "front_right": total * (1 - inside) * (1 - rear),
        "rear_left": total * inside * rear,
        "rear_right": total * (1 - inside) * rear,
    }
    made["weighing"]["readings"] = [{wheel: f"{round(2 * kg) / 2} kg" for wheel, kg in loads.items()}]


def _parts(made: dict[str, Any], chance: Random) -> None:
    bought = date(2023, 6, 1) + timedelta(days=chance.randrange(1000))
    for part in made["components"]:
        match part["category"]:
            case "suspension/damper":
                price = chance.randrange(2700, 3360, 5)
                part.update(
                    price=_money(price),
                    list_price=_money(price + chance.randrange(0, 150)),
                    price_date=bought.isoformat(),
                )
            case "safety/belts":
                part["made"] = f"{chance.randrange(2021, 2026)}-{chance.randrange(1, 13):02}"
            case "safety/extinguisher":
                part["serviced"] = f"{chance.choice((2024, 2025, 2025))}-{chance.randrange(1, 13):02}-15"
            case "body/panel":
                least = chance.randrange(217, 300)
                part["panel_thickness"] = [f"{_hundredths(least + more)} mm" for more in (4, 0, 9, 5, 11)]
            case _:
                pass


def _money(tenths: int) -> str:
    return f"{tenths // 10}.{tenths % 10}0 GBP"


def _hundredths(amount: int) -> str:
    return f"{amount // 100}.{amount % 100:02}"


def write_lines(file: Path, number: int, seed: int = 1) -> Path:
    """The fleet as a file with one declaration a line."""
    with file.open("w", encoding="utf-8") as opened:
        for made in cars(number, seed):
            opened.write(json.dumps(made, ensure_ascii=False) + "\n")
    return file
