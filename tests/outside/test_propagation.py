"""Propagation and coverage against the GUM, EA-4/02, NIST TN 1297, and two other libraries.

"Read", "partly", "recalled" and "computed" as in `test_conformity`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from checker.car.car import Car
from checker.car.described.asking import WEIGHTS
from checker.car.described.standard import WHEELS
from checker.car.errors.sources import (
    ErrorSource,
    Perturbation,
    moving_loads,
    permissible_variance,
    resolution_variance,
)
from checker.car.scene import Scene
from checker.kinds.judging.spread import Sensitivity, effective_degrees, sensitivities, total
from checker.quantities.elementary import cos, sin
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import Unknown
from checker.quantities.student import quantile
from checker.verdict.decision import coverage_factor
from tests.building import car_of, outcome_of, pack_of_check
from tests.car.cars import known, loaded, varied
from tests.examples import each_row

HALF_LAST_DIGIT = 0.005


def root(variance: Fraction) -> float:
    return math.sqrt(variance)


# -- published examples ------------------------------------------------------------------------------


def test_gum_5_2_2_ten_resistors_calibrated_against_one_standard() -> None:
    """U1; recalled: fully correlated, u of the sum is 1.0 ohm; taken as independent it would be 0.316."""
    pack = pack_of_check(
        "{limit: sum(bank.resistors), at_most: 11000 ohm}",
        "facts: {bank.resistors: {unit: ohm, several: true, measured_with: bridge}}\n"
        "instruments: {bridge: {uncertainty: 0.1 ohm}}",
    )
    ten = ", ".join(["1000 ohm"] * 10)
    spread = outcome_of(pack, f"bank: {{resistors: [{ten}]}}").assessment.spread
    assert spread is not None
    ohm = pack.vocabulary.facts["bank.resistors"].unit
    assert ohm is not None
    assert root(spread.variance) / float(ohm.factor) == pytest.approx(1.0, abs=1e-12)
    assert root(spread.variance) / float(ohm.factor) != pytest.approx(0.316, abs=HALF_LAST_DIGIT)


def test_gum_f_2_2_1_a_digital_display() -> None:
    """U2; partly: a step of 1 g has a variance of 1/12 g2, u = 0.29 g."""
    assert resolution_variance(Fraction(1)) == Fraction(1, 12)
    assert root(resolution_variance(Fraction(1))) == pytest.approx(0.29, abs=HALF_LAST_DIGIT)
    assert root(resolution_variance(Fraction(1))) == pytest.approx(0.288675, abs=1e-6)


def parts(*pairs: tuple[str, int | None]) -> list[Sensitivity]:
    """Contributions by standard uncertainty and degrees of freedom."""
    nothing = Perturbation("", lambda car, _: car)
    return [
        Sensitivity(
            ErrorSource(
                "",
                Fraction(u) ** 2,
                "",
                nothing,
                degrees_of_freedom=None if degrees is None else Fraction(degrees),
            ),
            Fraction(1),
            Fraction(u) ** 2,
        )
        for u, degrees in pairs
    ]


def test_gum_g_4_1_welch_satterthwaite() -> None:
    """U3; recalled: 0.25, 0.57 and 0.82 % from 10, 5 and 15 observations: u = 1.03 %, 19 degrees, t = 2.09, 2.2 %."""
    found = parts(("0.25", 9), ("0.57", 4), ("0.82", 14))
    variance = total(one.variance for one in found)
    degrees = effective_degrees(found, variance)
    assert degrees is not None
    assert root(variance) == pytest.approx(1.029466, abs=1e-6)
    assert float(degrees) == pytest.approx(18.998742, abs=1e-6)
    factor = float(coverage_factor(Fraction(975, 1000), degrees))
    assert factor == pytest.approx(2.09, abs=HALF_LAST_DIGIT), "cut to 18 before rounding, it would be 2.10"
    assert factor * root(variance) == pytest.approx(2.154697, abs=1e-4)


def test_gum_h_1_end_gauge_combination() -> None:
    """U6; recalled: 25, 9.7, 2.9 and 16.6 nm combine to 32 nm."""
    found = parts(("25", 18), ("9.7", 25), ("2.9", 50), ("16.6", 2))
    assert root(total(one.variance for one in found)) == pytest.approx(31.7, abs=0.5)


def test_a_weighing_budget() -> None:
    """U7; read (University of Tartu, example weighing): u = 0.0002075 g, 33 degrees of freedom, truncated."""
    drift, reading = (permissible_variance(Fraction(half)) for half in ("0.0002", "0.00005"))
    found = parts(("0.00017", 15))
    nothing = found[0].source.lever
    found += [Sensitivity(ErrorSource("", v, "", nothing), Fraction(1), v) for v in (drift, reading)]
    variance = total(one.variance for one in found)
    assert root(variance) == pytest.approx(0.000207525098883645, abs=1e-15)
    degrees = effective_degrees(found, variance)
    assert degrees is not None
    assert float(degrees) == pytest.approx(33.310265, abs=1e-6)
    assert coverage_factor(Fraction(975, 1000), degrees) == coverage_factor(Fraction(975, 1000), Fraction(33))


def test_ea_4_02_s2_a_weight_of_10_kg() -> None:
    """U8; partly: u = 29.3 mg, U = 59 mg from 45 mg (k = 2), 25 mg over 3, and 15, 10 and 10 mg rectangular."""
    variance = total(
        [
            Fraction(45, 2) ** 2,
            Fraction(25) ** 2 / 3,
            *(permissible_variance(Fraction(half)) for half in (15, 10, 10)),
        ]
    )
    assert root(variance) == pytest.approx(29.2617, abs=1e-4)
    assert 2 * root(variance) == pytest.approx(59, abs=0.5)


# -- correlated observations: GUM H.2 ----------------------------------------------------------------

VOLT, MILLIAMP, PHASE = (
    ["5.007", "4.994", "5.005", "4.990", "4.999"],
    ["19.663", "19.639", "19.640", "19.685", "19.678"],
    ["1.0456", "1.0438", "1.0468", "1.0428", "1.0433"],
)
FACTS = "facts: {probe.volt: {type: number}, probe.amp: {type: number}, probe.phase: {type: number}}"
NAMES = ("probe.volt", "probe.amp", "probe.phase")
DEG_PER_RAD = Fraction("57.295779513082320876798154814105")


def probed(volt: Fraction, amp: Fraction, phase: Fraction) -> Car:
    """A car with three numbers that stand for voltage, current and phase."""
    pack = pack_of_check("{limit: probe.volt + probe.amp + probe.phase, at_least: 0}", FACTS)
    car = car_of(pack, "probe: {volt: 1, amp: 1, phase: 1}")
    for name, value in zip(NAMES, (volt, amp, phase), strict=True):
        car = car.with_value(name, None, value - 1)
    return car


def impedance(scene: Scene) -> tuple[Fraction, ...] | Unknown:
    """R, X and Z."""
    volt, amp, phase = (scene.car.value(name) for name in NAMES)
    angle = phase * DEG_PER_RAD
    return (volt * cos(angle) / amp, volt * sin(angle) / amp, volt / amp)


def moving(key: str, direction: tuple[Fraction, ...]) -> Perturbation:
    """A lever that moves the three together."""

    def shift(car: Car, step: Fraction) -> Car:
        for name, part in zip(NAMES, direction, strict=True):
            car = car.with_value(name, None, part * step)
        return car

    return Perturbation(key, shift)


def uncertainties_of(car: Car, sources: list[ErrorSource]) -> tuple[list[float], list[float]]:
    """u of R, X and Z, and r(R,X), r(R,Z), r(X,Z)."""
    scene = Scene(car)
    here = impedance(scene)
    assert not isinstance(here, Unknown)
    found = sensitivities(impedance, scene, sources, frozenset(NAMES), here)
    assert not isinstance(found, Unknown)
    slopes = [{id(one.source): one.slope for one in result} for result in found]
    variances = {id(source): source.variance for source in sources}

    def covariance(i: int, j: int) -> float:
        return float(sum(slopes[i].get(k, 0) * slopes[j].get(k, 0) * v for k, v in variances.items()))

    u = [math.sqrt(covariance(n, n)) for n in range(3)]
    return u, [covariance(i, j) / u[i] / u[j] for i, j in ((0, 1), (0, 2), (1, 2))]


def test_gum_h_2_from_the_five_sets_of_observations() -> None:
    """U5; recalled, and as U4 was read: repeats kept as deviations carry their correlation with them."""
    sets = [[Fraction(x) for x in row] for row in (VOLT, MILLIAMP, PHASE)]
    means = [sum(row, Fraction(0)) / 5 for row in sets]
    assert [float(m) for m in means] == [4.999, 19.661, 1.04446]
    car = probed(means[0], means[1] / 1000, means[2])
    sources = [
        ErrorSource(
            "",
            Fraction(1, 5 * 4),
            NAMES[0],
            moving(str(n), (v - means[0], (i - means[1]) / 1000, p - means[2])),
        )
        for n, (v, i, p) in enumerate(zip(*sets, strict=True))
    ]
    r_x_z = impedance(Scene(car))
    assert not isinstance(r_x_z, Unknown)
    assert [float(x) for x in r_x_z] == pytest.approx([127.732, 219.847, 254.260], abs=0.0006)
    u, r = uncertainties_of(car, sources)
    assert u == pytest.approx([0.071, 0.295, 0.236], abs=0.001)
    assert r == pytest.approx([-0.588, -0.485, 0.993], abs=0.001)


def test_gum_h_2_from_uncertainties_and_correlations() -> None:
    """U4; read (documentation of the library GTC, example H.2): R = 127.732(70), X = 219.85(30), Z = 254.26(24)."""
    u = [0.0032, 9.5e-6, 7.5e-4]
    r = {(0, 1): -0.36, (0, 2): 0.86, (1, 2): -0.65}
    # three independent sources that together have this covariance (Cholesky)
    matrix = [[u[i] * u[j] * (1 if i == j else r[min(i, j), max(i, j)]) for j in range(3)] for i in range(3)]
    lower = [[0.0] * 3 for _ in range(3)]
    for i in range(3):
        for j in range(i + 1):
            rest = matrix[i][j] - sum(lower[i][k] * lower[j][k] for k in range(j))
            lower[i][j] = math.sqrt(rest) if i == j else rest / lower[j][j]
    car = probed(Fraction("4.999"), Fraction("0.019661"), Fraction("1.04446"))
    sources = [
        ErrorSource("", Fraction(1), NAMES[0], moving(str(k), tuple(Fraction(lower[i][k]) for i in range(3))))
        for k in range(3)
    ]
    found, correlations = uncertainties_of(car, sources)
    assert found == pytest.approx([0.070, 0.30, 0.24], abs=HALF_LAST_DIGIT)
    assert correlations == pytest.approx([-0.59, -0.49, 0.99], abs=HALF_LAST_DIGIT)


# -- Student's factors -------------------------------------------------------------------------------

ERF = [math.erf(n / math.sqrt(2)) for n in (1, 2, 3)]
COLUMNS = (ERF[0], 0.90, 0.95, ERF[1], 0.99, ERF[2])
"""The columns headed 68.27, 95.45 and 99.73 % are really one, two and three standard deviations of the normal."""
TABLE = {
    1: (1.84, 6.31, 12.71, 13.97, 63.66, 235.80),
    2: (1.32, 2.92, 4.30, 4.53, 9.92, 19.21),
    3: (1.20, 2.35, 3.18, 3.31, 5.84, 9.22),
    4: (1.14, 2.13, 2.78, 2.87, 4.60, 6.62),
    5: (1.11, 2.02, 2.57, 2.65, 4.03, 5.51),
    6: (1.09, 1.94, 2.45, 2.52, 3.71, 4.90),
    8: (1.07, 1.86, 2.31, 2.37, 3.36, 4.28),
    10: (1.05, 1.81, 2.23, 2.28, 3.17, 3.96),
    15: (1.03, 1.75, 2.13, 2.18, 2.95, 3.59),
    20: (1.03, 1.72, 2.09, 2.13, 2.85, 3.42),
    30: (1.02, 1.70, 2.04, 2.09, 2.75, 3.27),
    50: (1.01, 1.68, 2.01, 2.05, 2.68, 3.16),
    100: (1.005, 1.660, 1.984, 2.025, 2.626, 3.077),
}


@each_row("degrees", TABLE)
def test_gum_table_g_2(degrees: int) -> None:
    """NIST TN 1297 Table B.1, the same table; read."""
    tolerance = 0.0005 if degrees == 100 else HALF_LAST_DIGIT
    for p, t in zip(COLUMNS, TABLE[degrees], strict=True):
        assert quantile((1 + p) / 2, degrees) == pytest.approx(t, abs=tolerance * 1.0001)


def test_gum_table_g_2_without_end() -> None:
    """Its last row; read."""
    for p, t in zip(COLUMNS, (1.000, 1.645, 1.960, 2.000, 2.576, 3.000), strict=True):
        assert float(coverage_factor(Fraction((1 + p) / 2))) == pytest.approx(t, abs=0.0005)


def test_the_misprint_of_the_table_is_not_reproduced() -> None:
    """35 degrees of freedom at 90 % are printed as 1.70; they are 1.6896."""
    assert quantile(0.95, 35) == pytest.approx(1.6896, abs=5e-5)
    assert round(quantile(0.95, 35), 2) == 1.69


def test_one_sided_factors() -> None:
    """Computed: 95 % one-sided, 4 and 9 degrees of freedom."""
    assert float(coverage_factor(Fraction(95, 100), Fraction(4))) == pytest.approx(2.1318, abs=5e-5)
    assert float(coverage_factor(Fraction(95, 100), Fraction(9))) == pytest.approx(1.8331, abs=5e-5)


# -- a share of the weight ---------------------------------------------------------------------------

CARS = {
    "SA": (("150", "148", "172", "170"), ("0.5",) * 4),
    "SB": (("140", "145", "150", "165"), ("0.29", "0.29", "0.58", "0.58")),
    "SC": (("152.4", "149.8", "171.2", "166.6"), ("0.2", "0.3", "0.25", "0.35")),
}
"""Computed; two libraries agree with the closed form to twelve digits."""

INDEPENDENT = {
    "SA": (7.83094137e-4, 1.0, 7.81265259e-4, 7.8125e-4),
    "SB": (7.41920603e-4, 0.91706052, 7.64641548e-4, 7.64323235e-4),
    "SC": (4.34880484e-4, 0.56124861, 4.40222325e-4, 4.38521113e-4),
}
"""u of the front share, the total, the left share, and the diagonal front left and rear right."""

STRUCTURES = {
    "common factor": ((0.0, 1.28), (0.0, 1.20), (0.0, 1.28)),
    "independent and common factor": (
        (7.83094137e-4, 1.624315240),
        (7.41920603e-4, 1.510297984),
        (4.34880484e-4, 1.397640869),
    ),
    "common offset": ((1.07421875e-4, 2.0), (8.3333333e-5, 2.0), (8.69140625e-5, 2.0)),
    "two instruments": (
        (7.03764597e-4, 0.907233156),
        (7.05339014e-4, 0.849588136),
        (7.04918893e-4, 0.906495847),
    ),
}
WRONG = {"SA": 1.322881783e-3, "SB": 9.97149583e-4, "SC": 6.99177680e-4}
"""u of the share where numerator and total are taken as independent: the mistake to avoid."""


def weighed(name: str) -> Car:
    loads = {wheel: f"{kg} kg" for wheel, kg in zip(WHEELS, CARS[name][0], strict=True)}
    return loaded(varied({"weighing.readings": [loads]}))


def structured(name: str, structure: str) -> list[ErrorSource]:
    """The sources of one structure of errors, on the levers that a weighing has."""
    loads = {wheel: Fraction(kg) for wheel, kg in zip(WHEELS, CARS[name][0], strict=True)}
    pads = [
        ErrorSource(wheel, Fraction(u) ** 2, WEIGHTS, moving_loads(wheel, [{wheel: Fraction(1)}]))
        for wheel, u in zip(WHEELS, CARS[name][1], strict=True)
    ]
    scale = [ErrorSource("scale", Fraction("0.002") ** 2, WEIGHTS, moving_loads("scale", [loads]))]
    offset = [
        ErrorSource(
            "offset",
            Fraction("0.5") ** 2,
            WEIGHTS,
            moving_loads("offset", [dict.fromkeys(WHEELS, Fraction(1))]),
        )
    ]
    pairs = [
        ErrorSource(
            end,
            Fraction("0.002") ** 2,
            WEIGHTS,
            moving_loads(end, [{w: kg for w, kg in loads.items() if w.startswith(end)}]),
        )
        for end in ("front", "rear")
    ]
    return {
        "independent": pads,
        "common factor": scale,
        "independent and common factor": pads + scale,
        "common offset": offset,
        "two instruments": pairs,
    }[structure]


def spread_in(name: str, structure: str, compute: Callable[[Scene], Any]) -> float:
    scene = Scene(weighed(name))
    here = (compute(scene),)
    found = sensitivities(
        lambda s: (compute(s),),
        scene,
        structured(name, structure),
        frozenset({"weight.total", "weight.front_left"}),
        here,
    )
    assert not isinstance(found, Unknown)
    return root(total(one.variance for one in found[0]))


def front(scene: Scene) -> Fraction:
    return known(scene.percentage("front"))


def left(scene: Scene) -> Fraction:
    return known(scene.percentage("left"))


def diagonal(scene: Scene) -> Fraction:
    return 1 - known(scene.percentage("cross"))


def whole(scene: Scene) -> Fraction:
    return known(scene.weight("total"))


@pytest.mark.parametrize("name", CARS)
def test_independent_pads(name: str) -> None:
    found = [spread_in(name, "independent", compute) for compute in (front, whole, left, diagonal)]
    assert found[0] == pytest.approx(INDEPENDENT[name][0], abs=1e-11)
    assert found[1:] == pytest.approx(INDEPENDENT[name][1:], abs=1e-8)
    assert found[0] != pytest.approx(WRONG[name], rel=0.1)


@pytest.mark.parametrize("structure", STRUCTURES)
@pytest.mark.parametrize("name", CARS)
def test_other_structures_of_errors(name: str, structure: str) -> None:
    share, sum_of_all = STRUCTURES[structure][list(CARS).index(name)]
    found = spread_in(name, structure, front)
    assert found == pytest.approx(share, abs=1e-18 if share == 0 else 1e-11)
    assert spread_in(name, structure, whole) == pytest.approx(sum_of_all, abs=1e-8)


@pytest.mark.parametrize("name", CARS)
def test_the_library_uncertainties_agrees(name: str) -> None:
    import uncertainties

    a, b, c, d = (uncertainties.ufloat(float(kg), float(u)) for kg, u in zip(*CARS[name], strict=True))
    sum_of_all = a + b + c + d
    for compute, theirs in (
        (front, (a + b) / sum_of_all),
        (left, (a + c) / sum_of_all),
        (diagonal, (a + d) / sum_of_all),
    ):
        assert spread_in(name, "independent", compute) == pytest.approx(theirs.std_dev, rel=1e-10)
    scale = uncertainties.ufloat(1, 0.002)
    scaled = [x * scale for x in (a, b, c, d)]
    theirs = (scaled[0] + scaled[1]) / sum(scaled)
    assert spread_in(name, "independent and common factor", front) == pytest.approx(theirs.std_dev, rel=1e-10)
    assert spread_in(name, "independent and common factor", whole) == pytest.approx(
        sum(scaled).std_dev, rel=1e-10
    )


@pytest.mark.deep
@pytest.mark.parametrize("name", CARS)
def test_the_library_gtc_agrees(name: str) -> None:
    import GTC  # loaded only by who runs this, for it takes long

    loads = [float(kg) for kg in CARS[name][0]]
    offset = GTC.ureal(0, 0.5)
    a, b, c, d = (kg + offset for kg in loads)
    theirs = GTC.uncertainty((a + b) / (a + b + c + d))
    assert spread_in(name, "common offset", front) == pytest.approx(theirs, rel=1e-10)
    one, other = GTC.ureal(1, 0.002), GTC.ureal(1, 0.002)
    a, b, c, d = loads[0] * one, loads[1] * one, loads[2] * other, loads[3] * other
    theirs = GTC.uncertainty((a + b) / (a + b + c + d))
    assert spread_in(name, "two instruments", front) == pytest.approx(theirs, rel=1e-10)


def test_the_whole_way_from_a_declaration_gives_the_same() -> None:
    """SA, through the files: pads certified to 0.5 kg, on a floor level to a hair."""
    loads = {wheel: f"{kg} kg" for wheel, kg in zip(WHEELS, CARS["SA"][0], strict=True)}
    text = ", ".join(f"{wheel}: {kg}" for wheel, kg in loads.items())
    pack = pack_of_check("{limit: percentage.front, at_most: 60 %, condition: as_weighed}")
    car = (
        f"weighing: {{instrument: pads, floor: {{along: 0.0001 mm, across: 0.0001 mm}}, readings: [{{{text}}}]}}\n"
        "instruments: {pads: {uncertainty: 0.5 kg}}"
    )
    spread = outcome_of(pack, car).assessment.spread
    assert spread is not None
    assert root(spread.variance) == pytest.approx(INDEPENDENT["SA"][0], abs=1e-11)


def test_formulas_are_followed_as_the_library_does() -> None:
    """A formula with min, a quotient, a power and a root, each measured value known to its own uncertainty."""
    formula = "min(a.x, a.y) ** 2 / sqrt(a.x * a.z) + abs(a.x - a.y)"
    facts = "facts: {a.x: {unit: mm}, a.y: {unit: mm}, a.z: {unit: mm}}"
    pack = pack_of_check(f"{{limit: '{formula}', at_most: 900 mm}}", facts)
    values = {"x": (12.0, 0.3), "y": (17.0, 0.2), "z": (5.0, 0.1)}
    stated = ", ".join(f"{n}: {{value: {v} mm, uncertainty: {u} mm}}" for n, (v, u) in values.items())
    spread = outcome_of(pack, f"a: {{{stated}}}").assessment.spread
    assert spread is not None
    import uncertainties
    from uncertainties import umath

    x, y, z = (uncertainties.ufloat(*values[name]) for name in "xyz")
    theirs = x**2 / umath.sqrt(x * z) + (y - x)
    assert root(spread.variance) == pytest.approx(theirs.std_dev, rel=1e-9)
    assert isinstance(pack.clauses["1"].check.limit, Expression)  # type: ignore[attr-defined]
    assert replace(parts(("1", None))[0]).variance == 1
