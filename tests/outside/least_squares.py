"""Solves the camera-pose problem of outside_scipy.rs with SciPy, with its own camera model.

Reads {focal, centre, points, pixels, sd, start (position, rotation vector)}; prints
{x, covariance} with the covariance inv(J'J).
"""

import json
import sys

import numpy as np
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

case = json.load(sys.stdin)
points = np.array(case["points"])
pixels = np.array(case["pixels"])


def residuals(x):
    seen = Rotation.from_rotvec(x[3:]).apply(points - x[:3])
    projected = case["focal"] * seen[:, :2] / seen[:, 2:] + np.array(case["centre"])
    return ((projected - pixels) / case["sd"]).ravel()


def slopes(x):
    # Fourth-order central differences: about ten correct digits.
    columns = []
    for i in range(len(x)):
        h = np.zeros(len(x))
        h[i] = 1e-3
        columns.append(
            (8 * (residuals(x + h) - residuals(x - h)) - residuals(x + 2 * h) + residuals(x - 2 * h))
            / 12e-3
        )
    return np.array(columns).T


fit = least_squares(
    residuals, case["start"], jac=slopes, x_scale="jac", method="trf", xtol=1e-15, ftol=1e-15, gtol=1e-15
)
slope = slopes(fit.x)
json.dump(
    {"x": fit.x.tolist(), "covariance": np.linalg.inv(slope.T @ slope).tolist(), "cost": fit.cost},
    sys.stdout,
)
