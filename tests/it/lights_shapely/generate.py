"""Writes expected.json: sectors hidden by boxes and posts, found with shapely and nothing of the program.

A body is its footprint between two heights, a lamp a point. Level around the lamp is a plane that rises by
(gx, gy) per mm. A bearing is hidden where the ray in the footprint meets, at some distance r, heights between the
cones: low <= z + r (rise + k) and high >= z + r (rise - k) with k = tan 5. Each ray of a fan is cut with the
footprint by shapely's intersection; the ends of a sector are found by halving between two rays. Footprints of
posts are buffers of 4096 corners. Run in this folder:
pip install shapely==2.2.0  then:  python3 generate.py
"""

import json
import math
import random

from shapely import affinity
from shapely.geometry import LineString, Point, box

FAN = 2880
K = math.tan(math.radians(5.0))


def footprint(body):
    if body["shape"] == "post":
        return Point(body["x"], body["y"]).buffer(body["a"] / 2, quad_segs=1024)
    half = (body["a"] / 2, body["b"] / 2)
    flat = box(body["x"] - half[0], body["y"] - half[1], body["x"] + half[0], body["y"] + half[1])
    return affinity.rotate(flat, body["turn"], origin=(body["x"], body["y"]))


def hides(case, flat, bearing):
    angle = -math.radians(bearing)
    way = (math.cos(angle), math.sin(angle))
    lamp = case["lamp"]
    far = 20000.0
    ray = LineString([(lamp[0], lamp[1]), (lamp[0] + far * way[0], lamp[1] + far * way[1])])
    cut = ray.intersection(flat)
    if cut.is_empty or cut.geom_type == "Point":
        return False
    ends = [Point(lamp[0], lamp[1]).distance(Point(end)) for end in cut.coords]
    near, away = min(ends), max(ends)
    rise = case["slope"][0] * way[0] + case["slope"][1] * way[1]
    low, high = case["body"]["low"] - lamp[2], case["body"]["high"] - lamp[2]
    # Both conditions are straight lines in r: the set is an interval, cut down by each.
    for slope, height in ((rise + K, low), (K - rise, -high)):
        if slope > 0:
            near = max(near, height / slope)
        elif slope < 0:
            away = min(away, height / slope)
        elif height > 0:
            return False
    return near <= away


def sectors(case):
    flat = footprint(case["body"])
    lit = [hides(case, flat, i * 360 / FAN) for i in range(FAN)]
    if all(lit):
        return [[0.0, 360.0]]
    edges = []
    for i in range(FAN):
        if lit[i] != lit[(i + 1) % FAN]:
            a, b = i * 360 / FAN, (i + 1) * 360 / FAN
            for _ in range(40):
                middle = (a + b) / 2
                if hides(case, flat, middle) == lit[i]:
                    a = middle
                else:
                    b = middle
            edges.append((a, not lit[i]))
    starts = [bearing for bearing, begins in edges if begins]
    ends = [bearing for bearing, begins in edges if not begins]
    return sorted([start, min((e - start) % 360 for e in ends)] for start in starts)


def body(rng):
    shape = rng.choice(["post", "box"])
    low = rng.uniform(0, 900)
    return {
        "shape": shape, "x": rng.uniform(-1800, 1800), "y": rng.uniform(-400, 400),
        "a": rng.uniform(30, 600), "b": rng.uniform(30, 600), "turn": rng.choice([0, 0, 30, 45, 110]),
        "low": low, "high": low + rng.uniform(20, 900),
    }


def main():
    rng = random.Random(7)
    cases = []
    while len(cases) < 120:
        case = {
            "lamp": [rng.uniform(-300, 300), rng.uniform(-300, 300), rng.uniform(300, 1500)],
            "slope": [0.0, 0.0] if len(cases) % 3 == 0 else [rng.uniform(-0.05, 0.05), rng.uniform(-0.07, 0.07)],
            "body": body(rng),
        }
        case["hidden"] = sectors(case)
        # Half of what is kept hides something.
        if case["hidden"] or len(cases) % 4 == 0:
            cases.append(case)
    with open("expected.json", "w", encoding="utf-8") as out:
        json.dump({"cases": cases}, out, indent=1)
        out.write("\n")


main()
