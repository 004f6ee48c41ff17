"""Pairs of states between which only the fuel differs."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from checker.car.car import Car
from checker.car.described.vocabulary import Condition
from checker.car.weights.states import state_of, states
from checker.car.weights.weights import State


def fuel_legs(car: Car, condition: Condition) -> tuple[tuple[State, State], ...]:
    """Pairs of states of the condition that differ only in fuel, the lower amount first.

    Between the two of a pair, weights run straight with the fuel: what crosses a limit does so there.
    Where an amount is unknown, or the condition names but one, there is no pair.
    """
    by_rest: dict[State, list[State]] = {}
    for state in states(car, condition):
        if isinstance(state.fuel, Fraction):
            by_rest.setdefault(state_of(None, state.driver, state.tyres, state.wear), []).append(state)
    return tuple(leg for along in by_rest.values() for leg in pairwise(along))
