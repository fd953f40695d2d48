"""Homographies and undistorted points of outside_warps.rs by other libraries.

Reads {pixels, ground, probes, lens: {focal, centre, k1}}: point pairs, picture points to be mapped,
and a lens. Prints the probes on the ground by {opencv, skimage, numpy}, and by {back} from OpenCV's
ground places to the picture; and {ideal}, the probes with the lens's distortion taken out.

`numpy` is the normalised direct linear transform of Hartley & Zisserman (2004, algorithm 4.2) in
NumPy: centroid at the origin, mean distance from it √2. scikit-image's is the same but for the root
mean square in place of the mean; OpenCV goes on to the least squares of distances on the ground.
"""

import json
import sys

import cv2
import numpy as np
from skimage.transform import ProjectiveTransform

case = json.load(sys.stdin)
pixels, ground, probes = (np.array(case[key]) for key in ("pixels", "ground", "probes"))


def mapped(matrix, points):
    out = np.column_stack([points, np.ones(len(points))]) @ matrix.T
    return out[:, :2] / out[:, 2:]


def normaliser(points):
    middle = points.mean(axis=0)
    scale = np.sqrt(2) / np.linalg.norm(points - middle, axis=1).mean()
    return np.array([[scale, 0, -scale * middle[0]], [0, scale, -scale * middle[1]], [0, 0, 1]])


def direct(source, target):
    from_source, from_target = normaliser(source), normaliser(target)
    rows = []
    for (x, y), (u, v) in zip(mapped(from_source, source), mapped(from_target, target)):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y, -u])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y, -v])
    matrix = np.linalg.svd(np.array(rows))[2][-1].reshape(3, 3)
    return np.linalg.inv(from_target) @ matrix @ from_source


by_opencv, _ = cv2.findHomography(pixels, ground, 0)
by_skimage = ProjectiveTransform.from_estimate(pixels, ground)
assert by_skimage, by_skimage
lens = case["lens"]
matrix = np.array([[lens["focal"], 0, lens["centre"][0]], [0, lens["focal"], lens["centre"][1]], [0, 0, 1]])
# Only this one goes on until it is done; OpenCV 5 gave it the plain name.
undistort = getattr(cv2, "undistortPointsIter", cv2.undistortPoints)
stop = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_COUNT, 1000, 1e-14)
bend = np.array([lens["k1"], 0, 0, 0, 0])
ideal = undistort(probes[:, None], matrix, bend, R=None, P=None, criteria=stop)[:, 0]
on_ground = mapped(by_opencv, probes)
json.dump(
    {
        "opencv": on_ground.tolist(),
        "skimage": by_skimage(probes).tolist(),
        "numpy": mapped(direct(pixels, ground), probes).tolist(),
        "back": by_skimage.inverse(on_ground).tolist(),
        "ideal": ideal.tolist(),
    },
    sys.stdout,
)
