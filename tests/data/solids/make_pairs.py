#!/usr/bin/env python3
"""Makes pairs.json: joints of two parts each, drawn by lot, with the volume in which
the parts stand in one another and the area on which they touch, by an independent
library.

The library is manifold3d (Python, double precision meshes). Run it with
    python3 -m venv venv && venv/bin/pip install manifold3d numpy
    venv/bin/python make_pairs.py > pairs.json
The tests read the file only, so they need no Python. Lengths are mm.

A part is a box 0..size minus cuts, boxes or half spaces as in make_reference.py,
stood in the piece by a turn about z and then a shift. Sides of a joint match,
stand a little apart, or run a little into one another. What two parts share is the
volume of their intersection; what they touch on is, to the first order, that which
they would share if one were moved by a hair, divided by the hair.
"""
import json
import math
import random

import numpy as np
from manifold3d import Manifold

rng = random.Random(20261126)
REACH = 20000.0
HAIR = 1e-3


def box(v):
    lo, hi = np.array(v[:3], float), np.array(v[3:], float)
    return Manifold.cube(hi - lo).translate(lo)


def half(v):
    n = np.array(v[3:], float)
    n = n / np.linalg.norm(n)
    hint = np.array([1.0, 0, 0]) if abs(n[0]) < 0.9 else np.array([0, 1.0, 0])
    x = hint - n * n.dot(hint)
    x = x / np.linalg.norm(x)
    cube = Manifold.cube([2 * REACH, 2 * REACH, REACH]).translate([-REACH, -REACH, 0])
    return cube.transform(np.column_stack([x, np.cross(n, x), n, np.array(v[:3], float)]))


def carved(part):
    solid = Manifold.cube(part["size"])
    for cut in part["cuts"]:
        solid -= box(cut[1:]) if cut[0] == "box" else half(cut[1:])
    return solid


def stood(part):
    return carved(part).rotate(part["turn"]).translate(part["shift"])


def pick(lo, hi, step=0.5):
    return round(lo + step * rng.randint(0, int((hi - lo) / step)), 6)


def off():
    """How far one side stands off the other: most match."""
    return rng.choice([0.0, 0.0, 0.0, 0.3, 0.05, -0.05, -0.3, -2.0])


def part(size, cuts=(), turn=(0, 0, 0), shift=(0, 0, 0)):
    return {"size": list(size), "cuts": [list(c) for c in cuts], "turn": list(turn), "shift": list(shift)}


def mortise_tenon():
    """A rail along x with a tenon at its far end, and a leg that stands there."""
    long, broad, thick = pick(200, 500), pick(40, 120), pick(18, 40)
    leg_w, leg_d = pick(40, 80), pick(40, 80)
    ten, sh, deep = pick(6, 12), pick(4, 10), pick(15, 30)
    e = off()
    z0 = 100.0
    a, b = (thick - ten) / 2, (thick + ten) / 2
    s = long - deep
    rail = part(
        [long, thick, broad],
        [
            ["box", s, -1, -1, long + 1, a, broad + 1],
            ["box", s, b, -1, long + 1, thick + 1, broad + 1],
            ["box", s, -1, -1, long + 1, thick + 1, sh],
            ["box", s, -1, broad - sh, long + 1, thick + 1, broad + 1],
        ],
    )
    y0 = (leg_d - thick) / 2
    # e apart at the cheeks; the shoulder touches; 2 mm of room at the bottom.
    leg = part(
        [leg_w, leg_d, 500.0],
        [["box", -1, y0 + a - e, z0 + sh, deep + 2, y0 + b + e, z0 + broad - sh]],
        shift=(s, -y0, -z0),
    )
    return rail, leg


def housing():
    t, k, deep, d = pick(16, 30), pick(12, 24), pick(4, 8), pick(150, 400)
    e = off()
    at = pick(100, 300)
    side = part([t, d, 500.0], [["box", t - deep, -1, at - e, t + 1, d + 1, at + k + e]])
    shelf = part([pick(200, 500), d, k], shift=(t - deep, 0, at))
    return side, shelf


def mitre():
    t, w, h, d = pick(10, 25), pick(200, 500), pick(200, 400), pick(100, 300)
    e = off()
    top = part([w, d, t], [["half", 0, 0, t, -1, 0, -1]], shift=(0, 0, h - t))
    # The slope of the upright is moved square to itself by e.
    r = e / math.sqrt(2)
    side = part([t, d, h], [["half", t - r, 0, h - t - r, 1, 0, 1]])
    return top, side


def halving():
    a, b, t = pick(30, 70), pick(30, 70), pick(20, 40)
    e = off()
    half_t = t / 2
    one = part([400.0, a, t], [["box", 150, -1, half_t, 150 + b, a + 1, t + 1]])
    other = part([b, 400.0, t], [["box", -1, 150, -1, b + 1, 150 + a, half_t + e]], shift=(150, -150, 0))
    return one, other


def butt():
    """A board that stands askew on another."""
    turn = rng.choice([0, 0, 15, 30, 45])
    e = off()
    one = part([400.0, 300.0, pick(15, 25)])
    other = part([pick(100, 200), pick(15, 25), pick(100, 300)], turn=(0, 0, turn), shift=(150, 60, one["size"][2] + e))
    return one, other


def joint():
    kind = rng.choice([mortise_tenon, mortise_tenon, housing, mitre, halving, butt])
    one, other = kind()
    a, b = stood(one), stood(other)
    shared = (a ^ b).volume()
    # Moved by a hair against the other, along each axis both ways: what stands in the
    # way of it.
    touch = []
    for way in [(1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1)]:
        moved = b.translate([HAIR * w for w in way])
        touch.append(round(((a ^ moved).volume() - shared) / HAIR, 3))
    return {"kind": kind.__name__, "parts": [one, other], "shared": round(shared, 6), "touch": touch}


print(json.dumps([joint() for _ in range(240)], indent=None, separators=(",", ":")).replace("},{\"kind\"", "},\n{\"kind\""))
