"""The lever rules against published examples of weight and balance.

The published cases use one lever along the vehicle and a datum of their own. Our rule gives the load on
two supports; where they are put cannot matter, so each case is put on two supports of our choice and the
centre of gravity read back by x = distance between the supports * load on the rear one / total.

How each line is known: READ, inputs and result were read in the place named; PART, read in part, the rest
recalled; CALC, not published, computed from a published rule. Everything was recomputed. Where a publication
has a misprint, the recomputed value is tested and the misprint is named.

M9 of the same series (which of several limits governs a payload) has no lever in it and is not here.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.car.weights.levers import HALF, contact_track, left_share, rear_share
from tests.car.cars import known, loaded, varied

Items = tuple[tuple[str, str], ...]


def totals(items: Items, front_support: Fraction, spacing: Fraction) -> tuple[Fraction, Fraction]:
    """Total mass, and the station of the centre of gravity, by loads on two supports."""
    total = sum((Fraction(mass) for mass, _ in items), Fraction(0))
    rear = sum(
        (Fraction(mass) * rear_share(Fraction(station) - front_support, spacing) for mass, station in items),
        Fraction(0),
    )
    return total, front_support + spacing * rear / total


def centre(items: Items) -> Fraction:
    """The station of the centre of gravity."""
    return totals(items, Fraction(0), Fraction(100))[1]


def near(value: Fraction, expected: str, tolerance: str) -> bool:
    return abs(value - Fraction(expected)) <= Fraction(tolerance)


# -- FAA Advisory Circular 43.13-1B, chapter 10 (pounds, inches) -------------------------------------

EMPTY: Items = (("1169", "10.6"), ("17", "-49"))


@pytest.mark.parametrize(
    ("items", "total", "moment", "station"),
    [
        # M1, fig. 10-10, p. 10-13, forward check: READ; the moment is printed 16104, the station 11.2
        ((*EMPTY, ("170", "16"), ("83", "22")), "1439", "16104.4", "11.19138"),
        # M2, fig. 10-11, rearward check: READ inputs, weight and moment; quotient recomputed (printed 21.3)
        (
            (*EMPTY, ("170", "16"), ("340", "48"), ("240", "22"), ("100", "75.5")),
            "2036",
            "43428.4",
            "21.33026",
        ),
        # M3, fig. 10-13, p. 10-17, maximum passengers: READ. The circular prints +18.6; 38466/2100 is 18.317
        (
            (*EMPTY, ("170", "16"), ("170", "16"), ("340", "48"), ("234", "22")),
            "2100",
            "38466.4",
            "18.31733",
        ),
        # M4, fig. 10-14, p. 10-18, maximum baggage: READ (one copy misprints the divisor as 20366)
        (
            (*EMPTY, ("170", "16"), ("170", "48"), ("170", "16"), ("240", "22"), ("100", "75.5")),
            "2036",
            "37988.4",
            "18.65835",
        ),
    ],
)
def test_faa_advisory_circular(items: Items, total: str, moment: str, station: str) -> None:
    mass, cg = totals(items, Fraction(0), Fraction(100))
    assert mass == Fraction(total)
    assert mass * cg == Fraction(moment)
    assert near(cg, station, "0.00001")


def test_m3_is_not_the_misprinted_quotient() -> None:
    cg = centre((*EMPTY, ("170", "16"), ("170", "16"), ("340", "48"), ("234", "22")))
    assert not near(cg, "18.6", "0.05")


# -- FAA handbooks: FAA-H-8083-25, FAA-H-8083-1 and 1B, and a knowledge-test problem ------------------


def test_m5_a_shifted_mass_moves_the_centre() -> None:
    """FAA-H-8083-25, READ: 8000 lb, 616 000 in lb; 100 lb moved from 30 to 150 in gives 78.5 in."""
    before = (("7900", str(Fraction(616000 - 100 * 30, 7900))), ("100", "30"))
    assert centre(before) == 77
    after = (before[0], ("100", "150"))
    assert centre(after) == Fraction("78.5")


def test_m6_the_mass_to_shift_to_come_within_the_limit() -> None:
    """FAA-H-8083-25, READ: 7800 lb at 81.5 in, aft limit 80.5; 65 lb from station 150 to 30."""
    rest = str(Fraction(Fraction("81.5") * 7800 - 65 * 150, 7735))
    assert centre((("7735", rest), ("65", "150"))) == Fraction("81.5")
    assert centre((("7735", rest), ("65", "30"))) == Fraction("80.5")


def test_m7_three_scales_one_nose_wheel() -> None:
    """FAA-H-8083-1B, nose wheel: 340 lb of 2006 at 78 in ahead of the mains: 13.2 in ahead (READ).

    With the mains at 128 in from the datum: 114.8 (recalled from memory).
    """
    ahead_of_mains = Fraction(340 * 78, 2006)
    behind_nose = 78 - ahead_of_mains
    assert 2006 * (1 - rear_share(behind_nose, Fraction(78))) == 340
    assert near(ahead_of_mains, "13.22034", "0.00001")
    items: Items = (("340", str(128 - 78)), ("1666", "128"))
    assert near(centre(items), "114.77966", "0.00001")


def test_m8_permanent_ballast_brings_the_centre_to_the_limit() -> None:
    """FAA-H-8083-1, PART (weight and centre READ): 1876 lb at 32.2; 7.7 lb at 228 gives 33.0."""
    ballast = Fraction(1876 * 8, 10) / (228 - 33)
    assert near(ballast, "7.696410", "0.000001")
    assert centre((("1876", "32.2"), (str(ballast), "228"))) == 33


def test_m10_fuel_burnt_moves_the_centre() -> None:
    """FAA knowledge-test problem, READ inputs, answer recomputed: 154.35 lb burnt at 68.0 gives 67.79."""
    burnt = Fraction("14.7") * Fraction("1.75") * 6
    assert burnt == Fraction("154.35")
    assert near(centre((("4037", "67.8"), (str(-burnt), "68.0"))), "67.79", "0.005")


@given(front=st.integers(-500, 500), spacing=st.integers(1, 500))
def test_where_the_supports_stand_does_not_matter(front: int, spacing: int) -> None:
    items: Items = (*EMPTY, ("170", "16"), ("83", "22"))
    assert totals(items, Fraction(front), Fraction(spacing)) == (Fraction(1439), centre(items))


@given(moved=st.integers(-500, 500))
def test_moving_the_datum_moves_the_number_and_nothing_else(moved: int) -> None:
    items: Items = (*EMPTY, ("170", "16"), ("83", "22"))
    shifted = tuple((mass, str(Fraction(station) + moved)) for mass, station in items)
    assert centre(shifted) == centre(items) + moved


# -- axle and pad reactions ----------------------------------------------------------------------------
# CALC from x = wheelbase * rear load / total (READ: a vehicle maker's body-builder manual, 2015, p. 268)

WHEELBASE, TRACK = Fraction(2400), Fraction(1500)
PADS = {"front_left": "150 kg", "front_right": "148 kg", "rear_left": "172 kg", "rear_right": "170 kg"}
FRONT, REAR = Fraction(298), Fraction(342)


def test_m11_four_pads() -> None:
    """640 kg: front 0.465625, 1282.5 mm behind the front axle, 4.6875 mm left of centre, diagonal 0.5."""
    weights = loaded(varied({"weighing.readings": [PADS]}), course="clockwise").weights()
    assert weights.percentage("front") == Fraction("0.465625")
    assert weights.percentage("cross") == HALF  # front left and rear right on a clockwise course
    assert weights.percentage("rear") == rear_share(Fraction("1282.5"), WHEELBASE)
    left = known(weights.percentage("left"))
    assert left == left_share(Fraction("4.6875"), TRACK)
    assert TRACK * (1 - left) == Fraction("745.3125")  # from the left wheel line


def with_ballast(*pieces: tuple[str, str]) -> tuple[Fraction, Fraction]:
    """Front and rear load of the four-pad car with ballast: kg, and mm behind the front axle."""
    added = [(Fraction(mass), rear_share(Fraction(place), WHEELBASE)) for mass, place in pieces]
    rear = sum((mass * share for mass, share in added), REAR)
    return sum((mass for mass, _ in added), FRONT + REAR) - rear, rear


def test_m12_ballast_for_a_front_share() -> None:
    """21.068702 kg at 200 mm behind the front axle make 48 % front."""
    front, rear = with_ballast(("21.068702", "200"))
    assert near(front / (front + rear), "0.48", "0.00000001")


def test_m13_ballast_for_a_total_and_a_front_share() -> None:
    """17.176471 kg at 300 mm and 2.823529 kg at 2000 mm make 660 kg with 47.5 % front."""
    front, rear = with_ballast(("17.176471", "300"), ("2.823529", "2000"))
    assert front + rear == 660
    assert near(front / 660, "0.475", "0.00000001")


def test_the_track_is_between_contact_centres() -> None:
    """A 1725 mm car on 225 mm tyres has the track of M11; by its width the centre comes out at 5.4 mm."""
    assert contact_track(Fraction(1725), Fraction(225)) == TRACK
    assert near((Fraction(322, 640) - HALF) * 1725, "5.390625", "0")
