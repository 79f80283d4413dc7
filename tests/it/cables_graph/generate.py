"""Writes expected.json: the shortest ways of cables through a box of a hull, found by networkx.

The box is 3600 x 800 mm, its deck flat at 300 mm. Inside, blocks of foam stand from bottom to deck: a visibility graph of
their corners, 10 mm off both faces, gives the shortest way in plan, which rises evenly. On deck a leg is straight. A
layered graph of the ports (which have been passed of those that must be, in order) joins the two rooms, with every leg
measured beforehand; a way never goes straight back through the port by which it came. Nothing is shared with the program
but these rules. Run in this folder:
pip install networkx==3.6.1  then:  python3 generate.py
"""

import itertools
import json
import math
import random

import networkx as nx

LONG, HALF, DECK, BOTTOM, CLEAR = 3600.0, 400.0, 300.0, 6.0, 10.0
random.seed(20261125)


def inside_block(spot, block, more=0.0):
    x, y, length, width = block
    return abs(spot[0] - x) < length / 2 + more and abs(spot[1] - y) < width / 2 + more


def passes_through(a, b, block):
    """Whether a segment has a piece within a block (slab method)."""
    first, last = 0.0, 1.0
    for axis, half in ((0, block[2] / 2), (1, block[3] / 2)):
        low, high = block[axis] - half, block[axis] + half
        start, way = a[axis], b[axis] - a[axis]
        if abs(way) < 1e-12:
            if start <= low or start >= high:
                return False
            continue
        near, far = sorted(((low - start) / way, (high - start) / way))
        first, last = max(first, near), min(last, far)
    return last - first > 1e-9


def flat(a, b, blocks):
    """Length of the shortest way in plan between two spots round the blocks; infinite when there is none."""
    spots = [a, b]
    for x, y, length, width in blocks:
        for sx, sy in itertools.product((-1, 1), repeat=2):
            corner = (x + sx * (length / 2 + CLEAR), y + sy * (width / 2 + CLEAR))
            in_hull = 0 <= corner[0] <= LONG and abs(corner[1]) <= HALF
            if in_hull and not any(inside_block(corner, other) for other in blocks):
                spots.append(corner)
    seen = nx.Graph()
    seen.add_nodes_from(range(len(spots)))
    for i, j in itertools.combinations(range(len(spots)), 2):
        if not any(passes_through(spots[i], spots[j], block) for block in blocks):
            seen.add_edge(i, j, weight=math.dist(spots[i], spots[j]))
    try:
        return nx.dijkstra_path_length(seen, 0, 1)
    except nx.NetworkXNoPath:
        return math.inf


def leg(room, a, b, blocks):
    if room == "deck":
        return math.dist(a, b)
    return math.hypot(flat(a[:2], b[:2], blocks), a[2] - b[2])


def shortest(case):
    ports = [(x, y, DECK) for x, y in case["ports"]]
    ends = [(*spot, DECK if room == "deck" else BOTTOM) for room, *spot in (case["from"], case["to"])]
    other = {"deck": "inside", "inside": "deck"}
    # A state: the port just passed, the room behind it, how many that must be passed are behind.
    start, goal = ("start", case["from"][0], 0), ("goal", case["to"][0], len(case["via"]))
    states = [(n, room, k) for n in range(len(ports)) for room in other for k in range(len(case["via"]) + 1)]
    net = nx.DiGraph()
    net.add_nodes_from([start, goal])
    known = {}
    for state in [start, *states]:
        port, room, passed = state
        here = ends[0] if port == "start" else ports[port]

        def to(there, name):
            key = (room, *sorted((here, there)))
            if key not in known:
                known[key] = leg(room, here, there, case["blocks"])
            if math.isfinite(known[key]):
                net.add_edge(state, name, weight=known[key])

        for n, there in enumerate(ports):
            if n != port:
                met = passed < len(case["via"]) and case["via"][passed] == n
                to(there, (n, other[room], passed + met))
        if (room, passed) == goal[1:]:
            to(ends[1], goal)
    try:
        return nx.dijkstra_path_length(net, start, goal)
    except nx.NetworkXNoPath:
        return None


def spot_clear_of(blocks):
    while True:
        spot = (round(random.uniform(60, 3540), 1), round(random.uniform(-380, 380), 1))
        if not any(inside_block(spot, block, CLEAR + 5) for block in blocks):
            return spot


def made(number):
    blocks = []
    for _ in range(number % 5):
        # Some reach from side to side; some overlap each other.
        width = 790.0 if random.random() < 0.2 else round(random.uniform(80, 500), 1)
        y = 0.0 if width == 790.0 else round(random.uniform(-200, 200), 1)
        blocks.append((round(random.uniform(300, 3300), 1), y, round(random.uniform(60, 500), 1), width))
    rooms = [("inside", "deck"), ("inside", "inside"), ("deck", "deck")][number % 3]
    ports = [spot_clear_of(blocks) for _ in range(random.randint(1, 5))]
    via = random.sample(range(len(ports)), min(len(ports), [0, 0, 1, 2][number % 4]))
    ends = [(room, *spot_clear_of(blocks)) for room in rooms]
    case = {"from": ends[0], "to": ends[1], "ports": ports, "blocks": blocks, "via": via}
    return {**case, "length_mm": shortest(case)}


cases = [made(number) for number in range(60)]
with open("expected.json", "w") as file:
    head = json.dumps({"networkx": nx.__version__})
    rows = ",\n".join(f"  {json.dumps(case)}" for case in cases)
    file.write(f'{{\n "versions": {head},\n "cases": [\n{rows}\n ]\n}}\n')
closed = sum(case["length_mm"] is None for case in cases)
print(len(cases), "cases,", closed, "without a way")
