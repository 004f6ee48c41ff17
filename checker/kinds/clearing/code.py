"""Lines of the function that is written, and where in a check the writing stands.

The code is made of names that are numbered here, of floats, and of a few fixed phrases: no text of a pack stands in
it; what a pack names is held beside it as constants.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import TypeVar

from checker.kinds.clearing.car_in_floats import UNLIMITED
from checker.kinds.contract.writing import OPEN, NotInFloats, WrittenNumber
from checker.quantities.formula.scope import Binding, Scope
from checker.reading.quick_dataclasses import dataclass

MOST_NAMES = 4000
"""A function with more is not made: what is that long is seldom judged."""
_Made = TypeVar("_Made")


@dataclass(slots=True)
class _SceneName:
    """A scene, and the line where it is made."""

    name: str
    line: int = 0
    suffix: str = ""
    made: bool = False


class CodeLines:
    """The lines of one function."""

    def __init__(self, scope: Scope) -> None:
        self._scopes, self._scenes = [scope], [_SceneName("scene", made=True)]
        self.items: dict[str, tuple[str, str]] = {}
        self.values: dict[str, WrittenNumber] = {}
        """By the name that a value of a list is bound to."""
        self._lines: list[str] = []
        self._depth, self._names = 1, 0
        self._constants: dict[str, object] = {"UNLIMITED": UNLIMITED}

    @property
    def scope(self) -> Scope:
        return self._scopes[-1]

    @property
    def scene(self) -> str:
        return self._made_scene(len(self._scenes) - 1)

    def _made_scene(self, place: int) -> str:
        """The line that makes a scene is written only where something asks for it."""
        scene = self._scenes[place]
        if not scene.made:
            scene.made = True
            self._lines[scene.line] += f"{scene.name} = {self._made_scene(place - 1)}{scene.suffix}"
        return scene.name

    def name(self) -> str:
        self._names += 1
        if self._names > MOST_NAMES:
            raise NotInFloats
        return f"x{self._names}"

    def constant(self, value: object) -> str:
        for name, other in self._constants.items():
            if other is value:
                return name
        name = f"K{len(self._constants)}"
        self._constants[name] = value
        return name

    def line(self, text: str) -> None:
        self._lines.append("    " * self._depth + text)

    def put(self, value: str) -> str:
        """A name for what some code comes to; what is a name or a number already stays so."""
        if value.replace(".", "", 1).isalnum():
            return value
        name = self.name()
        self.line(f"{name} = {value}")
        return name

    @contextmanager
    def block(self, head: str) -> Iterator[None]:
        self.line(head)
        self._depth += 1
        before = len(self._lines)
        yield
        if len(self._lines) == before:
            self.line("pass")
        self._depth -= 1

    def give_up_if(self, test: str) -> None:
        self.line(f"if {test}: return {OPEN}")

    @contextmanager
    def within(
        self, scene: str, names: Mapping[str, Binding], items: Mapping[str, tuple[str, str]]
    ) -> Iterator[None]:
        before = self.items
        if not scene or scene.startswith("."):
            self._scenes.append(_SceneName(self.name(), len(self._lines), scene))
            self.line("")
        else:
            self._scenes.append(_SceneName(scene, made=True))
        self._scopes.append(self.scope.having(names) if names else self.scope)
        self.items = {**before, **items}
        yield
        self.items = before
        self._scenes.pop()
        self._scopes.pop()

    def first_of(self, first: Callable[[], _Made], otherwise: Callable[[], _Made]) -> _Made:
        before = len(self._lines), self._depth, len(self._scenes), self.items, self.values
        try:
            return first()
        except NotInFloats:
            lines, self._depth, scenes, self.items, self.values = before
            del self._lines[lines:], self._scenes[scenes:], self._scopes[scenes:]
            return otherwise()

    def compiled(self, result: str) -> object:
        """The function that was written: from a car, a scene and a list for margins to what has that name.

        Raises:
            NotInFloats: It is too deep for the compiler.
        """
        text = "\n".join(["def judge(car, scene, told):", *self._lines, f"    return {result}"])
        try:
            code = compile(text, "<floats>", "exec")
        except (SyntaxError, RecursionError, MemoryError):
            raise NotInFloats from None
        exec(code, self._constants)
        return self._constants["judge"]
