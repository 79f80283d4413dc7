"""Writes expected.json: how bodies float by general libraries, to compare with the program's own sums.

The body is built here from the sections, cut with trimesh (slice_mesh_plane) and balanced with scipy
(fsolve). Nothing is shared with the program but the sections. Run in this folder:  pip install trimesh==5.2.0 scipy==1.17.1 numpy==2.4.6
then:  python3 generate.py
"""

import json
import math
import re
from pathlib import Path

import numpy as np
import scipy
import trimesh
from scipy.optimize import fsolve

FRESH = 1000.0


def shipped(key):
    text = (Path(__file__).parents[3] / "assets/hulls" / f"{key}.ron").read_text()
    form = text[text.index("form:"):]
    form = form[: form.index("],\n        mass")]
    sections = []
    for x, points in re.findall(r"x_mm: *(-?[\d.]+), points_mm: \[(.*?)\]\)", form):
        pairs = re.findall(r"\((-?[\d.]+), *(-?[\d.]+)\)", points)
        sections.append((float(x), [(float(y), float(z)) for y, z in pairs]))
    return sections


def wigley():
    length, beam, draft, depth = 4000.0, 900.0, 150.0, 350.0
    sections = []
    for x in np.linspace(-0.5, 0.5, 21):
        points = []
        for z in np.linspace(-1.0, 0.0, 13):
            y = beam / 2 * max(0.0, 1 - (2 * x) ** 2) * (1 - z * z)
            points.append((round(float(y), 6), round(float((z + 1) * draft), 6)))
        points.append((points[-1][0], depth))
        sections.append((round(float((x + 0.5) * length), 6), points))
    return sections


def round_bottomed():
    sections = []
    for s in np.linspace(0.0, 1.0, 15):
        radius = 380.0 * (1 - abs(2 * s - 1) ** 2.5) + 20.0
        rise = 60.0 * abs(2 * s - 1) ** 2
        points = []
        for angle in np.linspace(0.0, math.pi / 2, 10):
            points.append((round(radius * math.sin(angle), 6), round(rise + 220.0 * (1 - math.cos(angle)), 6)))
        points.append((points[-1][0] + 12.0, 330.0 + rise))
        sections.append((round(3400.0 * float(s), 6), points))
    return sections


def pontoon():
    sections = []
    for s in np.linspace(0.0, 1.0, 11):
        full = 1 - abs(2 * s - 1) ** 4
        rise = 40.0 * (1 - full)
        w = 60.0 + 140.0 * full
        inner = 110.0
        points = [(0.0, 160.0), (inner, 150.0 + rise / 2), (inner + 0.1 * w, rise + 40.0), (inner + 0.5 * w, rise),
                  (inner + w, rise + 60.0), (inner + w + 25.0, 300.0)]
        sections.append((round(3200.0 * float(s), 6), [(round(y, 6), round(z, 6)) for y, z in points]))
    return sections


def mesh(sections):
    """Skin patches in four triangles about the mean of their corners; deck and ends from the outline."""
    vertices, faces = [], []

    def patch(a, b, c, d):
        start = len(vertices)
        vertices.extend([a, b, c, d, (np.array(a) + b + c + d) / 4])
        for i in range(4):
            faces.append([start + i, start + (i + 1) % 4, start + 4])

    for (x0, aft), (x1, fore) in zip(sections, sections[1:]):
        ring0 = [(x0, y, z) for y, z in aft] + [(x0, -y, z) for y, z in reversed(aft)]
        ring1 = [(x1, y, z) for y, z in fore] + [(x1, -y, z) for y, z in reversed(fore)]
        for i in range(len(ring0)):
            j = (i + 1) % len(ring0)
            patch(ring0[i], ring0[j], ring1[j], ring1[i])
    for (x, points), flip in ((sections[0], True), (sections[-1], False)):
        for (y0, z0), (y1, z1) in zip(points, points[1:]):
            quad = [(x, -y0, z0), (x, y0, z0), (x, y1, z1), (x, -y1, z1)]
            patch(*(reversed(quad) if flip else quad))
    made = trimesh.Trimesh(np.array(vertices, dtype=float), faces, process=False)
    made.merge_vertices(digits_vertex=9)
    made.update_faces(made.nondegenerate_faces(height=1e-9))
    made.remove_unreferenced_vertices()
    assert made.is_watertight and made.volume > 0, (made.is_watertight, made.volume)
    return made


def frame(heel, trim):
    """Columns: boat axes as seen level. Heel about x first, then trim about y."""
    ch, sh, ct, st = math.cos(heel), math.sin(heel), math.cos(trim), math.sin(trim)
    rx = np.array([[1, 0, 0], [0, ch, -sh], [0, sh, ch]])
    ry = np.array([[ct, 0, st], [0, 1, 0], [-st, 0, ct]])
    return ry @ rx


def wet(body, turn, level):
    """Volume and centre under water, in level axes."""
    up = turn[2]
    cut = trimesh.intersections.slice_mesh_plane(body, -up, up * level, cap=False)
    # The lid adds nothing when the sums are taken from a point in the plane.
    tri = cut.triangles - up * level
    six = np.einsum("ij,ij->i", tri[:, 0], np.cross(tri[:, 1], tri[:, 2]))
    volume = six.sum() / 6
    centre = (six[:, None] * tri.sum(axis=1)).sum(axis=0) / 24 / volume + up * level
    return volume, turn @ centre


def solve(body, mass, centre, heel=None):
    target = mass / FRESH * 1e9
    low, high = body.bounds[:, 2]
    area = np.ptp(body.bounds[:, 0]) * np.ptp(body.bounds[:, 1])

    def residual(v):
        level, trim = v[0] * 100, v[1]
        turn = frame(heel if heel is not None else v[2], trim)
        volume, b = wet(body, turn, level)
        g = turn @ centre
        out = [(volume - target) / area / 10, (b[0] - g[0]) / 1000]
        return out if heel is not None else out + [(b[1] - g[1]) / 100]

    best = None
    for start in (0.1, 0.25, 0.4, 0.6, 0.02):
        guess = [(low + start * (high - low)) / 100 * math.cos(heel or 0.0), 0.0] + ([] if heel is not None else [0.0])
        try:
            found, info, ok, _ = fsolve(residual, guess, xtol=1e-12, full_output=True)
        except (ValueError, ZeroDivisionError, IndexError):
            continue
        worst = float(np.abs(info["fvec"]).max())
        if worst < 1e-8 and abs(found[1]) < 0.5:
            best = (found, worst)
            break
    assert best, (mass, centre, heel)
    level, trim = best[0][0] * 100, best[0][1]
    at = heel if heel is not None else best[0][2]
    turn = frame(at, trim)
    _, b = wet(body, turn, level)
    g = turn @ centre
    up = turn[2]
    ends = body.bounds[:, 0]
    draft = [(level - up[0] * x) / up[2] for x in ends]
    buoyancy = turn.T @ b
    return {
        "heel_deg": math.degrees(at), "trim_deg": math.degrees(trim),
        "draft_aft_mm": draft[0], "draft_fore_mm": draft[1],
        "buoyancy_mm": [float(v) for v in buoyancy],
        "gz_mm": float(g[1] - b[1]),
    }


def main():
    bodies = {"wigley": wigley(), "round-bottomed": round_bottomed(), "pontoon": pontoon()}
    for key in ("angler-10", "angler-11", "compact-9", "pedal-13", "sea-13", "standup-12"):
        bodies[key] = shipped(key)
    out = {"trimesh": trimesh.__version__, "scipy": scipy.__version__, "numpy": np.__version__, "bodies": []}
    for name, sections in bodies.items():
        body = mesh(sections)
        ends = body.bounds[:, 0]
        middle = ends.mean()
        cases = []
        for mass, dx, y, z in ((90, 0, 0, 150), (140, -60, 12, 260), (160, 90, -25, 220), (120, -150, 35, 180)):
            centre = np.array([middle + dx, y, z], dtype=float)
            case = {"mass_kg": mass, "centre_mm": centre.tolist(), "rest": solve(body, mass, centre), "held": []}
            for heel in (10, 25, 40, 60):
                case["held"].append(solve(body, mass, centre, math.radians(heel)))
            cases.append(case)
        entry = {"name": name, "volume_mm3": float(body.volume), "cases": cases}
        entry["sections"] = [{"x_mm": x, "points_mm": points} for x, points in sections]
        out["bodies"].append(entry)
        print(name, len(body.faces), "triangles")
    Path(__file__).with_name("expected.json").write_text(json.dumps(out, indent=1) + "\n")


if __name__ == "__main__":
    main()
