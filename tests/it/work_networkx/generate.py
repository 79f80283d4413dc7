"""Writes expected.json: invented networks of tasks and their longest ways by networkx.

Each task is an edge from its begin to its end with its span as weight; what comes before is an edge of no weight from
end to begin. The longest way is networkx.dag_longest_path, circles are its strongly connected components. Nothing is
shared with the program. Run in this folder:
pip install networkx==3.6.1  then:  python3 generate.py
"""

import json
import random

import networkx as nx

assert nx.__version__ == "3.6.1"


def network(seed, tasks, chance):
    """A network without circles: a task waits for some of those before it in a shuffled order."""
    dice = random.Random(seed)
    shuffled = list(range(tasks))
    dice.shuffle(shuffled)
    spans = [round(dice.uniform(0.05, 72.0), 3) for _ in range(tasks)]
    before = [[] for _ in range(tasks)]
    for place, task in enumerate(shuffled):
        before[task] = sorted(other for other in shuffled[:place] if dice.random() < chance)
    return spans, before


def longest(spans, before):
    graph = nx.DiGraph()
    for task, span in enumerate(spans):
        graph.add_edge((task, 0), (task, 1), weight=span)
        for other in before[task]:
            graph.add_edge((other, 1), (task, 0), weight=0.0)
    path = nx.dag_longest_path(graph)
    critical = [task for task, side in path if side == 0]
    return nx.dag_longest_path_length(graph), critical


def circles(before):
    graph = nx.DiGraph()
    graph.add_nodes_from(range(len(before)))
    graph.add_edges_from((other, task) for task, others in enumerate(before) for other in others)
    rings = [sorted(ring) for ring in nx.strongly_connected_components(graph)]
    return sorted(ring for ring in rings if len(ring) > 1 or graph.has_edge(ring[0], ring[0]))


cases = []
for seed, (tasks, chance) in enumerate([(1, 0), (2, 1), (8, 0.3), (20, 0.1), (20, 0.6), (60, 0.05), (150, 0.02)]):
    spans, before = network(seed, tasks, chance)
    hours, critical = longest(spans, before)
    cases.append({"spans": spans, "before": before, "hours": hours, "critical": critical, "circles": []})
for seed, (tasks, chance, back) in enumerate([(3, 1, 1), (12, 0.3, 2), (40, 0.1, 4)], start=100):
    spans, before = network(seed, tasks, chance)
    dice = random.Random(seed)
    waiting = [task for task in range(tasks) if before[task]]
    for task in dice.sample(waiting, min(back, len(waiting))):
        before[dice.choice(before[task])].append(task)
    before[tasks - 1].append(tasks - 1)
    before = [sorted(set(others)) for others in before]
    cases.append({"spans": spans, "before": before, "hours": None, "critical": [], "circles": circles(before)})

with open("expected.json", "w") as file:
    json.dump({"networkx": nx.__version__, "cases": cases}, file, indent=1)
    file.write("\n")
