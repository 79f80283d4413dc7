"""Writes expected.json: distances, depths and swept shapes by shapely, for tests/it/motion_shapely.rs.

Gaps: between turned rectangles and circles; where they overlap, the least shift that parts them, which is the
distance from the origin to the edge of their Minkowski difference. A circle is kept as a point with a radius.
Swept shapes: exact quarter discs and the union of a motor's bodies turned in steps of a quarter of a degree; for
probes round about, the signed distance (negative inside). Nothing is shared with the program but the figures of the
box boat, typed anew. Run in this folder:
pip install shapely==2.2.0 numpy==2.4.6  then:  python3 generate.py
"""

import json
import math

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import MultiPoint, Point, Polygon, box

rng = np.random.default_rng(87)


def rect(x, y, half_length, half_width, turn):
    return affinity.translate(
        affinity.rotate(box(-half_length, -half_width, half_length, half_width), turn, origin=(0, 0)), x, y
    )


def corners(shape):
    return [shape] if shape.geom_type == "Point" else [Point(c) for c in shape.exterior.coords[:-1]]


def gap(a, ra, b, rb):
    """Of two convex shapes grown by their radii."""
    spread = MultiPoint([(p.x - q.x, p.y - q.y) for p in corners(a) for q in corners(b)]).convex_hull
    origin = Point(0, 0)
    if spread.geom_type == "Polygon" and spread.contains(origin):
        return -spread.exterior.distance(origin) - ra - rb
    return a.distance(b) - ra - rb


def shape():
    x, y = rng.uniform(-150, 150, 2).round(3)
    if rng.random() < 0.35:
        radius = round(rng.uniform(10, 120), 3)
        return Point(x, y), radius, {"at": [x, y], "radius": radius}
    l, w = rng.uniform(10, 150, 2).round(3)
    turn = round(rng.uniform(0, 360), 3)
    return rect(x, y, l, w, turn), 0.0, {"at": [x, y], "half": [l, w], "turn": turn}


def pairs(count):
    made = []
    for _ in range(count):
        a, ra, told_a = shape()
        b, rb, told_b = shape()
        made.append({"a": told_a, "b": told_b, "gap_mm": round(gap(a, ra, b, rb), 6)})
    return made


def quarter(cx, cy, radius, start):
    """A quarter disc about (cx, cy) from `start` degrees on, to a hundredth of a millimetre."""
    arc = [math.radians(start + 90 * i / 2000) for i in range(2001)]
    return Polygon([(cx, cy)] + [(cx + radius * math.cos(a), cy + radius * math.sin(a)) for a in arc])


def turned_union(bodies, axis, most):
    steps = np.arange(-most, most + 0.125, 0.25)
    return shapely.union_all([affinity.rotate(b, s, origin=axis) for b in bodies for s in steps])


def probes(shape, margin, count=250):
    low_x, low_y, high_x, high_y = shape.bounds
    made = []
    for _ in range(count):
        x, y = rng.uniform(low_x - margin, high_x + margin), rng.uniform(low_y - margin, high_y + margin)
        p = Point(round(x, 2), round(y, 2))
        inside = shape.contains(p)
        away = shape.boundary.distance(p) if inside else shape.distance(p)
        made.append([p.x, p.y, round(-away if inside else away, 3)])
    return made


# The box boat of the test: trough 3600 long, seat 200 up, back at 1500 leaning 10 degrees, person of 1756.
H, SEAT, BACK, LEAN, WATER = 1756.0, 200.0, 1500.0, math.radians(10), 100.0
shoulder_x = BACK + 100 - 0.288 * H * math.sin(LEAN)
shoulder_y = 0.129 * H
shoulder_z = SEAT + 90 + 0.288 * H * math.cos(LEAN)

# The stern motor of the 30 lbf class, its mount at (120, 0, 0): shaft 110 aft of it; head, lower unit and handle.
mount, shaft = (120.0, 0.0), (10.0, 0.0)
bodies = [box(-70, -55, 190, 55), box(-180, -47.5, 200, 47.5), box(145, -17.5, 475, 17.5), Point(shaft).buffer(14, 64)]
head = math.hypot(190, 235)
lower = math.hypot(300, 672.5)

aside = quarter(shoulder_x, -shoulder_y, 2500, 180).difference(box(-9999, -250, 9999, 9999))
overhead_at = math.sqrt(2700**2 - (WATER + 950 - shoulder_z) ** 2)
overhead = box(shoulder_x - overhead_at, -(shoulder_y + 300), shoulder_x, -250)

SWEEPS = [
    # Motion, plane of the probes, the third coordinate, how far a block may stick out, the shape.
    ("cast", "xz", -(shoulder_y + 100), 46, quarter(shoulder_x, shoulder_z, 2700, 90)),
    # Nearer the middle than 250 it is passed by; at this height the overhead cast goes there as well.
    ("cast", "xy", WATER + 950, 46, aside.union(overhead)),
    ("lid", "xz", 0, 20, quarter(2850, 300, 300, 0)),
    ("motor turn", "xy", None, 2, turned_union(bodies, shaft, 60)),
    ("motor stow", "xz", 0, 20, quarter(120, 0, head, 0).union(quarter(120, 0, lower, 180))),
]

sweeps = [
    {"motion": m, "plane": plane, "third_mm": third, "slack_mm": slack, "probes": probes(s, 100)}
    for m, plane, third, slack, s in SWEEPS
]
with open("expected.json", "w", encoding="utf-8") as out:
    json.dump({"shapely": shapely.__version__, "pairs": pairs(300), "sweeps": sweeps}, out, indent=None)
    out.write("\n")
