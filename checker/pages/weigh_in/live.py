"""Tells pages that the record has gone on: one line for each time that it has, for as long as a page is open."""

from __future__ import annotations

import asyncio
from collections import Counter
from collections.abc import AsyncIterator

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from checker.pages.serving.application import ServedPage
from checker.pages.weigh_in.room import WeighInRoom

_SECONDS_BETWEEN_LOOKS = 0.5
_SIGNS_OF_LIFE = 20
"""So many looks without news until a line is sent that says nothing, so that a dead connection is found out."""


MOST_LINES, MOST_OF_ONE = 300, 60
"""Pages that listen at once: in all, and from one device, so that none takes all there are."""


def pages(room: WeighInRoom) -> list[ServedPage]:
    """The one address that pages listen to."""
    listening: Counter[str] = Counter()

    async def live(request: Request) -> Response:
        device = request.client.host if request.client else ""
        if listening[device] >= MOST_OF_ONE or listening.total() >= MOST_LINES:
            raise HTTPException(
                429, "So many pages listen at once that no other can; this one goes on by refresh."
            )
        return StreamingResponse(
            _counted(listening, device, _lines(room, request)), media_type="text/event-stream"
        )

    return [ServedPage("/live", live)]


async def _counted(listening: Counter[str], device: str, lines: AsyncIterator[str]) -> AsyncIterator[str]:
    listening[device] += 1
    try:
        async for line in lines:
            yield line
    finally:
        listening[device] -= 1


async def _lines(room: WeighInRoom, request: Request) -> AsyncIterator[str]:
    told, quiet = "", 0
    while not request.app.state.ending.is_set():
        latest = await room.office.latest()
        if latest != told:
            told, quiet = latest, 0
            yield f"retry: 2000\nid: {latest}\ndata: {latest}\n\n"
        elif (quiet := quiet + 1) >= _SIGNS_OF_LIFE:
            quiet = 0
            yield ": still there\n\n"
        await asyncio.sleep(_SECONDS_BETWEEN_LOOKS)
