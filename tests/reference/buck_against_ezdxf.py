"""Reads the buck sheets and the table of mounts of a handover folder and compares
them with the job file.

usage: buck_against_ezdxf.py JOB FOLDER

Prints each difference; exit status 0 if there is none. The expected outlines are
made here from the nodes, radii and sheet alone: the straights shifted, met, and
rounded by the radius less or more the shift. Lengths and areas of the DXF are by
quadrature of what ezdxf reads.
"""

import csv
import json
import math
import pathlib
import sys

import ezdxf
import numpy
import shapely.geometry

from dxf_against_ezdxf import chain_length_and_area

TOLERANCE_MM = 0.001
CHORD_MM = 0.005  # of polygons, where shapely needs them
WARNING = "PART SIZE - NO SHRINKAGE, NO SKIN - DO NOT CUT A BUCK FROM THIS"
LAYERS = {"CUT_OUTSIDE", "ENGRAVE", "NOTE"}


def rounded_shifted(nodes, radii, right):
    """Length and area (positive) of the outline `right` of the straights, closed by a straight."""
    nodes = [numpy.array(p, float) for p in nodes]
    ways = [(b - a) / numpy.linalg.norm(b - a) for a, b in zip(nodes, nodes[1:])]
    shift = [right * numpy.array([w[1], -w[0]]) for w in ways]
    corners = [nodes[0] + shift[0]]
    for i in range(1, len(nodes) - 1):
        matrix = numpy.column_stack([ways[i - 1], -ways[i]])
        s, _ = numpy.linalg.solve(matrix, (nodes[i] + shift[i]) - (nodes[i] + shift[i - 1]))
        corners.append(nodes[i] + shift[i - 1] + s * ways[i - 1])
    corners.append(nodes[-1] + shift[-1])
    length = sum(numpy.linalg.norm(b - a) for a, b in zip(corners, corners[1:]))
    length += numpy.linalg.norm(corners[0] - corners[-1])
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, corners[1:] + corners[:1])) / 2
    for i in range(1, len(nodes) - 1):
        cross = ways[i - 1][0] * ways[i][1] - ways[i - 1][1] * ways[i][0]
        turn = math.atan2(cross, float(ways[i - 1] @ ways[i]))
        # To the right: a left turn's radius grows, a right turn's shrinks.
        radius = max(radii[i] + right * math.copysign(1, turn), 0)
        half = abs(turn) / 2
        length += radius * (abs(turn) - 2 * math.tan(half))
        area -= math.copysign(radius**2 * (math.tan(half) - half), turn)
    return length, abs(area), corners


def polygon(chain):
    points = []
    for part in chain.virtual_entities():
        if part.dxftype() == "LINE":
            own = [part.dxf.start, part.dxf.end]
        else:
            own = list(part.flattening(CHORD_MM))
        own = [(p.x, p.y) for p in own]
        if points and math.dist(points[-1], own[0]) > 1e-6:
            own.reverse()
        if points and math.dist(points[-1], own[0]) > 1e-6:
            points.reverse()
            if math.dist(points[-1], own[0]) > 1e-6:
                own.reverse()
        points += own
    return shapely.geometry.Polygon(points)


def text_box(text):
    """The box of a line of writing at one height for each letter: wider than any font of ours."""
    x, y, h = text.dxf.insert.x, text.dxf.insert.y, text.dxf.height
    return shapely.geometry.box(x, y, x + h * len(text.dxf.text), y + h)


def read(path, problems):
    document = ezdxf.readfile(path)
    audit = document.audit()
    problems += [f"{path.name}: {e.code} {e.message}" for e in audit.errors + audit.fixes]
    if document.units != ezdxf.units.MM or document.header["$INSUNITS"] != 4:
        problems.append(f"{path.name}: units {document.units}")
    entities = list(document.modelspace())
    if {e.dxf.layer for e in entities} != LAYERS:
        problems.append(f"{path.name}: layers {sorted({e.dxf.layer for e in entities})}")
    warnings = [e for e in entities if e.dxftype() == "TEXT" and e.dxf.text == WARNING]
    if [e.dxf.layer for e in warnings] != ["NOTE"]:
        problems.append(f"{path.name}: {len(warnings)} warnings")
    return entities


def check_writing(name, entities, ribs, problems):
    texts = [e for e in entities if e.dxftype() == "TEXT"]
    boxes = [text_box(t) for t in texts]
    lines = [shapely.geometry.LineString([(e.dxf.start.x, e.dxf.start.y), (e.dxf.end.x, e.dxf.end.y)])
             for e in entities if e.dxftype() == "LINE"]
    for i, box in enumerate(boxes):
        for k in range(i):
            if box.intersects(boxes[k]):
                problems.append(f"{name}: {texts[i].dxf.text!r} lies on {texts[k].dxf.text!r}")
        if texts[i].dxf.layer == "ENGRAVE" and not any(rib.contains(box) for rib in ribs):
            problems.append(f"{name}: {texts[i].dxf.text!r} is not on a rib")
        if texts[i].dxf.layer == "NOTE" and any(rib.intersects(box) for rib in ribs):
            problems.append(f"{name}: {texts[i].dxf.text!r} lies on a rib")
        problems += [f"{name}: {texts[i].dxf.text!r} is crossed" for line in lines if line.intersects(box)]
    for line in lines:
        if not any(rib.buffer(0.02).contains(line) for rib in ribs):
            problems.append(f"{name}: a line leaves its rib")


def check_outline(name, chain, wanted, problems):
    length, area = chain_length_and_area(chain)
    if not chain.closed or chain.dxf.layer != "CUT_OUTSIDE":
        problems.append(f"{name}: outline open or on {chain.dxf.layer}")
    if abs(length - wanted[0]) > TOLERANCE_MM or abs(abs(area) - wanted[1]) > TOLERANCE_MM:
        problems.append(f"{name}: length {length}, area {area}, not {wanted[:2]}")
    rib = polygon(chain)
    if not rib.is_valid or not rib.is_simple:
        problems.append(f"{name}: outline crosses itself")
    if abs(rib.area - wanted[1]) > CHORD_MM * wanted[0]:
        problems.append(f"{name}: polygon of {rib.area}, not {wanted[1]}")
    return rib


def check_mounts(job, folder, problems):
    with open(folder / "mounts.csv", encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file, strict=True))
    if [row["name"] for row in rows] != [mount["name"] for mount in job["mounts"]]:
        problems.append(f"mounts {[row['name'] for row in rows]}")
    sign = 1 if job["side"] == "right" else -1
    for row, mount in zip(rows, job["mounts"]):
        at = mount["at"]
        wanted = {"along_mm": at["along"], "out_mm": at["out"], "up_mm": at["up"], "x_mm": at["along"],
                  "y_mm": sign * (at["out"] + job["zero_to_midplane"]), "z_mm": at["up"]}
        for key, value in wanted.items():
            if abs(float(row[key]) - value) > 1e-9:
                problems.append(f"{mount['name']}: {key} {row[key]}, not {value}")
        if None in row or None in row.values():
            problems.append(f"{mount['name']}: more or fewer fields than columns")
        if row["fastener"] != mount.get("fastener", {}).get("name", ""):
            problems.append(f"{mount['name']}: fastener {row['fastener']}")


def main(job_path, folder):
    folder = pathlib.Path(folder)
    problems = []
    with open(job_path, encoding="utf-8") as file:
        job = json.load(file)
    piece = job["skirt"]["pieces"][0]
    right = piece["sheet"] if piece["drawn_face"] == "outside" else 0
    wanted = []
    for section in piece["sections"]:
        nodes = [(n["out"], n["up"]) for n in section["nodes"]]
        wanted.append(rounded_shifted(nodes, [n.get("radius", 0) for n in section["nodes"]], right))

    sheets = sorted((folder / "outlines").glob("station_*.dxf"))
    if len(sheets) != len(wanted):
        problems.append(f"{len(sheets)} sheets, not {len(wanted)}")
    for section, own in zip(piece["sections"], wanted):
        safe = "".join(c if c.isascii() and (c.isalnum() or c in "-_") else "_" for c in section["station"])
        path = folder / "outlines" / f"station_{safe}.dxf"
        entities = read(path, problems)
        chains = [e for e in entities if e.dxf.layer == "CUT_OUTSIDE"]
        if len(chains) != 1 or chains[0].dxftype() != "LWPOLYLINE":
            problems.append(f"{path.name}: {len(chains)} outlines")
            continue
        rib = check_outline(path.name, chains[0], own, problems)
        if max(rib.distance(shapely.geometry.Point(own[2][i])) for i in (0, -1)) > TOLERANCE_MM:
            problems.append(f"{path.name}: the ends are elsewhere")
        check_writing(path.name, entities, [rib], problems)
        words = [e.dxf.text for e in entities if e.dxftype() == "TEXT" and e.dxf.layer == "ENGRAVE"]
        face = "THIS FACE TO REAR" if job["side"] == "right" else "THIS FACE TO FRONT"
        for word in (f"STATION {section['station']}", f"{job['side'].upper()} SIDE", face, "FRONT", "OUT",
                     f"REV {job['revision']}"):
            if word not in words:
                problems.append(f"{path.name}: no {word!r} among {words}")
        if any(not any(w.startswith(start) for w in words) for start in ("BASELINE UP ", "CENTRE LINE OUT ")):
            problems.append(f"{path.name}: the baseline is not stated")

    entities = read(folder / "outlines/all_stations.dxf", problems)
    chains = [e for e in entities if e.dxf.layer == "CUT_OUTSIDE"]
    ribs = [check_outline("all_stations", chain, own, problems) for chain, own in zip(chains, wanted)]
    if len(ribs) != len(wanted):
        problems.append(f"all_stations: {len(ribs)} outlines")
    for one, other in zip(ribs, ribs[1:]):
        gap = other.bounds[0] - one.bounds[2]
        if abs(gap - 30) > 2 * CHORD_MM:
            problems.append(f"all_stations: gap {gap}")
    check_writing("all_stations", entities, ribs, problems)
    check_mounts(job, folder, problems)

    print("\n".join(problems) if problems else f"agree: {len(ribs)} stations")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
