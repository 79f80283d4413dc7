"""Writes expected.json: where straight lines meet boxes and cylinders by a general ray caster.

Bodies are meshes of trimesh (box, cylinder of 4096 sides), lines are cast with its ray caster; of a segment only what
lies between its ends counts. Nothing is shared with the program but the numbers of bodies and lines. Run in this folder:
pip install trimesh==5.2.0 numpy==2.4.6 rtree==1.4.1    then:  python3 generate.py
"""

import json
import math
from pathlib import Path

import numpy as np
import trimesh

rng = np.random.default_rng(20)


def body(kind):
    middle = [float(v) for v in rng.uniform((300, -300, 100), (900, 300, 500))]
    if kind == "box":
        size = [float(v) for v in rng.uniform(20, 300, 3)]
        turn = float(rng.uniform(0, 360))
        mesh = trimesh.creation.box(extents=size)
        mesh.apply_transform(trimesh.transformations.rotation_matrix(math.radians(turn), (0, 0, 1)))
        given = {"size": size, "turn": turn}
    else:
        radius, height = float(rng.uniform(10, 120)), float(rng.uniform(50, 500))
        mesh = trimesh.creation.cylinder(radius=radius, height=height, sections=4096)
        given = {"radius": radius, "height": height}
    mesh.apply_translation(middle)
    return mesh, {"kind": kind, "middle": middle, **given}


def cast(mesh, start, end):
    way = np.array(end) - np.array(start)
    length = float(np.linalg.norm(way))
    caster = trimesh.ray.ray_triangle.RayMeshIntersector(mesh)
    at, _, _ = caster.intersects_location([start], [way / length], multiple_hits=True)
    shares = sorted(float(np.linalg.norm(p - np.array(start))) / length for p in at)
    if not shares or shares[0] >= 1:
        return None
    return [shares[0], min(shares[-1], 1.0)]


cases = []
for number in range(40):
    mesh, given = body("box" if number % 2 else "cylinder")
    lines = []
    for aim in range(12):
        start = [float(v) for v in rng.uniform((-200, -200, 500), (0, 200, 900))]
        target = np.array(given["middle"]) + rng.normal(0, 90, 3)
        end = [float(v) for v in np.array(start) + (target - np.array(start)) * float(rng.uniform(0.7, 1.6))]
        lines.append({"from": start, "to": end, "pierced": cast(mesh, start, end)})
    cases.append({**given, "lines": lines})

hits = sum(line["pierced"] is not None for case in cases for line in case["lines"])
out = {"trimesh": trimesh.__version__, "numpy": np.__version__, "hits": hits, "cases": cases}
Path("expected.json").write_text(json.dumps(out, indent=1) + "\n")
print(hits, "hits of", sum(len(case["lines"]) for case in cases))
