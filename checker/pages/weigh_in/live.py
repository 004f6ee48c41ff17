"""Tells pages that the record has gone on: one line for each time that it has, for as long as a page is open."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from checker.pages.serving.application import ServedPage
from checker.pages.weigh_in.room import WeighInRoom

_SECONDS_BETWEEN_LOOKS = 0.5
_SIGNS_OF_LIFE = 20
"""So many looks without news until a line is sent that says nothing, so that a dead connection is found out."""


def pages(room: WeighInRoom) -> list[ServedPage]:
    """The one address that pages listen to."""

    async def live(request: Request) -> Response:
        return StreamingResponse(_lines(room, request), media_type="text/event-stream")

    return [ServedPage("/live", live)]


async def _lines(room: WeighInRoom, request: Request) -> AsyncIterator[str]:
    told, quiet = -1, 0
    while not request.app.state.ending.is_set():
        latest = await room.office.latest()
        if latest != told:
            told, quiet = latest, 0
            yield f"retry: 2000\nid: {latest}\ndata: {latest}\n\n"
        elif (quiet := quiet + 1) >= _SIGNS_OF_LIFE:
            quiet = 0
            yield ": still there\n\n"
        await asyncio.sleep(_SECONDS_BETWEEN_LOOKS)
