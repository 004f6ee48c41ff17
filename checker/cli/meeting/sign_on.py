"""`checker meeting sign-on`: another official joins."""

from __future__ import annotations

import os

import click

from checker.cli.meeting.common import a_meeting_command, acknowledge, asked_for_pin, by_option, recording


@a_meeting_command(
    "Sign on an official who came later.",
    "checker meeting sign-on day.meeting AL --by KV",
    "checker meeting sign-on day.meeting KV --key kv.key --by KV",
)
@click.argument("initials", metavar="INITIALS")
@click.option(
    "--key",
    "key_file",
    metavar="FILE",
    help="Sign what INITIALS records from now on, with this key; a new one is made where the file is not there.",
)
@by_option
def command(day: str, initials: str, key_file: str | None, by: str) -> int:
    """Sign on another official, who from then on records under INITIALS.

    With --key, what INITIALS records is signed. The key stays outside the record, and a PIN unlocks it: name its file
    with CHECKER_KEY from then on. Whoever has the file can try PINs, so keep it to yourself.
    """
    from checker.meeting.taking.opening import sign_on

    public = ""
    if key_file is not None:
        from checker.meeting.record.signing import new_key, unlocked

        is_there = os.path.exists(key_file)
        pin = asked_for_pin(twice=not is_there)
        public = (unlocked(key_file, pin) if is_there else new_key(key_file, pin)).public
    with recording(day, by) as meeting:
        sign_on(meeting, initials, by, public)
        return acknowledge(meeting, f"{initials} {'signs from now on' if public else 'signed on'}")
