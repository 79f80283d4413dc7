"""Writes expected.json: fullness and keel height fitted to marked waterlines by general libraries.

Bodies are built and cut as in ../float_mesh/generate.py (trimesh), the water's height for a mass is found with
scipy's brentq, the fit is scipy's least_squares with one residual a reading and two for what is believed
beforehand. Nothing is shared with the program but the sections. Run in this folder:
pip install trimesh==5.2.0 scipy==1.17.1 numpy==2.4.6 shapely==2.2.0  then:  python3 generate.py
"""

import json
import sys
from pathlib import Path

import numpy as np
import scipy
import trimesh
from scipy.optimize import brentq, least_squares

sys.path.insert(0, str(Path(__file__).parents[1] / "float_mesh"))
from generate import frame, mesh, shipped, wet  # noqa: E402

RHO = 999.10
HULL_KG = 30.0
SPREADS = np.array([0.05, 10.0])
MARK_MM = 3.0


def bend(sections, fullness, keel):
    out = []
    for x, points in sections:
        y, z = np.array(points, dtype=float).T
        beam = y.max()
        top, low = z[y == beam].max(), z.min()
        weight = np.clip((top - z) / (top - low), 0, 1)
        rise = np.clip(keel, -(top - low) / 2, (top - low) / 2)
        out.append((x, list(zip(np.minimum(y * (1 + (fullness - 1) * weight), beam), z + rise * weight))))
    return out


def height_aft(body, slope, mass):
    """Height over the baseline at the aft end, on the centreline, of the water that carries a mass at a slope."""
    turn = frame(0.0, np.arctan(slope))
    along = body.vertices @ turn[2]
    level = brentq(lambda v: wet(body, turn, v)[0] - mass / RHO * 1e9, along.min() + 0.01, along.max() - 0.01,
                   xtol=1e-11)
    return level / turn[2][2]


def fit(sections, lays):
    """Each lay: load and marks (x, height)."""
    lines = [np.polyfit(*np.array(marks, dtype=float).T, 1)[0] for _, marks in lays]

    def heights(p):
        body = mesh(bend(sections, 1 + p[0] * SPREADS[0], p[1] * SPREADS[1]))
        for (load, marks), slope in zip(lays, lines):
            aft = height_aft(body, slope, HULL_KG + load)
            yield [aft + slope * x for x, _ in marks]

    def residuals(p):
        off = [(h - mark[1]) / MARK_MM for hs, (_, marks) in zip(heights(p), lays) for h, mark in zip(hs, marks)]
        return np.array(off + list(p))

    # Two starts: the beam gives the sum of squares edges, at which a search may stop early.
    found = [least_squares(residuals, start, bounds=(-3, 3), xtol=1e-13, ftol=1e-13, gtol=1e-13, diff_step=1e-5)
             for start in ([0.1, 0.1], [-0.1, -0.1])]
    best = min(found, key=lambda r: r.cost)
    print("cost", [r.cost for r in found], best.x)
    return 1 + best.x[0] * SPREADS[0], best.x[1] * SPREADS[1], [h for hs in heights(best.x) for h in hs]


def main():
    cases = []
    for name, key, loads, offsets in (
        ("deeper", "angler-11", [(95.0, 0.004), (40.0, -0.003)], [(15, 11), (6, 9, 4)]),
        ("shallower", "pedal-13", [(120.0, 0.002), (60.0, 0.006)], [(-9, -12), (-7, -5)]),
        ("beyond belief", "compact-9", [(90.0, 0.003)], [(70, 66)]),
        ("contradictory", "sea-13", [(100.0, 0.003), (101.0, 0.002)], [(25, 25), (-14, -14)]),
    ):
        sections = shipped(key)
        tape = mesh(sections)
        length = float(tape.bounds[1, 0])
        stations = {2: [0.2, 0.8], 3: [0.15, 0.5, 0.85]}
        lays = []
        for (load, slope), offset in zip(loads, offsets):
            xs = [round(length * share) for share in stations[len(offset)]]
            aft = height_aft(tape, slope, HULL_KG + load)
            lays.append((load, [(x, round(aft + slope * x + off)) for x, off in zip(xs, offset)]))
        fullness, keel, heights = fit(sections, lays)
        marks = [{"load_kg": load, "x_mm": x, "height_mm": h} for load, at in lays for x, h in at]
        cases.append({"name": name, "hull": key, "marks": marks, "fullness": float(fullness), "keel_mm": float(keel),
                      "heights_mm": [float(h) for h in heights]})
        print(cases[-1])
    out = {"trimesh": trimesh.__version__, "scipy": scipy.__version__, "numpy": np.__version__, "cases": cases}
    Path(__file__).with_name("expected.json").write_text(json.dumps(out, indent=1) + "\n")


if __name__ == "__main__":
    main()
