"""Compares parallels of closed profiles with regions that shapely finds.

Usage: parallel_against_shapely.py CASES.json RESULTS.json

CASES.json: a list of {"distance": mm to the left, "source": [[x, y]...],
"chains": [[[x, y]...]...]}. The sources are simple, closed and anticlockwise.

Each is compared twice. "buffer": with shapely's buffer of the source, which is
good to a hundredth of the distance only, as GEOS first takes shallow vertices
out of a concave stretch (simplification factor 0.01 in its BufferParameters).
"strips": with the source plus or minus the union of a strip along every edge and
a wedge at every outer vertex, which has no such error.

RESULTS.json: for each case and region the area, the area of the symmetric
difference, the Hausdorff distance of the borders, their length, and the number
of loops that are not specks.
"""

import json
import math
import sys

from shapely.geometry import LinearRing, MultiLineString, Polygon
from shapely.ops import unary_union

# 25 mm * (1 - cos(pi / 4 / 512)) is 0.00003 mm, finer than the polylines.
SEGMENTS_A_QUARTER = 512
# A loop of less area than this is a speck about a pinch: 0.1 mm by 0.1 mm.
SPECK_MM2 = 0.01
# Neighbouring strips and wedges overlap by this, lest rounding leave cracks.
OVERLAP_MM = 1e-5


def region_of(chains):
    """The region whose border is the loops: holes come out by taking differences."""
    region = Polygon()
    for chain in chains:
        region = region.symmetric_difference(Polygon(chain).buffer(0))
    return region


def loops_of(region):
    parts = getattr(region, "geoms", [region])
    rings = [ring for part in parts if not part.is_empty for ring in [part.exterior, *part.interiors]]
    return [ring for ring in rings if Polygon(ring).area > SPECK_MM2]


def by_buffer(source, distance):
    # Shapely's buffer grows outward for a positive distance; left is inward here.
    return Polygon(source).buffer(-distance, resolution=SEGMENTS_A_QUARTER, join_style=1)


def wedge(p, before, after, distance):
    """The sector about a vertex between two edges' normals, None at an inner one."""
    turn = math.remainder(after - before, 2 * math.pi)
    if turn * distance >= 0:
        return None
    overlap = math.copysign(OVERLAP_MM / abs(distance), turn)
    first, span = before + math.pi / 2 - overlap, turn + 2 * overlap
    steps = max(1, math.ceil(abs(span) / (math.pi / 2) * SEGMENTS_A_QUARTER))
    angles = [first + span * k / steps for k in range(steps + 1)]
    return Polygon([p] + [(p[0] + distance * math.cos(a), p[1] + distance * math.sin(a)) for a in angles])


def strip(p, q, course, distance):
    """A rectangle from the edge to the distance, run over at the other three sides."""
    along = (math.cos(course) * OVERLAP_MM, math.sin(course) * OVERLAP_MM)
    near, far = -math.copysign(OVERLAP_MM, distance), distance
    corners = [(p, -1, near), (q, 1, near), (q, 1, far), (p, -1, far)]
    return Polygon(
        [
            (c[0] + sign * along[0] - h * math.sin(course), c[1] + sign * along[1] + h * math.cos(course))
            for c, sign, h in corners
        ]
    )


def by_strips(source, distance):
    edges = list(zip(source[:-1], source[1:]))
    courses = [math.atan2(q[1] - p[1], q[0] - p[0]) for p, q in edges]
    parts = [strip(p, q, course, distance) for (p, q), course in zip(edges, courses)]
    parts += [wedge(edges[k][0], courses[k - 1], courses[k], distance) for k in range(len(edges))]
    band = unary_union([part for part in parts if part is not None])
    return Polygon(source).difference(band) if distance > 0 else Polygon(source).union(band)


def compared(found, chains, wanted):
    wanted_loops = loops_of(wanted)
    hausdorff = 0.0
    if wanted_loops and chains:
        ours = MultiLineString([LinearRing(chain) for chain in chains])
        hausdorff = ours.hausdorff_distance(MultiLineString(wanted_loops))
    return {
        "area_mm2": wanted.area,
        "difference_mm2": wanted.symmetric_difference(found).area,
        "hausdorff_mm": hausdorff,
        "border_mm": wanted.length,
        "wanted_loops": len(wanted_loops),
        "found_loops": len(chains),
    }


def compare(case):
    chains = [chain for chain in case["chains"] if Polygon(chain).area > SPECK_MM2]
    found = region_of(chains)
    ways = {"buffer": by_buffer, "strips": by_strips}
    return {name: compared(found, chains, way(case["source"], case["distance"])) for name, way in ways.items()}


def main(cases_path, results_path):
    with open(cases_path, encoding="utf-8") as file:
        cases = json.load(file)
    with open(results_path, "w", encoding="utf-8") as file:
        json.dump([compare(case) for case in cases], file)


if __name__ == "__main__":
    main(*sys.argv[1:])
