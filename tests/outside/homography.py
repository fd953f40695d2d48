"""Puts clicks through a plain homography fitted by OpenCV: the textbook way to measure on the ground.

The argument is a JSON file {views: [{pairs: [[x, y, ground x, ground y], …], points: [[x, y], …]}, …]}. Prints
{opencv: version, grounds: [[[ground x, ground y], …] or null, …]}; null where fewer than four pairs are given or
OpenCV finds no homography.
"""

import json
import sys

import cv2
import numpy as np


def grounds(view):
    pairs = np.array(view["pairs"], dtype=np.float64).reshape(-1, 4)
    points = np.array(view["points"], dtype=np.float64).reshape(-1, 1, 2)
    if len(pairs) < 4 or len(points) == 0:
        return None
    # Method 0: all pairs, least squares; nothing is taken for an outlier.
    homography, _ = cv2.findHomography(pairs[:, :2], pairs[:, 2:], 0)
    if homography is None:
        return None
    placed = cv2.perspectiveTransform(points, homography).reshape(-1, 2)
    return [[float(x), float(y)] if np.isfinite(x) and np.isfinite(y) else None for x, y in placed]


with open(sys.argv[1], encoding="utf-8") as file:
    case = json.load(file)
json.dump({"opencv": cv2.__version__, "grounds": [grounds(view) for view in case["views"]]}, sys.stdout)
