"""The lever rules: how an item's mass falls on axles and on sides.
A car on level ground is a beam on its wheels. Moments about the front axle give the part of an item's
mass that the rear axle carries; moments about the left contact centre give the part that the right wheel
of an axle carries. The lever across is the distance between the contact centres, not the width over the
tyres.

What falls on one single wheel is not to be had by levers: four supports make it depend on springs, bars
and pressures.

Source for all: moments about an axle, or about a contact centre, on level ground.
All arguments and results are exact; lengths in mm.
"""

from __future__ import annotations

from fractions import Fraction

from checker.quantities.elementary import tan

HALF = Fraction(1, 2)


def mean_wheelbase(left_mm: Fraction, right_mm: Fraction) -> Fraction:
    """The wheelbase to use as the lever, in mm, where the two sides differ a little."""
    return (left_mm + right_mm) / 2


def contact_track(
    width_over_tyres_mm: Fraction,
    section_mm: Fraction,
    camber_deg: Fraction = Fraction(0),
    radius_mm: Fraction = Fraction(0),
) -> Fraction:
    """Distance in mm between the contact centres of an axle.

    Args:
        width_over_tyres_mm: Outside to outside, measured at hub height.
        section_mm: How wide the tyre is there; the mean of both, where they differ.
        camber_deg: Of each wheel, negative where its top leans in: then it stands further out on the ground.
        radius_mm: From the hub to the ground; the mean of both.
    """
    track = width_over_tyres_mm - section_mm
    return track - 2 * radius_mm * tan(camber_deg) if camber_deg else track


def rear_share(behind_front_axle_mm: Fraction, wheelbase_mm: Fraction) -> Fraction:
    """The part of an item's mass that the rear axle carries.

    Above 1 behind the rear axle, below 0 ahead of the front one: such an item lifts the other end.
    """
    return behind_front_axle_mm / wheelbase_mm


def left_share(left_of_centre_mm: Fraction, track_mm: Fraction) -> Fraction:
    """The part of what falls on an axle that its left wheel carries.

    Args:
        left_of_centre_mm: From the middle of the contact centres; negative to the right.
        track_mm: Between the contact centres of the axle, above 0.
    """
    return HALF + left_of_centre_mm / track_mm


def left_share_of_car(rear: Fraction, front_left: Fraction, rear_left: Fraction) -> Fraction:
    """The part of an item's mass that the left side carries, each axle by its own track.

    Args:
        rear: The part that the rear axle carries, by `rear_share`.
        front_left: The part of what falls on the front axle that its left wheel carries, by `left_share`.
        rear_left: The same for the rear axle.
    """
    return (1 - rear) * front_left + rear * rear_left
