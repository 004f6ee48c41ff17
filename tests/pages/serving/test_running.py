"""A server runs until Ctrl-C, which ends it cleanly, even while a page goes on by itself."""

from __future__ import annotations

import signal
import subprocess
import sys
from urllib.request import urlopen

from tests.cli.running import environment
from tests.conftest import ROOT

SERVER = """
import asyncio
from starlette.responses import StreamingResponse
from checker.pages.serving.application import ServedPage, Site, application
from checker.pages.serving.listening import LOOPBACK, hosts_of, listen, port_of
from checker.pages.serving.running import serve

async def on(request):
    yield b"begun"
    while not request.app.state.ending.is_set():
        await asyncio.sleep(0.05)

async def live(request):
    return StreamingResponse(on(request))

listening = listen(LOOPBACK, 0)
port = port_of(listening)
print(port, flush=True)
serve(application(Site([ServedPage("/", live)], hosts_of((LOOPBACK,), port))), listening)
print("ended", flush=True)
"""


def test_ctrl_c_ends_it_though_a_page_is_being_read() -> None:
    process = subprocess.Popen(
        [sys.executable, "-c", SERVER],
        cwd=ROOT,
        env=environment(),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        assert process.stdout is not None
        port = int(process.stdout.readline())
        with urlopen(f"http://127.0.0.1:{port}/", timeout=10) as answer:
            assert answer.read(5) == b"begun"
            process.send_signal(signal.SIGINT)
            told, complaints = process.communicate(timeout=10)
    finally:
        process.kill()
    assert (process.returncode, told, complaints) == (0, "ended\n", "")
