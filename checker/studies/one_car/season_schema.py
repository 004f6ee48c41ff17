"""The JSON Schema of a season's meetings, for editors."""

from __future__ import annotations

from checker.pack.editors.schema_parts import DAY, DIALECT, FILLED, Schema, closed, several, told


def season_schema() -> Schema:
    """The schema of a file that lists a season's meetings. Draft 2020-12."""
    meeting = {"name": told(FILLED, "What the meeting is called."), "date": DAY}
    listed = several(closed(meeting, *meeting), "One for each day.", least=1)
    return {"$schema": DIALECT, "title": "The meetings of a season", **listed}
