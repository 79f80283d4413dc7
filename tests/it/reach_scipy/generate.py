"""Reach by brute force: every twist, every lean, every direction, by scipy's rotations.

    pip install scipy==1.17.1 numpy==2.4.6
    python3 generate.py > expected.json

The model is that of src/study/reach/hand.rs, written down anew: a rigid trunk turns about the hip; first a twist
about the upright, then a lean about a level axis toward a direction from straight ahead to either side; the hand
touches what is no further from the shoulder than the arm is long and what the twisted trunk faces (not more than
50 mm behind the shoulder line, which a twist opens by 20/45 of itself, nor more than 45 degrees across the chest).
Nothing is solved: all postures are tried on a grid, which is made finer around the best one.
"""
import json
import numpy as np
from scipy.spatial.transform import Rotation
from scipy.stats import qmc

STATURE = 1756.0
HALF, TRUNK = 0.129 * STATURE, 0.288 * STATURE
GRIP = (0.186 + 0.146 + 0.054) * STATURE
LEAN, TWIST = 25.0, 45.0
BEHIND, ACROSS, BACK = 50.0, 45.0, 20.0 / 45.0


def shoulders(twists, leans, towards):
    """Positions from the hip, for arrays of degrees of one shape; own side positive."""
    shape = twists.shape
    t, l, f = (np.ravel(a) for a in (twists, leans, towards))
    upright = np.tile([0.0, HALF, TRUNK], (t.size, 1))
    twisted = Rotation.from_euler("z", t[:, None], degrees=True).apply(upright)
    axis = np.stack([-np.sin(np.radians(f)), np.cos(np.radians(f)), np.zeros(f.size)], axis=1)
    leant = Rotation.from_rotvec(axis * np.radians(l)[:, None]).apply(twisted)
    return leant.reshape(shape + (3,))


def faces(point, twists):
    """Whether the arm of the twisted trunk works toward the point."""
    x, y = point[0], point[1] - HALF
    flat, bearing = np.hypot(x, y), np.degrees(np.arctan2(y, x))
    turn = bearing - twists
    back = np.maximum(twists, 0.0) * BACK
    hind = flat * np.cos(np.radians(turn - back)) >= -BEHIND - 1e-6
    across = flat * np.cos(np.radians(turn - (90.0 - ACROSS))) >= -BEHIND - 1e-6
    return hind & across


def grid(centre, half, counts):
    """Twists, leans, directions around a centre, within the limits."""
    bounds = [(-TWIST, TWIST), (0.0, LEAN), (-90.0, 90.0)]
    axes = [
        np.unique(np.clip(np.linspace(c - h, c + h, n), low, high))
        for c, h, n, (low, high) in zip(centre, half, counts, bounds)
    ]
    return np.meshgrid(*axes, indexing="ij")


def scan(point, score):
    """The least score over all postures: a coarse scan, then finer ones around the best three."""
    def best(twists, leans, towards, keep):
        distance = np.linalg.norm(shoulders(twists, leans, towards) - point, axis=-1)
        value = np.where(faces(point, twists), score(distance, twists, leans), np.inf)
        order = np.argsort(value, axis=None)[:keep]
        flat = [np.ravel(a)[order] for a in (twists, leans, towards)]
        return np.ravel(value)[order], np.stack(flat, axis=1)

    values, places = best(*grid((0.0, 12.5, 0.0), (45.0, 12.5, 90.0), (46, 26, 61)), 400)
    found = (values[0], places[0])
    # The coarse bests lie side by side: take some that are apart.
    starts = []
    for place in places:
        if all(np.abs(place - other).max() > 6.0 for other in starts):
            starts.append(place)
    for start in starts[:3]:
        centre, half = start, np.array([2.0, 1.0, 3.0])
        for _ in range(14):
            v, p = best(*grid(centre, half, (13, 13, 13)), 1)
            if v[0] < found[0]:
                found = (v[0], p[0])
            if np.isfinite(v[0]):
                centre = p[0]
            half = half * 0.55
    return found


def hand(point):
    """Gap with all that is allowed, mm, and the least effort where it touches."""
    gap, place = scan(point, lambda d, t, l: d - GRIP)
    if not np.isfinite(gap):
        return {"gap_mm": None, "effort": None}
    upright = np.linalg.norm(point - [0.0, HALF, TRUNK]) <= GRIP and bool(faces(point, np.zeros(1))[0])
    if upright:
        return {"gap_mm": float(gap), "effort": 0.0}
    if gap > -2.0:
        # At the very edge a grid finds the effort badly: only the gap is compared.
        return {"gap_mm": float(gap), "effort": None}
    effort, _ = scan(point, lambda d, t, l: np.where(d <= GRIP, l / LEAN + np.abs(t) / TWIST, np.inf))
    return {"gap_mm": float(gap), "effort": float(effort) if np.isfinite(effort) else None}


def main():
    low, high = np.array([-700.0, -900.0, -200.0]), np.array([1200.0, 900.0, 900.0])
    points = qmc.scale(qmc.Sobol(3, seed=7).random(64), low, high).round(1)
    cases = []
    for point in points:
        own, other = hand(point), hand(point * [1.0, -1.0, 1.0])
        cases.append({"point": point.tolist(), "port": own, "starboard": other})
    print(json.dumps({"stature_mm": STATURE, "cases": cases}, indent=1))


main()
