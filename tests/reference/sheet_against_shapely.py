"""Area moments of sheets by shapely.

Usage: sheet_against_shapely.py CASES.json RESULTS.json

CASES.json: a list of {"line": [[x, y]...], "left": [mm...], "right": [mm...]}: a fine polyline and how far the two
faces lie to its left at each of its points, left above right.

The region is put together from what is surely in it: for each chord the quadrilateral between its two faces, and at
each corner the sectors that the faces go round it by. Shapely unites them. The moments are those of the united
polygon, cut into triangles about its own centroid.

RESULTS.json: for each case the area, the centroid and the second moments about it: xx of y², yy of x², xy.
"""

import json
import math
import sys

from shapely.geometry import Polygon
from shapely.geometry.polygon import orient
from shapely.ops import unary_union

# Lest rounding leave cracks between neighbours.
OVERLAP_MM = 1e-7
SECTOR_STEPS = 48


def unit(p, q):
    length = math.dist(p, q)
    return ((q[0] - p[0]) / length, (q[1] - p[1]) / length)


def face(p, u, distance):
    return (p[0] - distance * u[1], p[1] + distance * u[0])


def chord(p, q, left, right):
    u = unit(p, q)
    a = (p[0] - OVERLAP_MM * u[0], p[1] - OVERLAP_MM * u[1])
    b = (q[0] + OVERLAP_MM * u[0], q[1] + OVERLAP_MM * u[1])
    ring = [face(a, u, right[0]), face(b, u, right[1]), face(b, u, left[1]), face(a, u, left[0])]
    return Polygon(ring).buffer(0)


def sector(p, before, after, distance):
    """Between the two normals at a corner, where the face goes round it."""
    turn = math.atan2(before[0] * after[1] - before[1] * after[0], before[0] * after[0] + before[1] * after[1])
    if turn * distance >= 0 or abs(turn) < 1e-12:
        return None
    start = math.atan2(before[1], before[0])
    steps = max(1, math.ceil(SECTOR_STEPS * abs(turn)))
    arc = [start + turn * k / steps for k in range(steps + 1)]
    return Polygon([p] + [face(p, (math.cos(a), math.sin(a)), distance) for a in arc]).buffer(OVERLAP_MM, 1)


def region(case):
    line, left, right = case["line"], case["left"], case["right"]
    parts = [chord(line[i], line[i + 1], left[i : i + 2], right[i : i + 2]) for i in range(len(line) - 1)]
    for i in range(1, len(line) - 1):
        before, after = unit(line[i - 1], line[i]), unit(line[i], line[i + 1])
        parts += [s for d in (left[i], right[i]) if d != 0 and (s := sector(line[i], before, after, d))]
    return unary_union(parts)


def sums(ring, base):
    area = xx = yy = xy = 0.0
    for (ax, ay), (bx, by) in zip(ring[:-1], ring[1:]):
        ax, ay, bx, by = ax - base[0], ay - base[1], bx - base[0], by - base[1]
        cross = ax * by - bx * ay
        area += cross / 2
        xx += cross / 12 * (ay * ay + ay * by + by * by)
        yy += cross / 12 * (ax * ax + ax * bx + bx * bx)
        xy += cross / 24 * (ax * by + 2 * ax * ay + 2 * bx * by + bx * ay)
    return area, xx, yy, xy


def moments(shape):
    centroid = (shape.centroid.x, shape.centroid.y)
    total = [0.0, 0.0, 0.0, 0.0]
    for part in getattr(shape, "geoms", [shape]):
        part = orient(part)
        for ring in [part.exterior, *part.interiors]:
            total = [t + s for t, s in zip(total, sums(list(ring.coords), centroid))]
    return {"area": shape.area, "x": centroid[0], "y": centroid[1], "xx": total[1], "yy": total[2], "xy": total[3]}


def main(cases_path, results_path):
    with open(cases_path, encoding="utf-8") as file:
        cases = json.load(file)
    with open(results_path, "w", encoding="utf-8") as file:
        json.dump([moments(region(case)) for case in cases], file)


if __name__ == "__main__":
    main(*sys.argv[1:])
