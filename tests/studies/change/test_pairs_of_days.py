"""Between any two days of an edition, or of two, `affected` says of a car just what judging it on each of them says."""

from __future__ import annotations

import itertools
import random
from datetime import date, timedelta
from pathlib import Path

import pytest

from checker.cli.editions import edition_named
from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.studies.change.affected import Comparator
from checker.verdict.run import dated, inspect_document
from tests.examples import quick_first

DAYS = [
    *("2028-02-28", "2028-02-29", "2028-03-01", "2027-12-31", "2028-01-01"),
    *("2028-12-31", "2029-01-01", "2029-02-28", "2029-03-01"),
]
"""A leap day, the ends of years, and the day on which one edition follows another."""
BORN = ["2024-02-28", "2024-02-29", "2024-03-01", "2024-12-31"]


def check(dice: random.Random) -> str:
    bound, day = f"{dice.choice([1380, 1390, 1400])} mm", dice.choice(DAYS)
    other = f"{dice.choice([1380, 1390, 1400])} mm"
    after = date.fromisoformat(day) + timedelta(days=dice.choice([0, 1, 2]))
    limit = f"limit: frame.width, at_most: {bound}"
    return dice.choice(
        [
            f"{{{limit}, since: {day}}}",
            f"{{{limit}, until: {day}}}",
            f"{{all_of: [{{{limit}, until: {day}}}, {{limit: frame.width, at_most: {other}, since: {after}}}]}}",
            f"{{any_of: [{{{limit}, until: {day}}}, {{limit: frame.width, at_most: {other}}}]}}",
            f"{{none_of: [{{limit: frame.width, above: {bound}, since: {day}}}]}}",
            f'{{limit: frame.width, at_most: "{bound} if event.date < {day} else {other}"}}',
            f'{{{limit}, unless: "month(event.date) == 2 and day_of_month(event.date) == 29"}}',
            f'{{{limit}, when: "full_years(frame.made, event.date) >= 4"}}',
            f"{{{limit}, when: event.date > end_of_month(frame.made + 48 months)}}",
            "{valid: end_of_month(frame.made + 4 years)}",
            f"{{valid: frame.made + {dice.choice(['4 years', '48 months', '1461 days'])}}}",
        ]
    )


def edition(dice: random.Random, first: str, last: str) -> str:
    since = [f", since: {dice.choice(DAYS[3:6])}" if dice.random() < 0.15 else "" for _ in range(4)]
    clauses = "\n".join(
        f'  "{n}": {{title: T, check: {check(dice)}{more}}}' for n, more in enumerate(since, 1)
    )
    facts = "facts: {frame.width: {unit: mm}, frame.made: {type: date}}"
    return (
        f'pack: d\nedition: "{first[:4]}"\ntitle: D\nin_force: {{from: {first}, until: {last}}}\n'
        f"{facts}\nclauses:\n{clauses}\n"
    )


@pytest.mark.parametrize("least", quick_first(range(0, 72, 2), 1))
def test_no_pair_of_days_is_a_false_all_clear(tmp_path: Path, least: int) -> None:
    held = 0
    for seed in (least, least + 1):
        dice = random.Random(seed)
        folder = tmp_path / str(seed)
        folder.mkdir()
        for place, years in enumerate((("2027-01-01", "2028-12-31"), ("2029-01-01", "2029-12-31"))):
            (folder / f"{place}.yaml").write_text(edition(dice, *years), encoding="utf-8")
        car = (
            "formula: d\nevent: {date: 2028-01-01}\ncar: {number: '7', chassis_built: 2023-02-28}\n"
            f"frame: {{width: {dice.choice([1375, 1385, 1395, 1405])} mm, made: {dice.choice(BORN)}}}\n"
        )
        document = parse_document(car.encode(), "car.yaml", "CD")
        days = sorted({date.fromisoformat(day) + timedelta(days=k) for day in DAYS for k in (-1, 0, 1)})
        try:
            packs = {day: load_pack(open_folder(str(folder)), day) for day in days}
        except InputError:
            continue  # the dice gave a clause days outside its edition
        truth = {
            day: {
                one.clause.number: one.outcome
                for one in inspect_document(packs[day], dated(document, day), day, "entrant").outcomes
            }
            for day in days
        }
        for first, last in (pair for pair in itertools.combinations(days, 2) if dice.random() < 0.1):
            sides = [edition_named(f"{folder}@{day}", last) for day in (first, last)]
            told = Comparator(*sides, audience="entrant", on=last, on_before=first).judge(document, "car")
            said = {effect.pair.new: (effect.before, effect.after) for effect in told.effects}
            for number, before in truth[first].items():
                after = truth[last][number]
                if before != after or number in said:
                    assert said.get(number) == (before, after), (
                        f"seed {seed}, {first} {last}, clause {number}"
                    )
                held += before != after
    assert held > 6
