#!/usr/bin/env python3
"""Makes parts.json: random parts and their volumes by an independent library.

The library is manifold3d (Python, double precision meshes). Run it with
    python3 -m venv venv && venv/bin/pip install manifold3d numpy
    venv/bin/python make_reference.py > parts.json
The tests read the file only, so they need no Python. Lengths are mm. With a seed and a
number it draws other parts by lot, for PARTS=other.json cargo test -- other_lots --ignored
    venv/bin/python make_reference.py 7 100000 > other.json

A part is a box 0..size minus cuts, each one of
  ["box", x0, y0, z0, x1, y1, z1]            an upright box
  ["half", px, py, pz, nx, ny, nz]           all on the side the normal points to
  ["hole", px, py, pz, dx, dy, dz, deep, d]  a round hole as a 32-sided prism
"""
import json
import math
import random
import sys

import numpy as np
from manifold3d import CrossSection, Manifold

seed, wanted = map(int, sys.argv[1:3] or (20261125, 600))
rng = random.Random(seed)
FACETS = 32
REACH = 20000.0


def frame(z):
    z = np.array(z, float)
    hint = np.array([1.0, 0, 0]) if abs(z[0]) < 0.9 * np.linalg.norm(z) else np.array([0, 1.0, 0])
    z = z / np.linalg.norm(z)
    x = hint - z * z.dot(hint)
    x = x / np.linalg.norm(x)
    return x, np.cross(z, x), z


def place(solid, origin, z):
    x, y, z = frame(z)
    return solid.transform(np.column_stack([x, y, z, np.array(origin, float)]))


def solid_of(cut):
    kind, v = cut[0], cut[1:]
    if kind == "box":
        lo, hi = np.array(v[:3]), np.array(v[3:])
        return Manifold.cube(hi - lo).translate(lo)
    if kind == "half":
        cube = Manifold.cube([2 * REACH, 2 * REACH, REACH]).translate([-REACH, -REACH, 0])
        return place(cube, v[:3], v[3:])
    r = v[7] / 2
    ring = [(r * math.cos(2 * math.pi * k / FACETS), r * math.sin(2 * math.pi * k / FACETS)) for k in range(FACETS)]
    return place(Manifold.extrude(CrossSection([ring]), v[6]), v[:3], v[3:6])


def pick(lo, hi, step=0.5):
    return round(lo + step * rng.randint(0, int((hi - lo) / step)), 6)


def random_cut(size, cuts):
    l, w, t = size
    kind = rng.choice(["mitre", "rebate", "groove", "mortise", "hole", "hole", "flush", "twin", "tilt", "slope", "through"])
    if kind == "mitre":
        a = math.radians(rng.choice([22.5, 30, 45, 60, pick(15, 75)]))
        end = rng.random() < 0.5
        n = [math.cos(a), 0, math.sin(a)] if rng.random() < 0.5 else [math.cos(a), math.sin(a), 0]
        # The long point stays on the arris.
        return ["half", l if end else 0, 0, 0, (1 if end else -1) * n[0], n[1], n[2]]
    if kind == "rebate":
        a, b = pick(3, max(4, w / 3)), pick(1, max(1.5, t * 0.7))
        return ["box", -1, 0 if rng.random() < 0.5 else -2, t - b, l + 1, a, t + rng.choice([0, 3])]
    if kind == "groove":
        y = pick(2, w * 0.8)
        return ["box", -5, y, -1, l + 5, y + pick(2, 8), pick(1, t * 0.7)]
    if kind in ("mortise", "flush", "twin"):
        if kind == "twin" and cuts and rng.random() < 0.5:
            return list(rng.choice(cuts))
        boxes = [c for c in cuts if c[0] == "box"]
        x, y = pick(0, l * 0.8), pick(0, w * 0.7)
        if kind == "flush" and boxes:  # starts exactly where another ends
            x = rng.choice(boxes)[4]
        return ["box", x, y, 0 if kind == "flush" else -1, x + pick(4, 40), y + pick(4, 20), pick(1, t * 0.8)]
    if kind == "hole":
        d = rng.choice([3, 5, 8, 12, 20, 35])
        axis = rng.choice([[0, 0, 1], [0, 0, -1], [0, 1, 0], [1, 0, 0], [0.3, 0.2, 1]])
        start = [pick(0, l), pick(0, w), -1.0 if axis[2] > 0 else t + 1 if axis[2] < 0 else t / 2]
        if axis == [0, 1, 0]:
            start[1] = -1.0
        if axis == [1, 0, 0]:
            start[0] = -1.0
        return ["hole", *start, *axis, pick(4, t + 20), d]
    if kind == "tilt":
        n = [rng.choice([-1, 1]), rng.uniform(-0.6, 0.6), rng.uniform(-0.6, 0.6)]
        p = [l * (0.9 if n[0] > 0 else 0.1), w / 2, t / 2]
        return ["half", *[round(v, 6) for v in p + n]]
    if kind == "slope":
        n = [rng.uniform(-0.05, 0.05), rng.choice([-1, 1]), 0]
        return ["half", l / 2, w * (0.85 if n[1] > 0 else 0.15), 0, *[round(v, 6) for v in n]]
    x = pick(0, l)
    return ["box", x, w * 0.5, -1, x + pick(5, 30), w + 1, t + 1]


parts = []
while len(parts) < wanted:
    size = [pick(60, 1200), pick(30, 400), pick(6, 40)]
    cuts = []
    for _ in range(rng.randint(1, 9)):
        cuts.append(random_cut(size, cuts))
    solid = Manifold.cube(size)
    for cut in cuts:
        solid = solid - solid_of(cut)
    volume = solid.volume()
    # Whole parts only: what falls apart is another test.
    if volume > 1.0 and len(solid.decompose()) == 1:
        parts.append({"size": size, "cuts": cuts, "volume": volume})
print("[\n" + ",\n".join(json.dumps(p, separators=(",", ":")) for p in parts) + "\n]")
