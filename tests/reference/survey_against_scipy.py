"""Measuring books by scipy.optimize.least_squares: the readings' formulas written a second time, with derivatives by
the complex step; coordinates, their standard deviations and those of the leans out."""
import json
import sys

import numpy as np
from scipy.optimize import least_squares


def length(v):
    return np.sqrt(np.sum(v * v, axis=-1))  # without conjugates: the complex step goes through


def dot(a, b):
    return np.sum(a * b, axis=-1)


def plumb(roll, pitch):
    """Up along a plumb line that leans outward by roll, rearward by pitch."""
    return np.stack([np.sin(pitch), np.sin(roll) * np.cos(pitch), np.cos(roll) * np.cos(pitch)], axis=-1)


def outward(n):
    first = np.where(np.abs(n[..., 1].real) >= 0.1, n[..., 1].real, n[..., 0].real)
    return n * np.where(first < 0, -1.0, 1.0)[..., None]


def outward_or_upward(n):
    across = (np.abs(n[..., 1].real) < 0.1) & (np.abs(n[..., 2].real) < 0.1)
    most = np.where(np.abs(n[..., 1].real) >= np.abs(n[..., 2].real), n[..., 1].real, n[..., 2].real)
    return n * np.where(np.where(across, n[..., 0].real, most) < 0, -1.0, 1.0)[..., None]


def by_step(value, slope, x):
    """A function of the real part, carried on along the complex step."""
    return value(x.real) + 1j * x.imag * slope(x.real) if np.iscomplexobj(x) else value(x)


def arccos(x):
    return by_step(np.arccos, lambda r: -1 / np.sqrt(1 - r * r), x)


def arcsin(x):
    return by_step(np.arcsin, lambda r: 1 / np.sqrt(1 - r * r), x)


def numbers(kind, p, up, tilt):
    """What readings of one kind show: p[k] are their k-th points, one row a reading."""
    run = p[1] - p[0]
    if kind == "tie":
        return length(run)
    if kind == "height":
        return dot(run, up)
    if kind in ("along", "out", "up"):
        return run[:, ("along", "out", "up").index(kind)]
    if kind == "offset":
        n = np.cross(up, run)
        return dot(outward(n / length(n)[:, None]), p[2] - p[0])
    if kind == "plane":
        n = np.cross(run, p[2] - p[0])
        return dot(outward_or_upward(n / length(n)[:, None]), p[3] - p[0])
    if kind == "gauge out":
        return np.cos(tilt) * run[:, 1] + np.sin(tilt) * run[:, 2]
    if kind == "gauge up":
        return np.cos(tilt) * run[:, 2] - np.sin(tilt) * run[:, 1]
    if kind == "angle":
        other = p[2] - p[0]
        return arccos(dot(run, other) / (length(run) * length(other)))
    if kind == "slope":
        return arcsin(dot(run, up) / length(run))
    raise ValueError(kind)


class Network:
    """Values: three of each point, then roll and pitch, then the tilts; `free` are those to find."""

    def __init__(self, case):
        self.values = np.array(case["start"], dtype=float)
        self.free = np.array(case["free"], dtype=int)
        self.points, self.tilts = case["points"], case["tilts"]
        self.direct = [(d["unknown"], d["observed"], d["sd"]) for d in case["direct"]]
        self.kinds = {}
        for r in case["readings"]:
            self.kinds.setdefault(r["kind"], []).append(r)

    def misfits(self, x):
        v = self.values.astype(complex if np.iscomplexobj(x) else float)
        v[self.free] = x
        at = v[: 3 * self.points].reshape(-1, 3)
        lean, tilts = v[3 * self.points :][:2], v[3 * self.points + 2 :]
        out = [np.array([(v[i] - observed) / sd for i, observed, sd in self.direct])]
        for kind, readings in self.kinds.items():
            p = [at[[r["points"][k] for r in readings]] for k in range(len(readings[0]["points"]))]
            leans = np.array([r["leans"] for r in readings])
            up = plumb(leans * lean[0], leans * lean[1])
            tilt = tilts[[r["tilt"] for r in readings]] if kind in ("gauge out", "gauge up") else None
            shown = numbers(kind, p, up, tilt)
            out.append((shown - [r["observed"] for r in readings]) / [r["sd"] for r in readings])
        return np.concatenate(out)

    def solve(self):
        found = least_squares(
            self.misfits, self.values[self.free], jac="cs", x_scale="jac", ftol=None, xtol=1e-14, gtol=1e-14)
        covariance = np.linalg.inv(found.jac.T @ found.jac)
        return {"x": found.x.tolist(), "sd": np.sqrt(np.diag(covariance)).tolist(), "sum": float(2 * found.cost)}


question = json.load(open(sys.argv[1]))
json.dump({"answers": [Network(case).solve() for case in question["cases"]]}, open(sys.argv[2], "w"))
