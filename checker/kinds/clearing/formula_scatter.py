"""How far errors may move a formula at the most, told in floats from its tree, without moving anything.

The standard uncertainty of a sum is no more than the sum of those of its parts, whatever they have in common; that of
a product no more than each factor's times the size of the other. So a bound on it goes through the tree as the value
does. What the tree does not tell (tables and choices that turn on what has an error, roots, roundings) is declined:
then the exact sensitivities are worked out, which is slow and never wrong.
"""

from __future__ import annotations

import ast
import math
from collections.abc import Callable
from fractions import Fraction

from checker.car.described.stated import Entry, Stated
from checker.car.scene import ITEM, Scene
from checker.kinds.clearing.clear import STILL, Scatter, fewest
from checker.kinds.clearing.error_variances import (
    ByPlace,
    is_untouched,
    may_move,
    rests_on_more,
    variances_by_place,
)
from checker.kinds.clearing.scatter_arithmetic import UP, known, names_in, product, quotient, size_of
from checker.kinds.clearing.weight_scatter import weight_scatter
from checker.kinds.judging.spread import is_weight, value_followed
from checker.quantities.formula.expression import Expression, Leaf
from checker.quantities.kind import Unknown

_Behind = dict[Callable[[Scene], object], Scatter | None]
"""Of the formulas that names stand for, each told once however often it is used."""


def scatter_of(expression: Expression, scene: Scene, given: int | None = None) -> Scatter | None:
    """How errors may move a formula's value in a scene, at the most.

    Args:
        expression: The formula.
        scene: Where it is judged; its value is known there.
        given: Of several values the one that counts, from 0; None: the only one, or their mean.

    Returns:
        None where only exact numbers tell.
    """
    return _scatter_of(expression, scene, given, {})


def _scatter_of(expression: Expression, scene: Scene, given: int | None, behind: _Behind) -> Scatter | None:
    if is_untouched(expression, scene.car):
        return STILL
    if not expression.irrational and expression.tree is not None:
        found = _Told(expression, scene, behind).whole(expression.tree.body, given)
        if found is not None:
            return found
    if expression.locals or expression.follows_condition or not expression.kind.is_measure:
        return None
    return scene.car.once((scatter_of, expression.evaluate), lambda: _exactly(expression, scene))


def _exactly(expression: Expression, scene: Scene) -> Scatter | None:
    """What the tree does not tell is worked out once for a car, where the value is the same in all its states."""

    followed = value_followed(expression.evaluate, scene, expression.uses)
    if isinstance(followed, Unknown):
        return None
    here, found = followed
    if not found:
        return STILL
    degrees: Fraction | None = None
    for one in found:
        degrees = fewest(degrees, one.source.degrees_of_freedom)
    variance = sum(float(one.variance) for one in found)
    steepest = max(abs(float(one.slope)) for one in found)
    return Scatter(math.sqrt(variance) * UP, steepest * UP, size_of(here), degrees)


class _Told:
    """One formula in one scene."""

    def __init__(self, expression: Expression, scene: Scene, behind: _Behind) -> None:
        assert expression.tree is not None
        self._behind = behind
        self._tree, self._scene = expression.tree, scene
        self._leaves = {(leaf.start, leaf.end): leaf for leaf in expression.leaves}

    def whole(self, node: ast.expr, given: int | None) -> Scatter | None:
        """Of the formula itself, which may have several values."""
        leaf = self._leaf_at(node)
        if leaf is None or leaf.kind.name != "list":
            return self.of(node)
        several = self._several(leaf)
        if several is None:
            return None
        by_place, values = several
        if given is None:
            return self._mean(by_place, values)
        return Scatter(math.sqrt(by_place.get(None, 0.0) + by_place.get(given, 0.0)) * UP, 1.0)

    def of(self, node: ast.expr) -> Scatter | None:
        """Of one value; None where the tree does not tell."""
        literal = self._tree.literal(node)
        if literal is not None:
            return known(literal.value)
        match node:
            case ast.Constant(value=int() as number):
                return known(Fraction(number))
            case ast.Name() | ast.Attribute():
                leaf = self._leaf_at(node)
                return None if leaf is None else self._leaf(leaf)
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return self.of(operand)
            case ast.BinOp():
                return self._binary(node)
            case ast.IfExp():
                return self._either(node)
            case ast.Call():
                return self._call(node)
        return None

    # --- what values are made of -----------------------------------------------------------------------------

    def _binary(self, node: ast.BinOp) -> Scatter | None:
        """A power, or a row of operations, taken from left to right however long."""
        if isinstance(node.op, ast.Pow):
            base = self.of(node.left)
            found = base
            for _ in range(int(ast.literal_eval(node.right)) - 1):
                found = None if found is None or base is None else product(found, base)
            return found
        row = [node]
        while isinstance(row[-1].left, ast.BinOp) and not isinstance(row[-1].left.op, ast.Pow):
            row.append(row[-1].left)
        found = self.of(row[-1].left)
        for one in reversed(row):
            right = self.of(one.right)
            if found is None or right is None:
                return None
            if isinstance(one.op, (ast.Add, ast.Sub)):
                found = found.and_with(right)
            elif isinstance(one.op, ast.Mult):
                found = product(found, right)
            else:
                found = quotient(one.right, found, right)
        return found

    def _either(self, node: ast.IfExp) -> Scatter | None:
        """One of two values, where no error decides which."""
        if not self._stands_still(node.test):
            return None
        a, b = self.of(node.body), self.of(node.orelse)
        if a is None or b is None:
            return None
        return Scatter(
            max(a.deviation, b.deviation),
            max(a.steepest, b.steepest),
            max(a.size, b.size),
            fewest(a.degrees, b.degrees),
        )

    def _stands_still(self, test: ast.expr) -> bool:
        """Whether a test is made of names that no error moves, and of nothing that goes through a list."""
        loops = any(isinstance(node, (ast.Call, ast.GeneratorExp)) for node in ast.walk(test))
        return not loops and all(self._is_still(one) for one in names_in(test))

    def _is_still(self, node: ast.expr) -> bool:
        if self._tree.literal(node) is not None or self._tree.name(node) in ("true", "false"):
            return True
        leaf = self._leaf_at(node)
        return leaf is not None and not may_move(self._scene.car, leaf.uses)

    def _call(self, node: ast.Call) -> Scatter | None:
        name = self._tree.name(node.func)
        if name == "abs" and len(node.args) == 1:
            return self.of(node.args[0])
        if name in ("min", "max") and len(node.args) > 1:  # near a tie either may be followed
            found: Scatter | None = self.of(node.args[0])
            for other in map(self.of, node.args[1:]):
                found = None if found is None or other is None else found.and_with(other)
            return found
        if name in ("sum", "mean") and len(node.args) == 1:
            return self._aggregate(name, node.args[0])
        return None

    def _aggregate(self, name: str, argument: ast.expr) -> Scatter | None:
        """Of the sum of a field over a list, or of the mean of all values of a fact or a field."""
        source, made = argument, argument
        if isinstance(argument, ast.GeneratorExp):
            (loop,) = argument.generators
            if not isinstance(loop.target, ast.Name) or loop.ifs:
                return None
            source, made = loop.iter, argument.elt
            variable = self._tree.name(loop.target)
            if name == "sum":
                return self._sum(source, made, variable)
            if not isinstance(made, ast.Name) or self._tree.name(made) != variable:
                return None
        leaf = self._leaf_at(source) if name == "mean" else None
        several = None if leaf is None or leaf.kind.name != "list" else self._several(leaf)
        return None if several is None else self._mean(*several)

    def _sum(self, source: ast.expr, made: ast.expr, variable: str) -> Scatter | None:
        """`sum(b.mass for b in ballast)`: of all entries, whichever count."""
        car = self._scene.car
        if not (isinstance(source, ast.Name) and isinstance(made, ast.Attribute)):
            return None
        if not isinstance(made.value, ast.Name) or self._tree.name(made.value) != variable:
            return None
        list_name, field = self._tree.name(source), self._tree.name(made)
        of_list = car.vocabulary.lists.get(list_name)
        if of_list is None or field not in of_list.fields or rests_on_more(car, f"{list_name}.{field}"):
            return None
        found = Scatter(0.0, size=0.0)
        for entry in car.every_entry(list_name):
            stated = entry.stated(field)
            if stated is None or not isinstance(stated.value, Fraction):
                return None
            one = self._single(stated, stated.value)
            times = float(entry.standing)
            found = found.and_with(Scatter(one.deviation * times, one.steepest * times, one.size * times))
        return found

    # --- names ---------------------------------------------------------------------------------------------

    def _leaf_at(self, node: ast.expr) -> Leaf | None:
        return self._leaves.get(self._tree.span(node))

    def _leaf(self, leaf: Leaf) -> Scatter | None:
        value = leaf.run(self._scene)
        if not isinstance(value, Fraction):
            return None
        size = size_of(value)
        if not may_move(self._scene.car, leaf.uses):
            return Scatter(0.0, size=size)
        if leaf.behind is not None:
            if (key := leaf.behind.evaluate) not in self._behind:
                self._behind[key] = _scatter_of(leaf.behind, self._scene, None, self._behind)
            found = self._behind[key]
            return found and Scatter(found.deviation, found.steepest, size, found.degrees)
        if leaf.uses == {leaf.text} and is_weight(leaf.text):
            told = weight_scatter(leaf.text, self._scene)
            return told and Scatter(told.deviation, told.steepest, size, told.degrees)
        stated = self._stated(leaf)
        return None if stated is None or stated.value != value else self._single(stated, value)

    def _single(self, stated: Stated, value: Fraction) -> Scatter:
        """Of a value that is just what is stated: it follows its errors one for one."""
        by_place = variances_by_place(self._scene.car, stated)
        deviation = math.sqrt(by_place.get(None, 0.0)) * UP
        return Scatter(deviation, 1.0 if by_place else 0.0, size_of(value))

    def _several(self, leaf: Leaf) -> tuple[ByPlace, tuple[Fraction, ...]] | None:
        """The variances of a fact or field of several values, by their places."""
        stated = self._stated(leaf)
        if stated is None:
            return None
        values = stated.value
        if not isinstance(values, tuple) or not values or leaf.run(self._scene) != values:
            return None
        if not all(isinstance(value, Fraction) for value in values):
            return None
        return variances_by_place(self._scene.car, stated), values

    def _mean(self, by_place: ByPlace, values: tuple[Fraction, ...]) -> Scatter:
        """No more than the worst of them scatters."""
        apart = max((by_place.get(place, 0.0) for place in range(len(values))), default=0.0)
        deviation = math.sqrt(by_place.get(None, 0.0) + apart) * UP
        return Scatter(deviation, 1.0, max(map(size_of, values)))

    def _stated(self, leaf: Leaf) -> Stated | None:
        """What is stated, of a leaf that is just a fact or an entry's field."""
        car, names = self._scene.car, self._scene.names
        if len(leaf.uses) != 1 or leaf.behind is not None:
            return None
        (name,) = leaf.uses
        if rests_on_more(car, name):
            return None
        if not leaf.local:
            return car.stated(name) if leaf.text == name else None
        variable, _, field = leaf.text.rpartition(".")
        entry = names.get(variable or ITEM)
        if not isinstance(entry, Entry) or name != f"{entry.list_name}.{field}":
            return None
        return entry.stated(field)
