"""Puts the sheets of a 1:1 template together by their crosses, as a person does, and measures.

Usage: template_tiles.py TEMPLATE.pdf
Prints JSON: sheets, bars (mm, by sheet), crosses (number by sheet), spread (how far the crosses of neighbours miss each
other once they are joined, mm), marks (places of the thick crosses in the joined drawing, mm).
Reads the vectors as pdftocairo (poppler) writes them; knows nothing of the program but its widths of pens.
"""

import json
import re
import subprocess
import sys
import xml.etree.ElementTree as ET

import numpy as np

MM = 25.4 / 72.0
CROSS, BAR, CUT = 0.21, 0.27, 0.325
SAME = 0.004  # of a pen's width, mm


def numbers(text):
    return [float(x) for x in re.findall(r"[-+]?[0-9]*\.?[0-9]+(?:e[-+]?[0-9]+)?", text)]


def matrix(text):
    m = np.eye(3)
    if text:
        a, b, c, d, e, f = numbers(text)[:6]
        m[:2] = [[a, c, e], [b, d, f]]
    return m


def lines_of(svg):
    """Straight lines with two ends: (width, from, to) in millimetres, y down."""
    found = []

    def walk(node, at):
        at = at @ matrix(node.get("transform"))
        if node.tag.endswith("path") and (node.get("stroke-width") or "stroke-width" in (node.get("style") or "")):
            width = node.get("stroke-width") or re.search(r"stroke-width:\s*([0-9.e-]+)", node.get("style")).group(1)
            scale = float(np.sqrt(abs(np.linalg.det(at[:2, :2]))))
            d = node.get("d")
            for part in re.split(r"(?=M)", d):
                if part.strip() and not re.search(r"[CcZz]", part):
                    xy = np.array(numbers(part)).reshape(-1, 2)
                    if len(xy) == 2:
                        ends = (at @ np.c_[xy, np.ones(2)].T).T[:, :2] * MM
                        found.append((float(width) * scale * MM, ends[0], ends[1]))
        for child in node:
            walk(child, at)

    walk(ET.fromstring(svg), np.eye(3))
    return found


def crosses(lines, width):
    """Middles of level and upright lines of one pen that share them."""
    level, upright = [], []
    for w, a, b in lines:
        if abs(w - width) < SAME:
            if abs(a[1] - b[1]) < 1e-3:
                level.append((a + b) / 2)
            elif abs(a[0] - b[0]) < 1e-3:
                upright.append((a + b) / 2)
    return [m for m in level if any(np.linalg.norm(m - u) < 0.02 for u in upright)]


def run(*command):
    return subprocess.run(command, check=True, capture_output=True).stdout


def rigid(source, target):
    """Rotation and shift that lay `source` on `target` best (Kabsch)."""
    s, t = np.mean(source, axis=0), np.mean(target, axis=0)
    u, _, v = np.linalg.svd((source - s).T @ (target - t))
    turn = v.T @ np.diag([1.0, np.sign(np.linalg.det(v.T @ u.T))]) @ u.T
    return turn, t - turn @ s


def main(path):
    pages = int(re.search(rb"Pages:\s+(\d+)", run("pdfinfo", path)).group(1))
    sheets, bars = {}, []
    for page in range(1, pages + 1):
        svg = run("pdftocairo", "-svg", "-f", str(page), "-l", str(page), path, "-").decode()
        lines = lines_of(svg)
        level = [np.linalg.norm(a - b) for w, a, b in lines if abs(w - BAR) < SAME and abs(a[1] - b[1]) < 1e-3]
        bars.append(sorted(level))
        text = run("pdftotext", "-f", str(page), "-l", str(page), path, "-").decode()
        name = re.search(r"SHEET ([A-Z]+)(\d+)", text)
        if name:
            row = sum((ord(c) - 64) * 26**i for i, c in enumerate(reversed(name.group(1))))
            sheets[(row, int(name.group(2)))] = (crosses(lines, CROSS), crosses(lines, CUT))

    def facing(a, b):
        """Crosses of sheet a towards b and of b towards a, in the same order."""
        axis = 1 if a[0] == b[0] else 0  # Along the side that they share.
        other = 1 - axis
        first, second = sheets[a][0], sheets[b][0]
        ahead = (b[1] - a[1]) if axis == 1 else (b[0] - a[0])
        # A cross stands 5 mm inside the side that it belongs to: the outermost on that side.
        end_a = max(p[other] * ahead for p in first)
        end_b = max(-p[other] * ahead for p in second)
        pick_a = sorted((p for p in first if abs(p[other] * ahead - end_a) < 0.5), key=lambda p: p[axis])
        pick_b = sorted((p for p in second if abs(-p[other] * ahead - end_b) < 0.5), key=lambda p: p[axis])
        return np.array(pick_a), np.array(pick_b)

    start = min(sheets)
    laid = {start: (np.eye(2), np.zeros(2))}
    spread = 0.0
    waiting = [start]
    while waiting:
        a = waiting.pop(0)
        for step in ((0, 1), (0, -1), (1, 0), (-1, 0)):
            b = (a[0] + step[0], a[1] + step[1])
            if b not in sheets:
                continue
            here, there = facing(a, b)
            turn, shift = laid[a]
            target = here @ turn.T + shift
            if b not in laid:
                laid[b] = rigid(there, target)
                waiting.append(b)
            turn, shift = laid[b]
            spread = max(spread, float(np.max(np.linalg.norm(there @ turn.T + shift - target, axis=1))))
    marks = []
    for name, (_, thick) in sheets.items():
        turn, shift = laid[name]
        for p in thick:
            q = turn @ p + shift
            if not any(np.linalg.norm(q - m) < 1.0 for m in marks):
                marks.append(q)
    print(json.dumps({"sheets": len(sheets), "laid": len(laid), "bars": bars,
                      "crosses": [len(s[0]) for s in sheets.values()], "spread": spread,
                      "marks": [[m[0], -m[1]] for m in marks]}))


main(sys.argv[1])
