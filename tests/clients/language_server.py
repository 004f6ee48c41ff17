"""A language server for YAML, talked to over stdin and stdout as an editor does (Language Server Protocol 3.17)."""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

NODE_PATH = next((Path(p) for p in os.environ.get("NODE_PATH", "").split(os.pathsep) if p), None)
"""Where the packages of node are, in which the tests look for users' programs."""


def node_package(name: str) -> Path | None:
    """The folder of an installed package."""
    folder = NODE_PATH / name if NODE_PATH is not None else None
    return folder if folder is not None and folder.is_dir() else None


class LanguageServer:
    """One server with the files that are open in it."""

    def __init__(self, process: subprocess.Popen[bytes], root: Path) -> None:
        self._process = process
        self._root = root
        self._last = 0
        self._opened = 0
        self._told: dict[str, list[dict[str, Any]]] = {}
        self._ask("initialize", {"processId": None, "rootUri": root.as_uri(), "capabilities": _CAPABILITIES})
        self._tell("initialized", {})

    def diagnostics(self, name: str, text: str) -> list[str]:
        """What is underlined in a file, as "LINE: message"."""
        uri = self._open(name, text)
        while uri not in self._told:
            self._take(self._read())
        return [f"{one['range']['start']['line'] + 1}: {one['message']}" for one in self._told.pop(uri)]

    def hover(self, name: str, text: str, at: str) -> str:
        """What is shown over the second letter of `at`; the first is also the end of what stands before."""
        return str(
            (self._at("hover", name, text, text.index(at) + 1) or {"contents": {"value": ""}})["contents"][
                "value"
            ]
        )

    def completions(self, name: str, text: str) -> dict[str, str]:
        """What is offered where `|` stands: labels, with what each puts into the file."""
        found = self._at("completion", name, text.replace("|", ""), text.index("|"))
        return {
            one["label"]: one.get("textEdit", {}).get("newText") or one.get("insertText") or one["label"]
            for one in found["items"]
        }

    def _at(self, what: str, name: str, text: str, offset: int) -> Any:
        before = text[:offset]
        position = {"line": before.count("\n"), "character": len(before.rpartition("\n")[2])}
        document = {"uri": self._open(name, text)}
        return self._ask(f"textDocument/{what}", {"textDocument": document, "position": position})

    def _open(self, name: str, text: str) -> str:
        self._opened += 1  # a file of its own each time, so that no answer is about what it held before
        uri = (self._root / f"{self._opened}-{name}").as_uri()
        document = {"uri": uri, "languageId": "yaml", "version": 1, "text": text}
        self._tell("textDocument/didOpen", {"textDocument": document})
        return uri

    def _ask(self, method: str, params: object) -> Any:
        self._last += 1
        self._send({"id": self._last, "method": method, "params": params})
        while (message := self._read()).get("id") != self._last or "method" in message:
            self._take(message)
        return message["result"]

    def _tell(self, method: str, params: object) -> None:
        self._send({"method": method, "params": params})

    def _take(self, message: dict[str, Any]) -> None:
        """What the server says of itself, and what it asks an editor for."""
        if message.get("method") == "textDocument/publishDiagnostics":
            params = message["params"]
            self._told[params["uri"]] = params["diagnostics"]
        elif "id" in message and "method" in message:
            items = message.get("params", {}).get("items", [])
            self._send({"id": message["id"], "result": [_SETTINGS.get(one.get("section")) for one in items]})

    def _send(self, message: dict[str, Any]) -> None:
        body = json.dumps({"jsonrpc": "2.0", **message}).encode()
        assert self._process.stdin is not None
        self._process.stdin.write(b"Content-Length: %d\r\n\r\n%s" % (len(body), body))
        self._process.stdin.flush()

    def _read(self) -> dict[str, Any]:
        assert self._process.stdout is not None
        length = 0
        while (line := self._process.stdout.readline()) != b"\r\n":
            assert line, "the language server has ended"
            if line.lower().startswith(b"content-length:"):
                length = int(line.partition(b":")[2])
        read: dict[str, Any] = json.loads(self._process.stdout.read(length))
        return read


_CAPABILITIES = {
    "workspace": {"configuration": True},
    "textDocument": {"completion": {"completionItem": {"snippetSupport": True}}, "hover": {}},
}
_SETTINGS = {
    "yaml": {
        "validate": True,
        "hover": True,
        "completion": True,
        "schemaStore": {"enable": False},
        "yamlVersion": "1.2",
    }
}


@contextmanager
def language_server(root: Path) -> Iterator[LanguageServer]:
    """A server whose files are those of a folder; it knows no schemas but those that files name."""
    package = node_package("yaml-language-server")
    assert package is not None
    command = ("node", str(package / "bin" / "yaml-language-server"), "--stdio")
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as process:
        try:
            yield LanguageServer(process, root)
        finally:
            process.kill()
