"""`checker meeting draw`: a random order, or a sample, with a seed that is kept."""

from __future__ import annotations

import click

from checker.cli.meeting.common import a_meeting_command, acknowledge, by_option, recording
from checker.cli.printing import Printing


@a_meeting_command(
    "Draw a random order or a sample of cars; anybody can draw it again.",
    "checker meeting draw day.meeting --by KV",
    'checker meeting draw day.meeting --sample 5 --purpose "fuel samples" --seed "tide table page 14" --by KV',
)
@click.option("--sample", type=int, metavar="NUMBER", help="How many to draw. Without it: an order of all.")
@click.option("--among", "among", multiple=True, metavar="CAR", help="Draw from these only. May be repeated.")
@click.option("--purpose", default="", metavar="WORDS", help="What the draw is for.")
@click.option(
    "--seed", default="", metavar="WORDS", help="Words that somebody else calls out. Without it: random."
)
@by_option
def command(day: str, sample: int | None, among: tuple[str, ...], purpose: str, seed: str, by: str) -> int:
    """Draw lots, and record the seed.

    A car's lot is the SHA-256 of the seed, a colon and its number; the smallest lots are drawn first. So anybody can
    draw again with any tool that computes SHA-256.
    """
    from checker.meeting.taking.draw import draw

    with recording(day, by) as meeting:
        drawn = draw(meeting, by, purpose=purpose, sample=sample, among=among, seed=seed)
        with Printing().paged() as page:
            page.put(f"Seed: {drawn.seed}")
            page.put(f"Drawn{f' for {drawn.purpose}' if drawn.purpose else ''}: {', '.join(drawn.drawn)}")
        return acknowledge(meeting, f"Drawn from {len(drawn.among)} cars")
