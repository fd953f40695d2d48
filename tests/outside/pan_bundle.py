"""The small case of src/pan/tests/small.rs by SciPy: least_squares with differences of its own,
covariance (J'J)^-1. Prints what src/pan/tests/outside.rs holds.

    ~/.cache/groundline/outside-venv/bin/python outside/pan_bundle.py
"""

import numpy as np
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

CENTRE = np.array([640.0, 360.0])


def project(log_focal, k1, turn, log_zoom, shift, toward, nearness):
    seen = turn.apply(toward - nearness * shift)
    ideal = seen[:2] / seen[2]
    return CENTRE + np.exp(log_focal + log_zoom) * ideal * (1 + k1 * ideal @ ideal)


def case(handheld):
    yaws = [0.0, -0.12, -0.25]
    turns = [Rotation.from_rotvec([0.01 * y, y, -0.02 * y]) for y in yaws]
    zooms = [0.0, 0.04, 0.09] if handheld else [0.0] * 3
    shifts = [[0, 0, 0], [0.10, -0.03, 0.05], [-0.08, 0.06, -0.12]]
    shifts = [np.array(s, float) if handheld else np.zeros(3) for s in shifts]
    points, nearness = [], []
    for i in range(9):
        direction = np.array([(i % 3) * 0.16 - 0.05, (i // 3) * 0.14 - 0.14, 1.0])
        points.append(direction / np.linalg.norm(direction))
        nearness.append(0.02 + 0.013 * ((i * 5) % 9))
    seen = {}
    for i in range(9):
        for key in range(3):
            n = 3 * i + key
            noise = 0.3 * np.array([np.sin(1.7 * n), np.cos(2.3 * n + 0.5)])
            at = project(np.log(1000.0), -0.03, turns[key], zooms[key], shifts[key],
                         points[i], nearness[i])
            seen[i, key] = at + noise, 0.2 + 0.05 * (n % 3)
    return turns, points, nearness, seen


def solve(handheld):
    """Twice: the second time with turns told against where the first ended, so that a rotation
    vector and a step of the turn are the same."""
    exact = case(handheld)[0]
    first = run(handheld, exact)
    count = 7 if handheld else 3
    turned = [Rotation.from_rotvec(first.x[2 + i * count:5 + i * count]) for i in (0, 1)]
    ends = [exact[0], turned[0] * exact[1], turned[1] * exact[2]]
    found = run(handheld, ends)
    covariance = np.linalg.inv(found.jac.T @ found.jac)
    cameras = 2 + 2 * count
    value = first.x[:cameras]
    print("handheld and zooming" if handheld else "turning", "cost", repr(float(found.cost)))
    print("  value", [float(f"{v:.9g}") for v in value])
    print("  sd", [float(f"{v:.7g}") for v in np.sqrt(np.diag(covariance))[:cameras]])
    print("  cross 0,3 and 0,last", covariance[0, 3], covariance[0, cameras - 1])


def run(handheld, turns):
    _, points, nearness, seen = case(handheld)
    count = 7 if handheld else 3
    each = 3 if handheld else 2
    cameras = 2 + 2 * count
    flat = [p[:2] / p[2] for p in points]

    def parts(x):
        poses = [(Rotation.identity(), 0.0, np.zeros(3))]
        for key in (1, 2):
            own = x[2 + (key - 1) * count:2 + key * count]
            turn = Rotation.from_rotvec(own[:3]) * turns[key]
            poses.append((turn, own[3], own[4:7]) if handheld else (turn, 0.0, np.zeros(3)))
        return poses

    def residuals(x):
        poses = parts(x)
        out = [(x[0] - 6.95) / 0.2, x[1] / 0.05]
        for turn, zoom, shift in poses[1:]:
            if handheld:
                out += [zoom / 0.3, *(shift / 0.2)]
        for i in range(9):
            own = x[cameras + each * i:cameras + each * (i + 1)]
            toward = np.array([*own[:2], 1.0])
            toward /= np.linalg.norm(toward)
            near = own[2] if handheld else 0.0
            if handheld:
                # The belief in its nearness, and where no background is.
                out += [(near - 0.06) / 0.2, min(near, 0.0) / 0.02, max(near - 0.4, 0.0) / 0.03]
            for key in range(3):
                at, sd = seen[i, key]
                out += list((project(x[0], x[1], *poses[key], toward, near) - at) / sd)
        return np.array(out)

    start = np.zeros(cameras + each * 9)
    start[:2] = np.log(1000.0), -0.03
    for i in range(9):
        start[cameras + each * i:cameras + each * i + 2] = flat[i]
        if handheld:
            start[cameras + each * i + 2] = nearness[i]
    if handheld:
        start[2 + 3:2 + 7] = [0.04, 0.10, -0.03, 0.05]
        start[2 + count + 3:2 + count + 7] = [0.09, -0.08, 0.06, -0.12]
    return least_squares(residuals, start, jac="3-point", method="lm",
                         xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=100000)


solve(False)
solve(True)
