"""The site of a weigh-in, put together from its pages."""

from __future__ import annotations

from collections.abc import Callable, Collection

from checker.pages.serving.application import Site
from checker.pages.serving.assets import read_assets
from checker.pages.weigh_in import (
    board,
    checks,
    handing_in,
    live,
    merging,
    otherwise,
    pads,
    papers,
    readings_table,
    rulings,
    scales,
    signing_on,
    the_day,
)
from checker.pages.weigh_in.room import WeighInRoom

_ROOMS = (
    *(board, live, signing_on, scales, otherwise, readings_table, checks, pads, rulings),
    *(the_day, handing_in, papers, merging),
)

_LARGEST_BYTES = 2 * 1024**2
"""Of what is handed in at once; records may be larger."""


def weigh_in_site(
    room: WeighInRoom, hosts: Collection[str], scheme: str, complain: Callable[[Exception], None]
) -> Site:
    """All pages of a weigh-in.

    Args:
        room: What they share.
        hosts: By what they may be asked for.
        scheme: "http", or "https" where there is a certificate.
        complain: Is told of a mistake of our own.
    """
    package = __package__ or ""
    return Site(
        [page for part in _ROOMS for page in part.pages(room)],
        hosts,
        rooms=(package,),
        assets=read_assets(package, "weigh-in.css", "weigh-in.js"),
        scheme=scheme,
        secret=room.secret,
        largest_bytes=_LARGEST_BYTES,
        complain=complain,
    )
