"""`checker meeting pages`: the weigh-in in browsers, for officials and for all."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from checker.cli import exits, output
from checker.cli.guard import TRACEBACK
from checker.cli.meeting.common import a_meeting_command
from checker.cli.options import units
from checker.cli.printing import Printing

if TYPE_CHECKING:
    from checker.meeting.session.session import Meeting
    from checker.pages.serving.running import Certificate
    from checker.pages.weigh_in.officials import Officials
    from checker.report.page import Page

PORT = 8321


@a_meeting_command(
    "Serve the weigh-in to browsers: desks for officials, board and slips for all.",
    "checker meeting pages day.meeting",
    "checker meeting pages day.meeting --to-the-paddock",
    "checker meeting pages day.meeting --to-the-paddock --certificate club.pem --key club-key.pem --name weigh.club",
)
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=PORT,
    show_default=True,
    help="Port to listen on; 0 takes any that is free.",
)
@click.option(
    "--to-the-paddock",
    "paddock",
    is_flag=True,
    help="Listen on the club's network. Without it only this machine reaches the pages.",
)
@click.option(
    "--address",
    default="",
    metavar="ADDRESS",
    help="This machine's address on that network. Without it: the one it is reached by.",
)
@click.option(
    "--name", default="", metavar="NAME", help="A name by which devices reach it, as in the certificate."
)
@click.option("--certificate", metavar="FILE", help="Encrypt with this certificate (PEM, with its chain).")
@click.option("--key", metavar="FILE", help="The certificate's private key (PEM).")
@click.option(
    "--signing-key",
    "signing_keys",
    multiple=True,
    metavar="FILE",
    help="The key of an official who signs entries; its PIN unlocks it when signing on. May be repeated.",
)
@click.option(
    "--new-pins", is_flag=True, help="New PINs and slip addresses; every device has to sign on anew."
)
@units
def command(
    day: str,
    port: int,
    paddock: bool,
    address: str,
    name: str,
    certificate: str | None,
    key: str | None,
    signing_keys: tuple[str, ...],
    new_pins: bool,
) -> int:
    """Serve DAY.meeting to browsers until Ctrl-C: scales, gauges, rulings for officials; board and slips for all.

    Officials sign on at a device with the PIN that is printed here; each entry is under who is signed on there. The
    other commands may be used on the same record meanwhile. Without a certificate whoever is on the network can read
    along and take over a session: use a network with a password of its own, and change PINs with --new-pins.
    """
    from checker.pages.serving.lacking import refuse_lacking

    refuse_lacking()
    if (certificate is None) != (key is None):
        raise click.UsageError("--certificate FILE and --key FILE go together")
    if (address or name or certificate) and not paddock:
        raise click.UsageError("--address, --name and --certificate go with --to-the-paddock")
    from checker.pages.serving.application import application
    from checker.pages.serving.listening import LOOPBACK, hosts_of, listen, own_address, port_of
    from checker.pages.serving.running import Certificate, serve
    from checker.pages.weigh_in.kept_sign_ons import KeptSignOns
    from checker.pages.weigh_in.office import Office
    from checker.pages.weigh_in.officials import Officials
    from checker.pages.weigh_in.room import WeighInRoom
    from checker.pages.weigh_in.secret_file import secret_of
    from checker.pages.weigh_in.site import weigh_in_site

    secured = Certificate.read(certificate, key) if certificate and key else None
    scheme = "https" if secured else "http"
    files = (*signing_keys, *filter(None, [os.environ.get("CHECKER_KEY", "")]))
    listening = listen((address or own_address()) if paddock else LOOPBACK, port)
    with listening:
        host, taken = listening.getsockname()[0], port_of(listening)
        names = tuple(filter(None, (host, name, "" if paddock else "localhost")))
        office = Office(day)
        try:
            secret = secret_of(day, anew=new_pins)
            officials = Officials(secret, files, kept=KeptSignOns.beside(day))
            first = f"{scheme}://{name or host}:{taken}"
            room = WeighInRoom(office, officials, secret, first)
            app = application(weigh_in_site(room, hosts_of(names, taken, scheme), scheme, _own_mistake))
            with Printing().paged() as page:
                office.ask(lambda meeting: _begun(meeting, officials, page, first, paddock, secured))
            output.flush()
            serve(app, listening, secured)
        finally:
            office.close()
    return exits.COMPLIES


def _begun(
    meeting: Meeting,
    officials: Officials,
    page: Page,
    address: str,
    paddock: bool,
    secured: Certificate | None,
) -> None:
    from checker.report.figures.code import code_in_text

    heading = meeting.day.opened.content
    page.put(f"{heading.title}, {heading.on}: {address}/")
    if paddock:
        for line in code_in_text(f"{address}/"):
            page.drawn(line)
        if secured is None:
            page.put(
                "Not encrypted: whoever is on this network can read PINs and entries along, and act in an official's"
                " name. Use a network with a password of its own, or --certificate and --key."
            )
    else:
        page.put("Only this machine reaches them; --to-the-paddock lets the club's network in.")
    for initials in meeting.day.officials:
        signs = initials in meeting.day.keys
        page.put(f"{initials}: {'the PIN of the key' if signs else f'PIN {officials.pin(initials)}'}", 2)
    page.put(f"Officials sign on at {address}/sign-on; hand each his own PIN. Ctrl-C ends the pages.")


def _own_mistake(error: Exception) -> None:
    """Say where it happened to who started the pages; a reader sees none of it."""
    told = f"checker made a mistake of its own ({type(error).__name__}: {error}); the page said so. Please report it."
    if os.environ.get(TRACEBACK):
        import traceback

        told = "".join(traceback.format_exception(error)).rstrip()
    output.complain(told)
