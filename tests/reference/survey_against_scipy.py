"""Survey networks by scipy.optimize.least_squares, with its own functional models and numerical derivatives."""
import json
import os
import sys

os.environ["OPENBLAS_NUM_THREADS"] = "1"  # The matrices are small, threads only wait for each other.

import numpy as np
from scipy.optimize import least_squares


class Network:
    """Unknowns: free coordinates of the points, then leans (roll, pitch), then tilts of gauges."""

    def __init__(self, given):
        self.at = np.array(given["at"], dtype=float)
        self.free = np.array(given["free"], dtype=bool)
        self.leans = np.array(given["leans"], dtype=float).reshape(-1, 2)
        self.free_leans = np.array(given["free_leans"], dtype=bool)
        self.tilts = int(given["tilts"])
        self.groups = {}
        for reading in given["readings"]:
            self.groups.setdefault((reading["kind"], len(reading["points"])), []).append(reading)
        self.prepared = []
        for (kind, count), readings in self.groups.items():
            index = np.array([r["points"] for r in readings], dtype=int).reshape(len(readings), count)
            self.prepared.append((kind, index, np.array([r["group"] for r in readings], dtype=int),
                                  np.array([r["observed"] for r in readings]), np.array([r["sd"] for r in readings])))

    def start(self):
        return np.concatenate([self.at[self.free], self.leans[self.free_leans].ravel(), np.zeros(self.tilts)])

    def misfits(self, x):
        at = self.at.copy()
        n = self.free.sum()
        at[self.free] = x[:n]
        leans = self.leans.copy()
        m = 2 * self.free_leans.sum()
        leans[self.free_leans] = x[n:n + m].reshape(-1, 2)
        tilts = np.append(x[n + m:], 0.0)
        parts = []
        for kind, index, group, observed, sd in self.prepared:
            p = [at[index[:, k]] for k in range(index.shape[1])]
            parts.append((self.shown(kind, p, group, leans, tilts) - observed) / sd)
        return np.concatenate(parts)

    @staticmethod
    def shown(kind, p, group, leans, tilts):
        if kind == "tilt":
            return tilts[group]
        run = p[1] - p[0]
        if kind == "tie":
            return np.sqrt((run ** 2).sum(1))
        if kind in ("along", "out", "up"):
            return run[:, ("along", "out", "up").index(kind)]
        if kind in ("gauge out", "gauge up"):
            c, s = np.cos(tilts[group]), np.sin(tilts[group])
            return c * run[:, 1] + s * run[:, 2] if kind == "gauge out" else c * run[:, 2] - s * run[:, 1]
        if kind == "angle":
            other = p[2] - p[0]
            cosine = (run * other).sum(1) / np.sqrt((run ** 2).sum(1) * (other ** 2).sum(1))
            return np.arccos(cosine)
        if kind == "plane":
            n = np.cross(p[1] - p[0], p[2] - p[0])
            n /= np.sqrt((n ** 2).sum(1))[:, None]
            larger = np.where(np.abs(n[:, 1]) >= np.abs(n[:, 2]), n[:, 1], n[:, 2])
            return np.sign(larger) * (n * (p[3] - p[0])).sum(1)
        roll, pitch = leans[group, 0], leans[group, 1]
        up = np.stack([np.sin(pitch), np.sin(roll) * np.cos(pitch), np.cos(roll) * np.cos(pitch)], 1)
        if kind == "height":
            return (up * run).sum(1)
        if kind == "slope":
            return np.arcsin((up * run).sum(1) / np.sqrt((run ** 2).sum(1)))
        n = np.cross(up, run)  # offset
        n /= np.sqrt((n ** 2).sum(1))[:, None]
        return np.sign(n[:, 1]) * (n * (p[2] - p[0])).sum(1)


def solved(given):
    network = Network(given)

    def derivatives(x):
        columns = []
        for k in range(len(x)):
            h = 1e-3 if k < network.free.sum() else 1e-6  # mm, rad
            step = np.zeros(len(x))
            step[k] = h
            columns.append((network.misfits(x + step) - network.misfits(x - step)) / (2.0 * h))
        return np.stack(columns, 1)

    tight = 1e-14
    fit = least_squares(network.misfits, network.start(), jac=derivatives, method="lm", x_scale="jac", ftol=tight,
                        xtol=tight, gtol=tight)
    inverse = np.linalg.inv(fit.jac.T @ fit.jac)
    # It ends where the sum no longer falls by 1e-14, some 1e-7 sds away: two more steps by the derivatives there.
    x = fit.x
    for _ in range(2):
        x = x - inverse @ (fit.jac.T @ network.misfits(x))
    return {"x": x.tolist(), "sd": np.sqrt(np.diag(inverse)).tolist(), "sum": float(2.0 * fit.cost)}


question = json.load(open(sys.argv[1]))
json.dump({"answers": [solved(given) for given in question["networks"]]}, open(sys.argv[2], "w"))
