"""Ways along the channels of a spec: where places join them, the shortest way between two, and what lies side by side.

A place joins the nearest point of any channel, at most 1 m from its middle; two places no farther apart are joined
straight. Points that several channels have in common join them.
"""

import heapq
import math
from collections import defaultdict

REACH = 1.0


def metres(entry):
    """Lengths of a field as numbers: three of them, or a list of such."""
    (kind, inside), = entry["value"].items()
    if kind == "points":
        return [[length["value"] for length in point["value"]] for point in inside]
    return [length["value"]["value"] for length in inside]


class Routes:
    def __init__(self, spec):
        self.middles, self.joins, self.edges = {}, {}, defaultdict(list)
        for name, place in spec["places"].items():
            fields = place["fields"]
            if "at" in fields:
                at = metres(fields["at"])
                height = metres(fields["size"])[2] if "size" in fields else 0.0
                self.middles[name] = (at[0], at[1], at[2] + height / 2)
        lines = []
        for name, channel in (spec.get("channels") or {}).items():
            points = [tuple(p) for p in metres(channel["fields"]["points"])] if "points" in channel["fields"] else []
            lines += [(name, a, b, []) for a, b in zip(points, points[1:])]
        for place, middle in self.middles.items() if lines else ():
            feet = [(math.dist(middle, foot(middle, a, b)), at) for at, (_, a, b, _) in enumerate(lines)]
            off, at = min(feet)
            if off <= REACH:
                point = foot(middle, lines[at][1], lines[at][2])
                lines[at][3].append(point)
                self.joins[place] = (node(point), off)
        for channel, a, b, feet in lines:
            stops = [a, *sorted(feet, key=lambda p: math.dist(a, p)), b]
            for one, other in zip(stops, stops[1:]):
                if node(one) != node(other):
                    edge = (math.dist(one, other), channel)
                    self.edges[node(one)].append((*edge, node(other)))
                    self.edges[node(other)].append((*edge, node(one)))

    def way(self, a, b):
        """Length and pieces of the way between two places; no pieces where it is straight; `None` where there is none."""
        if a in self.middles and b in self.middles:
            straight = math.dist(self.middles[a], self.middles[b])
            if straight <= REACH:
                return straight, []
        if a not in self.joins or b not in self.joins:
            return None
        (start, off), (goal, on) = self.joins[a], self.joins[b]
        heap, best, before = [(0.0, start)], {start: 0.0}, {}
        while heap:
            length, at = heapq.heappop(heap)
            if at == goal:
                break
            for step, channel, to in self.edges[at]:
                if length + step < best.get(to, math.inf) - 1e-12:
                    best[to], before[to] = length + step, at
                    heapq.heappush(heap, (best[to], to))
        if goal not in best:
            return None
        pieces, at = [], goal
        while at != start:
            pieces.append(frozenset((at, before[at])))
            at = before[at]
        return off + best[goal] + on, pieces


def foot(point, a, b):
    whole = sum((b[k] - a[k]) ** 2 for k in range(3))
    along = sum((point[k] - a[k]) * (b[k] - a[k]) for k in range(3))
    share = min(max(along / whole, 0.0), 1.0) if whole else 0.0
    return tuple(a[k] + (b[k] - a[k]) * share for k in range(3))


def node(point):
    return tuple(round(c * 1000) for c in point)
