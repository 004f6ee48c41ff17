"""`checker open`: a car's declaration as a form in the browser."""

from __future__ import annotations

import os

import click

from checker.cli import exits, output
from checker.cli.guard import own_bug
from checker.cli.options import a_command, day, units
from checker.pages.serving.lacking import refuse_lacking


@a_command(
    "Fill in a car's declaration as a form in the browser, judged while you type.",
    "checker open my-car.yaml",
    "checker open my-car.yaml --formula dunlin",
    "checker open my-2027-car.yaml --from my-car.yaml",
    "checker open my-car.yaml --formula dunlin --parts parts.xlsx",
)
@click.argument("car", metavar="CAR")
@click.option(
    "--pack", metavar="PATH", help="Rule pack to judge by: a file, a folder of editions, or its name."
)
@click.option(
    "--formula", metavar="NAME", help="Of a new car: its formula, whose pack is looked for as for inspect."
)
@click.option(
    "--on",
    callback=day,
    metavar="DATE",
    help="Day to judge for. Without it: the event's day in the form, else today.",
)
@click.option(
    "--from",
    "begun_from",
    metavar="FILE",
    help="Begin a new file with what another says, such as last season's.",
)
@click.option(
    "--parts", metavar="FILE", help="Begin with the parts of a list, CSV or a workbook, as components."
)
@click.option("--mapping", metavar="FILE", help="Says which column of the list is what.")
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=0,
    metavar="NUMBER",
    help="Where to serve on this machine. Without it: any that is free.",
)
@click.option("--no-browser", is_flag=True, help="Only print the address, and open no browser.")
@units
def command(
    car: str,
    pack: str | None,
    formula: str | None,
    on: str | None,
    begun_from: str | None,
    parts: str | None,
    mapping: str | None,
    port: int,
    no_browser: bool,
) -> int:
    """Show CAR, the file of a declaration, as a form in your browser: every change is judged at once, and the file is
    written when you press Save. No other machine can reach the page. Ctrl-C ends it.

    A CAR that is not there yet is begun with --formula or --pack, or with --from.
    """
    refuse_lacking()
    from checker.pages.form.opening import OpenAsked, opened
    from checker.pages.form.site import CarPages
    from checker.pages.serving.listening import LOOPBACK, hosts_of, listen, port_of
    from checker.pages.serving.running import serve

    if mapping is not None and parts is None:
        raise click.UsageError("--mapping is for --parts")
    file, rules = opened(car, OpenAsked(pack, formula, on, begun_from, parts, mapping))
    pages = CarPages(file, rules)
    listening = listen(LOOPBACK, port)
    number = port_of(listening)
    address = f"http://{LOOPBACK}:{number}/"
    output.deliver(f"{car} is open at {address}\nCtrl-C ends this; what is not saved is then lost.\n")
    output.flush()
    if not no_browser:
        _show(address)
    serve(pages.site(hosts_of((LOOPBACK, "localhost"), number), own_bug), listening)
    return exits.COMPLIES


def _show(address: str) -> None:
    """Open the browser, beside the server that is about to answer."""
    import webbrowser
    from threading import Timer

    if (
        os.environ.get("DISPLAY")
        or os.name == "nt"
        or os.uname().sysname == "Darwin"
        or os.environ.get("BROWSER")
    ):
        Timer(0.3, webbrowser.open, (address,)).start()
