"""Somebody as a planar chain of links, worked out of published body dimensions.

A dimension runs over flesh from one outside to another; a link runs from joint to joint. What lies between is taken
as a part of the stature, H:

    hip above the seat, before the back     0.0563 H, 0.0770 H     98 and 134 mm at 1.74 m (sae-j826, memory)
    knee joint below and behind the knee    0.030 H
    ankle above the sole                    0.039 H                (drillis-contini-1966)
    ankle before the heel, ball of the foot 0.21 and 0.72 of the foot's length (anatomy, memory)
    shoulder joint before the back          0.055 H                (memory)
    eye before the back                     0.100 H                (memory)
    middle of the head behind the eye       0.052 H; radius of the head 0.066 H (memory)

    thigh = buttock to knee - hip before the back - knee joint behind the knee
    shank = knee height - knee joint below the knee - ankle above the sole

Range: adults, unclothed. The percentiles are of one dimension at a time: somebody of the 95th in all of them is longer
than the 95th percentile of stature. Sources: pheasant-bodyspace (data/bodies.csv), sae-j826, drillis-contini-1966.
"""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.occupant import Body

HIP_UP, HIP_AHEAD = 98.0 / 1740.0, 134.0 / 1740.0
KNEE, ANKLE = 0.030, 0.039
HEEL, BALL = 0.21, 0.72
SHOULDER_AHEAD, EYE_AHEAD, HEAD_BEHIND, HEAD = 0.055, 0.100, 0.052, 0.066
JOINTS = (
    Source("sae-j826", "hip point of the manikin, 98 and 134 mm", "memory"),
    Source("drillis-contini-1966", "lengths as parts of the stature (read second-hand)", "read"),
)


@dataclass(frozen=True)
class Links:
    """Somebody's links, sitting heights and outsides."""

    key: str
    title: str
    hip_up: float = number("m", "hip joint above the seat's surface")
    hip_ahead: float = number("m", "hip joint before the back's surface")
    thigh: float = number("m", "hip to knee joint")
    shank: float = number("m", "knee joint to ankle")
    ankle: float = number("m", "ankle above the bare sole")
    ball: float = number("m", "ball of the foot before the ankle")
    heel: float = number("m", "heel behind the ankle")
    knee: float = number("m", "outside of the knee from its joint")
    over_hip: float = number("m", "top of the thigh above the hip joint")
    shoulder_up: float = number("m", "shoulder above the seat, erect")
    shoulder_ahead: float = number("m", "shoulder joint before the back's surface")
    eye_over: float = number("m", "eye above the shoulder")
    eye_ahead: float = number("m", "eye before the back's surface")
    top_over: float = number("m", "crown above the shoulder")
    head: float = number("m", "radius of the head")
    head_behind: float = number("m", "middle of the head behind the eye")
    arm: float = number("m", "shoulder to what the hand holds, arm straight")
    beside: float = number("m", "shoulder joint from the middle plane")
    belly: float = number("m", "front of the belly before the back's surface")
    shoulders: float = number("m", "breadth over the shoulders")
    hips: float = number("m", "breadth of the hips, sitting")


def links(body: Body) -> Links:
    """The links of somebody; formulas at the head of this file."""
    h = body.stature
    return Links(
        key=body.key,
        title=body.title,
        hip_up=HIP_UP * h,
        hip_ahead=HIP_AHEAD * h,
        thigh=body.buttock_knee - (HIP_AHEAD + KNEE) * h,
        shank=body.knee_height - (KNEE + ANKLE) * h,
        ankle=ANKLE * h,
        ball=(BALL - HEEL) * body.foot_length,
        heel=HEEL * body.foot_length,
        knee=KNEE * h,
        over_hip=body.thigh_thickness - HIP_UP * h,
        shoulder_up=body.shoulder_height,
        shoulder_ahead=SHOULDER_AHEAD * h,
        eye_over=body.eye_height - body.shoulder_height,
        eye_ahead=EYE_AHEAD * h,
        top_over=body.sitting_height - body.shoulder_height,
        head=HEAD * h,
        head_behind=HEAD_BEHIND * h,
        arm=body.shoulder_grip,
        beside=body.biacromial_breadth / 2,
        belly=body.abdominal_depth,
        shoulders=body.shoulder_breadth,
        hips=body.hip_breadth,
    )
