"""Solves programs with HiGHS (an open-source solver), on one thread and from one seed, so that every run is alike."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from typing import Any

from checker.reading.problems import InputError, Problem
from checker.studies.planning.program import Program, Solution, Status

_OPTIONS = {
    "output_flag": False,
    "threads": 1,
    "random_seed": 0,
    "mip_rel_gap": 0.0,
    "mip_feasibility_tolerance": 1e-9,
    "primal_feasibility_tolerance": 1e-9,
    "dual_feasibility_tolerance": 1e-9,
}
_WITHOUT_SEARCHES = dict.fromkeys(
    ("mip_heuristic_run_rins", "mip_heuristic_run_rens", "mip_heuristic_run_root_reduced_cost"), False
)
"""Searches through smaller programs, which take most of the time where no proof is asked for."""


def _highspy() -> Any:
    try:
        import highspy
    except ImportError:
        message = "a plan needs the solver HiGHS, which is not installed"
        hint = "pip install '.[plan]' (the package highspy)"
        raise InputError([Problem("PL301", message, None, hint=hint)]) from None
    return highspy


def is_there() -> bool:
    """Whether the solver is installed; it is not loaded."""
    from importlib.util import find_spec

    return find_spec("highspy") is not None


class Clock:
    """How much time is left for a plan."""

    def __init__(self, seconds: float) -> None:
        self._end = time.monotonic() + seconds

    @property
    def left(self) -> float:
        return max(0.01, self._end - time.monotonic())


def solve(
    program: Program,
    least: Mapping[int, float],
    clock: Clock,
    step: float = 0.0,
    nodes: int | None = None,
    start: Sequence[float] = (),
) -> Solution:
    """The values with the least sum of these costs.

    Args:
        least: Cost of each column; a column that is not named costs nothing.
        clock: What time is left.
        step: Two sums that differ by less are the same: what a sum of whole columns goes up by, or what is nothing.
        nodes: How far to look, so that it is as far on every run; None: as long as there is time.
        start: Values that meet the constraints, to begin with; () where none are known.

    Raises:
        InputError: The solver is not installed.
    """
    highspy = _highspy()
    import numpy as np

    solver = highspy.Highs.__new__(highspy.Highs)
    super(highspy.Highs, solver).__init__()  # its own __init__ prints a banner
    limits: dict[str, object] = {"time_limit": clock.left, "mip_abs_gap": max(1e-7, 0.99 * step)}
    if nodes is not None:
        limits |= {"mip_max_nodes": nodes, **_WITHOUT_SEARCHES}
    for name, value in {**_OPTIONS, **limits}.items():
        solver.setOptionValue(name, value)
    infinity = highspy.kHighsInf
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(program.columns), len(program.constraints)
    lp.col_cost_ = np.array([least.get(at, 0.0) for at in range(lp.num_col_)], dtype=float)
    lp.col_lower_ = np.array([column.low for column in program.columns], dtype=float)
    lp.col_upper_ = np.array([min(column.high, infinity) for column in program.columns], dtype=float)
    lp.row_lower_ = np.array([max(one.low, -infinity) for one in program.constraints], dtype=float)
    lp.row_upper_ = np.array([min(one.high, infinity) for one in program.constraints], dtype=float)
    starts, indices, values = [0], list[int](), list[float]()
    for one in program.constraints:
        for at, factor in sorted(one.terms.items()):
            if factor:
                indices.append(at)
                values.append(factor)
        starts.append(len(indices))
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.array(starts, dtype=np.int32)
    lp.a_matrix_.index_ = np.array(indices, dtype=np.int32)
    lp.a_matrix_.value_ = np.array(values, dtype=float)
    whole = any(column.whole for column in program.columns)
    if whole:
        kinds = highspy.HighsVarType
        lp.integrality_ = [kinds.kInteger if c.whole else kinds.kContinuous for c in program.columns]
    solver.passModel(lp)
    if start:
        known = highspy.HighsSolution()
        known.col_value = list(start)
        solver.setSolution(known)
    solver.run()
    return _told(solver, highspy, whole=whole)


def _told(solver: Any, highspy: Any, *, whole: bool) -> Solution:
    status, found = solver.getModelStatus(), solver.getSolution()
    states = highspy.HighsModelStatus
    if status in (states.kInfeasible, states.kUnboundedOrInfeasible):
        return Solution(Status.INFEASIBLE)
    info = solver.getInfo()
    proven = status == states.kOptimal or status == states.kModelEmpty
    if not proven and info.primal_solution_status != 2:
        return Solution(Status.TIME)
    duals = () if whole else tuple(found.row_dual)
    ended = Status.OPTIMAL if proven else Status.TIME
    return Solution(ended, tuple(found.col_value), float(info.objective_function_value), duals)
