"""Reads a DXF file with ezdxf and compares it with what the test derived.

usage: dxf_against_ezdxf.py DRAWING.dxf EXPECTED.json

Prints each difference; exit status 0 if there is none. The lengths and areas
are computed here from what ezdxf makes of the file, by quadrature, so that no
formula is shared with the test.
"""

import json
import math
import sys

import ezdxf
from ezdxf.lldxf.encoding import decode_dxf_unicode
import numpy

TOLERANCE_MM = 0.001
NODES, WEIGHTS = numpy.polynomial.legendre.leggauss(40)


def length_and_area(part):
    """Length, and the integral of (x dy - y dx) / 2, of one line or arc, each in its own direction."""
    if part.dxftype() == "LINE":
        a, b = part.dxf.start, part.dxf.end
        return (b - a).magnitude, (a.x * b.y - b.x * a.y) / 2
    centre, radius = part.dxf.center, part.dxf.radius
    first = math.radians(part.dxf.start_angle)
    sweep = (math.radians(part.dxf.end_angle) - first) % math.tau
    angle = first + sweep * (NODES + 1) / 2
    x, y = centre.x + radius * numpy.cos(angle), centre.y + radius * numpy.sin(angle)
    dx, dy = -radius * numpy.sin(angle), radius * numpy.cos(angle)
    scale = WEIGHTS * sweep / 2
    return float(numpy.hypot(dx, dy) @ scale), float((x * dy - y * dx) @ scale) / 2


def chain_length_and_area(chain):
    """ezdxf turns every arc anticlockwise; the chain's own points say which way it is run."""
    length = area = 0.0
    points = list(chain.get_points("xyb"))
    for index, part in enumerate(chain.virtual_entities()):
        own_length, own_area = length_and_area(part)
        length += own_length
        area += -own_area if points[index][2] < 0 else own_area
    return length, area


def main(dxf_path, expected_path):
    document = ezdxf.readfile(dxf_path)
    problems = []

    audit = document.audit()
    problems += [f"error {e.code}: {e.message}" for e in audit.errors]
    problems += [f"fix {e.code}: {e.message}" for e in audit.fixes]
    if document.dxfversion != "AC1015" or document.units != ezdxf.units.MM:
        problems.append(f"version {document.dxfversion}, units {document.units}")

    with open(expected_path, encoding="utf-8") as file:
        expected = json.load(file)
    found = list(document.modelspace())
    if len(found) != len(expected["entities"]):
        problems.append(f"{len(found)} entities, not {len(expected['entities'])}")
    for index, (entity, wanted) in enumerate(zip(found, expected["entities"])):
        name = f"entity {index} {entity.dxftype()}"
        if entity.dxftype() != wanted["kind"] or entity.dxf.layer != wanted["layer"]:
            problems.append(f"{name} on {entity.dxf.layer}, not {wanted['kind']} on {wanted['layer']}")
            continue
        if "words" in wanted and decode_dxf_unicode(entity.dxf.text) != wanted["words"]:
            problems.append(f"{name}: {decode_dxf_unicode(entity.dxf.text)!r}, not {wanted['words']!r}")
        if "length_mm" in wanted:
            if entity.dxftype() == "LWPOLYLINE":
                length, area = chain_length_and_area(entity)
            elif entity.dxftype() == "CIRCLE":
                length, area = math.tau * entity.dxf.radius, math.pi * entity.dxf.radius**2
            else:
                length, area = length_and_area(entity)
            if not abs(length - wanted["length_mm"]) <= TOLERANCE_MM:
                problems.append(f"{name}: length {length}, not {wanted['length_mm']}")
            if "area_mm2" in wanted and not abs(area - wanted["area_mm2"]) <= TOLERANCE_MM:
                problems.append(f"{name}: area {area}, not {wanted['area_mm2']}")
    for layer, colour in expected["layers"].items():
        if layer not in document.layers or document.layers.get(layer).color != colour:
            problems.append(f"layer {layer} is missing or has another colour than {colour}")
    for key in ("$EXTMIN", "$EXTMAX"):
        if any(abs(a - b) > TOLERANCE_MM for a, b in zip(document.header[key], expected[key])):
            problems.append(f"{key} {document.header[key]}, not {expected[key]}")

    print("\n".join(problems) if problems else f"agree: {len(found)} entities")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
