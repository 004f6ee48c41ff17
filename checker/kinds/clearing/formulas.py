"""From the tree of a formula to code in floats.

What the tree does not tell in floats (roots, dates, words, most functions) is asked of the exact engine where no error
can move it, and given up where one may. Whatever chooses (`if`, the rows of a table, the `if` behind `for`) must stand
clearly on its side, so that what is chosen is the same beyond every error and in every moved copy.
"""

from __future__ import annotations

import ast
from collections.abc import Callable
from fractions import Fraction

from checker.kinds.clearing import arithmetic
from checker.kinds.clearing.code import CodeLines
from checker.kinds.clearing.names import dotted, fact_code, field_code, is_let, several_code
from checker.kinds.contract.writing import NotInFloats, WrittenNumber
from checker.kinds.frame.entries import named_entry
from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.grammar import FormulaTree
from checker.quantities.formula.problem import FormulaError
from checker.quantities.formula.scope import TableFunction
from checker.quantities.units import DIFFERENCES

_ORDER: dict[type[ast.cmpop], str] = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">="}
_OPERATIONS: dict[type[ast.operator], Callable[[CodeLines, WrittenNumber, WrittenNumber], WrittenNumber]] = {
    ast.Add: arithmetic.added,
    ast.Sub: arithmetic.lessened,
    ast.Mult: arithmetic.product,
    ast.Div: arithmetic.quotient,
}


class FormulaWriter:
    """Writes one formula where a writer stands."""

    def __init__(self, write: CodeLines, expression: Expression) -> None:
        self._write, self._expression = write, expression

    @property
    def _tree(self) -> FormulaTree:
        if self._expression.tree is None:
            raise NotInFloats
        return self._expression.tree

    def whole(self) -> WrittenNumber:
        """What it comes to; it may be `no limit`."""
        expression = self._expression
        if expression.constant:
            return arithmetic.constant(expression)
        if expression.irrational or not expression.kind.is_measure:
            raise NotInFloats
        return self.number(self._tree.body)

    def several(self) -> str:
        """Name of its several values: it is just a fact or a field that has them."""
        kind = self._expression.kind
        if kind.name != "list" or kind.element is None or not kind.element.is_measure:
            raise NotInFloats
        return several_code(self._write, self._tree, self._tree.body)

    def is_true(self) -> str:
        """Name of whether it is true."""
        constant = self._expression.constant
        return repr(bool(self._expression.value)) if constant else self.truth(self._tree.body)

    # --- numbers -----------------------------------------------------------------------------------------------

    def number(self, node: ast.expr) -> WrittenNumber:
        """Of one value."""
        if not isinstance(node, (ast.BinOp, ast.Call, ast.IfExp)):
            return self._made(node)
        return self._write.first_of(lambda: self._made(node), lambda: self._exactly(node))

    def _made(self, node: ast.expr) -> WrittenNumber:
        literal = self._tree.literal(node)
        if literal is not None:
            return arithmetic.of_value(literal.value)
        match node:
            case ast.Constant(value=int() as number):
                return arithmetic.of_value(Fraction(number))
            case ast.Name() | ast.Attribute():
                return self._named(node)
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                below = self._tree.literal(operand)
                if below is not None and below.kind in DIFFERENCES:
                    raise NotInFloats
                return arithmetic.negative(self._write, self._one(operand))
            case ast.BinOp():
                return self._binary(node)
            case ast.IfExp():
                return self._either(node)
            case ast.Call():
                return self._call(node)
        raise NotInFloats

    def _one(self, node: ast.expr) -> WrittenNumber:
        """A number that is part of another: there `no limit` has no value."""
        found = self.number(node)
        if found.unlimited:
            self._write.give_up_if(found.unlimited)
        return found._replace(unlimited="")

    def _binary(self, node: ast.BinOp) -> WrittenNumber:
        """A power, or a row of operations, taken from left to right however long."""
        if isinstance(node.op, ast.Pow):
            base = found = self._one(node.left)
            for _ in range(int(ast.literal_eval(node.right)) - 1):
                found = arithmetic.product(self._write, found, base)
            return found
        row = [node]
        while isinstance(row[-1].left, ast.BinOp) and not isinstance(row[-1].left.op, ast.Pow):
            row.append(row[-1].left)
        found = self._one(row[-1].left)
        for one in reversed(row):
            found = _OPERATIONS[type(one.op)](self._write, found, self._one(one.right))
        return found

    def _either(self, node: ast.IfExp) -> WrittenNumber:
        write, test = self._write, self.truth(node.test)
        parts = [write.name() for _ in range(4)]
        for head, side in ((f"if {test}:", node.body), ("else:", node.orelse)):
            with write.block(head):
                write.line(f"{', '.join(parts)} = {', '.join(self._one(side)[:4])}")
        return WrittenNumber(*parts)

    def _call(self, node: ast.Call) -> WrittenNumber:
        name = self._tree.name(node.func)
        if name in self._write.scope.tables:
            return self._looked_up(node, node, self._write.scope.tables[name])
        if name == "abs" and len(node.args) == 1:
            return arithmetic.magnitude(self._write, self._one(node.args[0]))
        if name in ("min", "max") and len(node.args) > 1:
            found = self._one(node.args[0])
            for other in node.args[1:]:
                found = arithmetic.picked(self._write, name, found, self._one(other))
            return found
        if name in ("sum", "mean", "count") and isinstance(node.args[0], ast.GeneratorExp):
            return self._aggregate(name, node.args[0])
        if name == "count" and self._part(node.args[0]).kind.name == "list":
            return self._how_many(node.args[0])
        return self._exactly(node)

    # --- names -------------------------------------------------------------------------------------------------

    def _named(self, node: ast.expr) -> WrittenNumber:
        write, name = self._write, dotted(self._tree, node)
        if name in write.values:
            return write.values[name]
        binding = write.scope.names.get(name)
        if binding is not None and binding.expression is not None and is_let(write, name, binding):
            return FormulaWriter(write, binding.expression).whole()
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Call):
            called = self._tree.name(node.value.func)
            if called in write.scope.tables:
                return self._looked_up(node, node.value, write.scope.tables[called])
            return self._exactly(node)
        found = field_code(write, self._tree, node, binding) or fact_code(write, name, binding)
        return self._exactly(node) if found is None else self._told(found)

    def _told(self, code: str, *, unlimited: bool = False) -> WrittenNumber:
        """Unpack what the car tells."""
        write = self._write
        told = write.put(code)
        write.give_up_if(f"{told} is None")
        parts = [write.name() for _ in range(4)]
        write.line(f"{', '.join(parts)} = {told}")
        found = WrittenNumber(*parts)
        return found._replace(unlimited=write.put(f"{told} is UNLIMITED")) if unlimited else found

    # --- lists and tables ----------------------------------------------------------------------------------------

    def _aggregate(self, name: str, argument: ast.GeneratorExp) -> WrittenNumber:
        """A sum, mean or number over entries, or over several values; parts are contained in what they are part of."""
        write, (loop,) = self._write, argument.generators
        if not isinstance(loop.target, ast.Name):
            raise NotInFloats
        variable, total = self._tree.name(loop.target), arithmetic.begin(write)
        number = write.put("0 + 0")
        source = self._tree.name(loop.iter) if isinstance(loop.iter, ast.Name) else ""
        one = WrittenNumber("1.0")
        if source in write.scope.entries and source != "run":
            entries = write.put(f"car.entries({write.constant(source)}, parts={name == 'count'})")
            write.give_up_if(f"{entries} is None")
            entry, times = write.name(), write.name()
            with write.block(f"for {entry} in {entries}:"):
                write.line(f"{times} = {entry}.standing")
                write.line(f"if not {times}: continue")
                bound = f".bind({write.constant(variable)}, {entry})"
                binding = named_entry(variable, source)
                with write.within(bound, {variable: binding}, {variable: (entry, source)}):
                    for test in loop.ifs:
                        write.line(f"if not {self.truth(test)}: continue")
                    if name != "count":
                        one = self._one(argument.elt)
                    elif not isinstance(argument.elt, ast.Name):
                        raise NotInFloats
                    arithmetic.grow(write, total, one, times)
                    write.line(f"{number} += {times}")
        else:
            if loop.ifs or (name == "count" and not isinstance(argument.elt, ast.Name)):
                raise NotInFloats
            if name == "count":
                return self._how_many(loop.iter)
            with arithmetic.each(write, several_code(write, self._tree, loop.iter)) as value:
                before, write.values = write.values, {**write.values, variable: value}
                arithmetic.grow(write, total, self._one(argument.elt))
                write.values = before
                write.line(f"{number} += 1")
        if name == "count":
            return WrittenNumber(write.put(f"float({number})"))
        if name == "sum":
            return total
        write.give_up_if(f"not {number}")
        return arithmetic.shared_out(write, total, number)

    def _how_many(self, node: ast.expr) -> WrittenNumber:
        """No error moves that."""
        return WrittenNumber(self._write.put(f"float(len({several_code(self._write, self._tree, node)}))"))

    def _looked_up(self, node: ast.expr, call: ast.Call, table: TableFunction) -> WrittenNumber:
        """A cell of a table, whose keys stand clear of every edge of its bands."""
        if table.degree != 1 or table.uses:
            return self._exactly(node)
        write = self._write
        for place, argument in enumerate(call.args):
            kind = self._part(argument).kind
            if not kind.is_measure:
                still = write.constant(self._part(argument).uses)
                write.give_up_if(f"car.moves_any({still})")
                continue
            key = self._one(argument)
            for edge in table.edges[place]:
                arithmetic.stand_clear(
                    self._write, arithmetic.lessened(write, key, arithmetic.of_value(edge))
                )
        part = self._part(node)
        if part.irrational:
            raise NotInFloats
        nothing = write.constant(frozenset[str]())
        code = f"car.untouched({write.constant(part.evaluate)}, {nothing}, {write.scene})"
        return self._told(code, unlimited=True)

    def _exactly(self, node: ast.expr) -> WrittenNumber:
        """As the exact engine works it out, where no error can move it."""
        part = self._part(node)
        if part.irrational or not part.kind.is_measure:
            raise NotInFloats
        if part.constant:
            return arithmetic.constant(part)
        write = self._write
        uses = write.constant(frozenset[str]() if part.counts_all else part.uses)
        code = f"car.untouched({write.constant(part.evaluate)}, {uses}, {write.scene})"
        return self._told(code, unlimited=True)

    def _part(self, node: ast.expr) -> Expression:
        """A part of the formula as one by itself."""
        if node is self._tree.body:
            return self._expression
        try:
            return compile_formula(self._tree.source(node), self._write.scope)
        except FormulaError:
            raise NotInFloats from None

    # --- truths ------------------------------------------------------------------------------------------------

    def truth(self, node: ast.expr) -> str:
        """Name of whether it is true. Every comparison in it is looked at, also where others have decided."""
        match node:
            case ast.BoolOp(op=op, values=values):
                word = " and " if isinstance(op, ast.And) else " or "
                return self._write.put(f"({word.join([self.truth(value) for value in values])})")
            case ast.UnaryOp(op=ast.Not(), operand=operand):
                return self._write.put(f"(not {self.truth(operand)})")
            case ast.Compare(ops=ops) if all(type(op) in _ORDER for op in ops):
                return self._compared(node)
        return self._decided(node)

    def _compared(self, node: ast.Compare) -> str:
        operands = [node.left, *node.comparators]
        if any(not self._part(one).kind.is_measure or self._part(one).irrational for one in operands):
            return self._decided(node)
        links: list[str] = []
        numbers = [self._one(one) for one in operands]
        for place, op in enumerate(node.ops):
            apart = arithmetic.lessened(self._write, numbers[place], numbers[place + 1])
            arithmetic.stand_clear(self._write, apart)
            links.append(self._write.put(f"({apart.value} {_ORDER[type(op)]} 0.0)"))
        return links[0] if len(links) == 1 else self._write.put(f"({' and '.join(links)})")

    def _decided(self, node: ast.expr) -> str:
        """As the exact engine decides it, where no error can move what it looks at."""
        part, write = self._part(node), self._write
        if part.kind.name != "truth":
            raise NotInFloats
        code = f"car.truth({write.constant(part.evaluate)}, {write.constant(part.uses)}, {write.scene})"
        found = write.put(code)
        write.give_up_if(f"{found} is None")
        return found
