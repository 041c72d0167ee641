#!/usr/bin/env python3
"""Makes leaning.json: two boards at random lean with a joint between them, drawn by lot,
with the volume of each and the volume they share by an independent library.

The cases are written by our own test, which knows the cuts of each joint:
    PAIRS=/tmp/leaning.jsonl TRIES=1100 cargo test --test suite -- joints::lot::any_lean
The volumes are those of manifold3d (Python, double precision meshes):
    python3 -m venv venv && venv/bin/pip install manifold3d numpy
    venv/bin/python make_leaning.py leaning.jsonl 20 > leaning.json
where the last figure is how many cases of each word are kept. Lengths are mm. A part is
a box 0..size minus prisms: rings in the plane of a frame (origin, x, y, z), swept along
z between two heights.
"""
import json
import sys

import numpy as np
from manifold3d import CrossSection, FillRule, Manifold


def matrix(frame):
    o, x, y, z = (np.array(frame[i : i + 3], float) for i in range(0, 12, 3))
    return np.column_stack([x, y, z, o])


def prism(shape):
    section = CrossSection([np.array(r, float) for r in shape["rings"]], FillRule.Positive)
    solid = Manifold.extrude(section, shape["to"] - shape["from"])
    return solid.translate([0, 0, shape["from"]]).transform(matrix(shape["at"]))


def carved(part):
    solid = Manifold.cube(part["size"])
    for cut in part["cuts"]:
        solid -= prism(cut)
    return solid


kept, counts = [], {}
for line in open(sys.argv[1]):
    case = json.loads(line)
    word = case["work"]
    if counts.get(word, 0) >= int(sys.argv[2]):
        continue
    counts[word] = counts.get(word, 0) + 1
    solids = [carved(p) for p in case["parts"]]
    stood = [s.transform(matrix(p["at"])) for s, p in zip(solids, case["parts"])]
    for part, solid in zip(case["parts"], solids):
        part["volume"] = round(solid.volume(), 6)
    case["shared"] = round((stood[0] ^ stood[1]).volume(), 6)
    kept.append(case)
print("[" + ",\n".join(json.dumps(case, separators=(",", ":")) for case in kept) + "]")
