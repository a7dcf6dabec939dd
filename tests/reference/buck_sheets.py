"""Judges the router's sheets of a buck, and puts the buck together from them.

usage: buck_sheets.py FOLDER INTENT.json

INTENT says what is wanted, in millimetres, without a word of where parts lie on the sheets:
  unit        "mm" or "in": of the files
  release     "AC1009" or "AC1015"
  margin, gap of parts to the edge and to one another
  bit         diameter; 0: inside corners are not relieved
  relief      radius of what the bit takes at an inside corner; 0: none
  fit         of a slot: its width less the sheet in it
  depth_room  between the two slots' ends, of a half-lap that is pushed home
  sheets      [{file, length, width, defects: [[x, y, length, width], ...]}]
  parts       {label: {kind, area, cut_area, ...}}; area finished, cut_area with inside corners relieved (if known);
              a rib has low (least side), front, rear (x of its faces); a spine has side, thickness, front (least x)
  pairs       [[rib, spine], ...]

What is found is printed, one line each; exit status 0 if all is as wanted. Files are read by ezdxf; polygons are
shapely's. A part is told by its label as TEXT on NOTE, which also says how it is turned. It is put into its frame by
its least coordinates alone; slots, holes and base line must then come to lie right.
"""

import json
import math
import pathlib
import sys

import ezdxf
import numpy
import shapely.affinity
import shapely.prepared
import shapely.validation
from shapely.geometry import LineString, Point, Polygon, box

CHORD_MM = 0.0005  # of arcs as polygons
FIT_MM = 0.01
PLACE_MM = 0.01
AREA_MM = 1e-4  # of an area, by length of outline
RADIUS_MM = 0.01
TANGENT_RAD = 0.01
LAYERS = {"ENGRAVE", "DRILL", "CUT_INSIDE", "CUT_OUTSIDE", "TAB", "SHEET_EDGE", "NOTE"}


def vertices(chain, scale):
    """(x, y, bulge) of a chain of either kind."""
    if chain.dxftype() == "LWPOLYLINE":
        points = chain.get_points("xyb")
        closed = chain.closed
    else:
        points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0)) for v in chain.vertices]
        closed = chain.is_closed
    return [(x * scale, y * scale, bulge) for x, y, bulge in points], closed


def arc_of(p, q, bulge):
    """Centre, radius, first angle and sweep."""
    chord = math.dist(p[:2], q[:2])
    sweep = 4 * math.atan(bulge)
    radius = chord / 2 / math.sin(abs(sweep) / 2)
    middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
    off = radius * math.cos(sweep / 2) * (1 if sweep > 0 else -1)
    left = (-(q[1] - p[1]) / chord, (q[0] - p[0]) / chord)
    centre = (middle[0] + off * left[0], middle[1] + off * left[1])
    return centre, radius, math.atan2(p[1] - centre[1], p[0] - centre[0]), sweep


def exact_area(points):
    area = 0.0
    for p, q in zip(points, points[1:] + points[:1]):
        area += (p[0] * q[1] - q[0] * p[1]) / 2
        if p[2] and math.dist(p[:2], q[:2]) > 0:
            _, radius, _, sweep = arc_of(p, q, p[2])
            area += radius**2 / 2 * (sweep - math.sin(sweep))
    return area


def anticlockwise(points):
    if exact_area(points) >= 0:
        return points
    turned = points[::-1]
    bulges = [-p[2] for p in turned[1:] + turned[:1]]
    return [(p[0], p[1], b) for p, b in zip(turned, bulges)]


def flat(points):
    out = []
    for p, q in zip(points, points[1:] + points[:1]):
        out.append(p[:2])
        if p[2] and math.dist(p[:2], q[:2]) > 0:
            centre, radius, first, sweep = arc_of(p, q, p[2])
            step = 2 * math.acos(max(0.0, 1 - CHORD_MM / radius))
            count = max(2, math.ceil(abs(sweep) / step))
            out += [(centre[0] + radius * math.cos(first + sweep * i / count),
                     centre[1] + radius * math.sin(first + sweep * i / count)) for i in range(1, count)]
    return out


def without_relief(points, relief):
    """The outline with its inside corners put back: where an edge's line comes out of the relief's circle."""
    count = len(points)
    arcs = {}
    for i, (p, q) in enumerate(zip(points, points[1:] + points[:1])):
        if p[2] < 0 and relief > 0 and math.dist(p[:2], q[:2]) > 0:
            centre, radius, first, sweep = arc_of(p, q, p[2])
            if abs(radius - relief) < RADIUS_MM:
                arcs[i] = centre, first, sweep
    out = []
    for i, p in enumerate(points):
        if i not in arcs:
            out.append(p)
            continue
        centre, first, sweep = arcs[i]
        before, after = points[(i - 1) % count], points[(i + 1) % count]
        straight_before = before[2] == 0 and (i - 1) % count not in arcs
        at, other = (p, before) if straight_before else (after, points[(i + 2) % count])
        away = numpy.array(at[:2]) - numpy.array(other[:2])
        away /= numpy.linalg.norm(away)
        to_centre = numpy.array(centre) - numpy.array(at[:2])
        corner = numpy.array(at[:2]) + 2 * (to_centre @ away) * away
        # A rounding is tangent to what comes before it and behind it; a relief is not, at one end at least.
        if straight_before and after[2] == 0 and (i + 1) % count not in arcs:
            end = numpy.array(points[(i + 2) % count][:2]) - numpy.array(after[:2])
            end /= numpy.linalg.norm(end)
            turn = lambda angle: numpy.array([math.sin(angle), -math.cos(angle)])  # of a clockwise arc
            if turn(first) @ away > math.cos(TANGENT_RAD) and turn(first + sweep) @ end > math.cos(TANGENT_RAD):
                out.append(p)
                continue
        if straight_before:
            out.append((p[0], p[1], 0.0))
        out.append((corner[0], corner[1], 0.0))
    return out


class Part:
    def __init__(self, label, points, turned):
        self.label = label
        self.sheet_points = points
        self.polygon = Polygon(flat(points))
        self.grown = shapely.prepared.prep(self.polygon.buffer(PLACE_MM))
        self.turned = turned
        self.holes, self.inside, self.strokes = [], [], []
        self.label_at = self.label_height = None

    def place(self, low, bottom, relief):
        """Turns the part back, then moves it so that its least coordinates are these."""
        cosine, sine = math.cos(-self.turned), math.sin(-self.turned)
        back = lambda x, y: (cosine * x - sine * y, sine * x + cosine * y)
        points = [(*back(x, y), bulge) for x, y, bulge in self.sheet_points]
        least = numpy.min(numpy.array(flat(points)), axis=0)
        by = low - least[0], bottom - least[1]
        move = lambda x, y: (back(x, y)[0] + by[0], back(x, y)[1] + by[1])
        self.own = [(x + by[0], y + by[1], bulge) for x, y, bulge in points]
        self.finished = without_relief(self.own, relief)
        self.body = Polygon(flat(self.finished))
        self.own_holes = [(*move(x, y), d) for x, y, d in self.holes]


def free_about(body, at, height):
    """The stretch of a level line round a place that is not in the body; none if the place is."""
    low, _, high, _ = body.bounds
    line = LineString([(low - 10, height), (high + 10, height)]).difference(body)
    pieces = [line] if line.geom_type == "LineString" else list(line.geoms)
    for piece in pieces:
        (a, _), (b, _) = piece.coords[0], piece.coords[-1]
        if min(a, b) < at < max(a, b):
            return min(a, b), max(a, b)
    return None


def heights_at(body, low, high):
    """Least and greatest height of the body between two places across."""
    band = body.intersection(box(low, -1e4, high, 1e4))
    return None if band.is_empty else (band.bounds[1], band.bounds[3])


def read_sheet(path, sheet, intent, problems):
    name = path.name
    document = ezdxf.readfile(path)
    audit = document.audit()
    problems += [f"{name}: {e.code} {e.message}" for e in list(audit.errors) + list(audit.fixes)]
    if document.dxfversion != intent["release"]:
        problems.append(f"{name}: release {document.dxfversion}")
    inches = intent["unit"] == "in"
    if intent["release"] != "AC1009" and document.header["$INSUNITS"] != (1 if inches else 4):
        problems.append(f"{name}: unit {document.header['$INSUNITS']}")
    scale = 25.4 if inches else 1.0
    entities = list(document.modelspace())
    for layer in {e.dxf.layer for e in entities} - LAYERS:
        problems.append(f"{name}: layer {layer}")
    texts = [e for e in entities if e.dxftype() == "TEXT"]
    if not any(("UNIT: INCHES" if inches else "UNIT: MILLIMETRES") in t.dxf.text for t in texts):
        problems.append(f"{name}: no note says the unit")
    for words in ("SCALE 1:1", "SHEET ", "BIT ", "ORDER: "):
        if not any(words in t.dxf.text for t in texts):
            problems.append(f"{name}: no note says {words!r}")
    return entities, texts, scale


def outlines_of(name, entities, scale, problems):
    found = []
    for e in entities:
        if e.dxf.layer != "CUT_OUTSIDE":
            continue
        if e.dxftype() not in ("LWPOLYLINE", "POLYLINE"):
            problems.append(f"{name}: an outline is a {e.dxftype()}")
            continue
        points, closed = vertices(e, scale)
        if not closed:
            problems.append(f"{name}: an outline is open")
            continue
        points = anticlockwise(points)
        polygon = Polygon(flat(points))
        if not polygon.is_valid or not polygon.exterior.is_simple:
            problems.append(f"{name}: an outline crosses itself: {shapely.validation.explain_validity(polygon)}")
            continue
        found.append(points)
    return found


def parts_of(path, sheet, intent, problems):
    name = path.name
    entities, texts, scale = read_sheet(path, sheet, intent, problems)
    outlines = outlines_of(name, entities, scale, problems)
    polygons = [Polygon(flat(points)) for points in outlines]
    parts = []
    for points, polygon in zip(outlines, polygons):
        labels = [t for t in texts if t.dxf.layer == "NOTE" and
                  polygon.contains(Point(t.dxf.insert.x * scale, t.dxf.insert.y * scale))]
        if len(labels) != 1:
            problems.append(f"{name}: a part has {len(labels)} labels: {[t.dxf.text for t in labels]}")
            continue
        text = labels[0]
        part = Part(text.dxf.text, points, math.radians(text.dxf.rotation))
        part.label_at = text.dxf.insert.x * scale, text.dxf.insert.y * scale
        part.label_height = text.dxf.height * scale
        part.sheet = name
        parts.append(part)
    for text in texts:
        if text.dxf.text in intent["parts"] and not any(
                p.contains(Point(text.dxf.insert.x * scale, text.dxf.insert.y * scale)) for p in polygons):
            problems.append(f"{name}: the label {text.dxf.text} lies outside of every part")

    board = box(0, 0, sheet["length"], sheet["width"])
    room = box(*(v for v in (intent["margin"] - PLACE_MM,) * 2),
               sheet["length"] - intent["margin"] + PLACE_MM, sheet["width"] - intent["margin"] + PLACE_MM)
    for part in parts:
        if not room.contains(part.polygon):
            problems.append(f"{name}: {part.label} comes nearer to the sheet's edge than {intent['margin']} mm")
        for x, y, length, width in sheet.get("defects", []):
            if part.polygon.distance(box(x, y, x + length, y + width)) < intent["margin"] - PLACE_MM:
                problems.append(f"{name}: {part.label} comes too near to a defect")
    for i, part in enumerate(parts):
        for other in parts[:i]:
            apart = part.polygon.distance(other.polygon)
            if apart < intent["gap"] - PLACE_MM:
                what = "lies on" if part.polygon.intersection(other.polygon).area > 0 else f"is {apart:.3f} mm from"
                problems.append(f"{name}: {part.label} {what} {other.label}")
    edges = [vertices(e, scale)[0] for e in entities if e.dxf.layer == "SHEET_EDGE"]
    if not any(Polygon([p[:2] for p in edge]).equals_exact(board, 1e-6) or
               Polygon([p[:2] for p in edge]).symmetric_difference(board).area < 1e-3 for edge in edges):
        problems.append(f"{name}: the sheet's edge is not drawn")

    for e in entities:
        layer, kind = e.dxf.layer, e.dxftype()
        if layer in ("CUT_OUTSIDE", "SHEET_EDGE", "NOTE"):
            continue
        if kind == "CIRCLE":
            shape = Point(e.dxf.center.x * scale, e.dxf.center.y * scale).buffer(e.dxf.radius * scale)
        elif kind == "LINE":
            shape = LineString([(e.dxf.start.x * scale, e.dxf.start.y * scale),
                                (e.dxf.end.x * scale, e.dxf.end.y * scale)])
        else:
            points, closed = vertices(e, scale)
            shape = Polygon(flat(points)) if closed else LineString([p[:2] for p in points])
        if layer == "TAB":
            if not any(p.exterior.intersects(shape) for p in polygons):
                problems.append(f"{name}: a tab is on no outline")
            continue
        own = [part for part in parts if part.grown.contains(shape)]
        if len(own) != 1:
            at = shape.representative_point()
            problems.append(f"{name}: {layer} {kind} at {at.x:.1f}, {at.y:.1f} is inside of {len(own)} parts")
        elif layer == "DRILL":
            own[0].holes.append((e.dxf.center.x * scale, e.dxf.center.y * scale, 2 * e.dxf.radius * scale))
        elif layer == "CUT_INSIDE":
            own[0].inside.append(abs(exact_area(points)) if kind != "CIRCLE" else math.pi * (e.dxf.radius * scale)**2)
        else:
            own[0].strokes.append(shape)
    return parts


def label_form(part):
    """The strokes in the label's place, turned upright, as rounded numbers."""
    h = part.label_height
    place = box(0, -0.4 * h, h * len(part.label), 1.25 * h)
    form = []
    for stroke in part.strokes:
        own = shapely.affinity.rotate(shapely.affinity.translate(stroke, -part.label_at[0], -part.label_at[1]),
                                      -part.turned, origin=(0, 0), use_radians=True)
        if place.contains(own):
            form.append(tuple((round(x / h, 4) + 0.0, round(y / h, 4) + 0.0) for x, y in own.coords))
    return tuple(sorted(form))


def check_labels(parts, problems):
    forms = {}
    for part in parts:
        form = label_form(part)
        if not form:
            problems.append(f"{part.label} has no strokes where its label is")
        elif form in forms:
            problems.append(f"{part.label} is engraved as {forms[form]} is")
        forms[form] = part.label


def near(problems, what, found, wanted, tolerance):
    if not abs(found - wanted) <= tolerance:
        problems.append(f"{what} {found:.4f}, not {wanted:.4f}")


def check_slot(problems, what, body, at, thickness, mouth, end, intent):
    """Clearance to both sides of a sheet that stands in a slot, from its mouth to where its end is."""
    for share in (0.05, 0.35, 0.65, 0.95):
        height = mouth + share * (end - mouth)
        free = free_about(body, at, height)
        if free is None:
            problems.append(f"{what}: no slot at {height:.2f}")
            return
        near(problems, f"{what}: clearance on the low side at {height:.2f}", at - thickness / 2 - free[0],
             intent["fit"] / 2, FIT_MM)
        near(problems, f"{what}: clearance on the high side at {height:.2f}", free[1] - at - thickness / 2,
             intent["fit"] / 2, FIT_MM)


def check_pair(problems, rib, spine, wanted_rib, wanted_spine, intent):
    side, thickness = wanted_spine["side"], wanted_spine["thickness"]
    front, rear = wanted_rib["front"], wanted_rib["rear"]
    what = f"{rib.label} on {spine.label}"
    over = heights_at(rib.body, side - thickness / 2, side + thickness / 2)
    under = heights_at(spine.body, front, rear)
    if over is None or under is None:
        problems.append(f"{what}: they do not meet")
        return
    near(problems, f"{what}: room between the slots' ends", over[0] - under[1], intent["depth_room"], FIT_MM)
    check_slot(problems, f"{rib.label}: slot for {spine.label}", rib.body, side, thickness, 0.0, over[0], intent)
    top = spine.body.bounds[3]
    check_slot(problems, f"{spine.label}: slot for {rib.label}", spine.body, (front + rear) / 2, rear - front, top,
               under[1], intent)
    if top <= over[0] - 1:
        problems.append(f"{what}: the slots do not overlap")


def check_base_line(problems, rib):
    low, bottom, high, _ = rib.body.bounds
    foot = rib.body.boundary.intersection(box(low - 1, -0.1 * PLACE_MM, high + 1, 0.1 * PLACE_MM))
    if bottom < -PLACE_MM or foot.length < 0.3 * (high - low):
        problems.append(f"{rib.label} stands on {foot.length:.1f} mm of its {high - low:.1f}")


def check_holes(problems, ribs):
    for rib in ribs[1:]:
        if len(rib.own_holes) != len(ribs[0].own_holes):
            problems.append(f"{rib.label} has {len(rib.own_holes)} holes")
            continue
        for own, first in zip(sorted(rib.own_holes), sorted(ribs[0].own_holes)):
            if math.dist(own, first) > PLACE_MM:
                problems.append(f"{rib.label}: hole at {own}, in {ribs[0].label} at {first}")


def main(folder, intent_path):
    folder = pathlib.Path(folder)
    with open(intent_path, encoding="utf-8") as file:
        intent = json.load(file)
    problems = []
    parts = {}
    for sheet in intent["sheets"]:
        for part in parts_of(folder / sheet["file"], sheet, intent, problems):
            if part.label in parts:
                problems.append(f"two parts are called {part.label}")
            parts[part.label] = part
    if parts.keys() != intent["parts"].keys():
        problems.append(f"parts {sorted(parts)}, not {sorted(intent['parts'])}")
    check_labels(parts.values(), problems)

    total = 0.0
    for label, part in parts.items():
        wanted = intent["parts"].get(label)
        if wanted is None:
            continue
        low = wanted.get("low", wanted.get("front", 0.0) if wanted["kind"] == "spine" else 0.0)
        part.place(low, 0.0, intent["relief"])
        cut_area = exact_area(part.own) - sum(part.inside)
        total += cut_area
        slack = AREA_MM * part.polygon.length
        if "cut_area" in wanted:
            near(problems, f"{label}: area as cut", cut_area, wanted["cut_area"], slack)
        near(problems, f"{label}: finished area", exact_area(part.finished) - sum(part.inside), wanted["area"], slack)
    if all("cut_area" in p for p in intent["parts"].values()):
        near(problems, "total area", total, sum(p["cut_area"] for p in intent["parts"].values()),
             AREA_MM * sum(p.polygon.length for p in parts.values()))

    ribs = [p for label, p in parts.items() if intent["parts"].get(label, {}).get("kind") == "rib"]
    for rib in ribs:
        check_base_line(problems, rib)
    for piece in {intent["parts"][rib.label].get("piece", 0) for rib in ribs}:
        check_holes(problems, [rib for rib in ribs if intent["parts"][rib.label].get("piece", 0) == piece])
    done = 0
    for rib_label, spine_label in intent["pairs"]:
        if rib_label in parts and spine_label in parts:
            check_pair(problems, parts[rib_label], parts[spine_label], intent["parts"][rib_label],
                       intent["parts"][spine_label], intent)
            done += 1
    print("\n".join(problems) if problems else f"agree: {len(parts)} parts, {done} half-laps")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
