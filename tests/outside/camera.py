"""Projects points with OpenCV and finds the pose from exact picture points.

Reads {focal, centre, k1, turn (3x3, camera from ground), position, points}; prints
{pixels, turn, position}.
"""

import json
import sys

import cv2
import numpy as np

case = json.load(sys.stdin)
turn = np.array(case["turn"])
position = np.array(case["position"])
points = np.array(case["points"])
matrix = np.array(
    [[case["focal"], 0, case["centre"][0]], [0, case["focal"], case["centre"][1]], [0, 0, 1]]
)
bend = np.array([case["k1"], 0.0, 0.0, 0.0, 0.0])
rotation, _ = cv2.Rodrigues(turn)
pixels, _ = cv2.projectPoints(points, rotation, -turn @ position, matrix, bend)
# Its own undistortion stops early; the refinement by Levenberg-Marquardt goes to the bottom.
found, rotation, shift = cv2.solvePnP(
    points, np.array(case["pixels"]), matrix, bend, flags=cv2.SOLVEPNP_SQPNP
)
assert found
rotation, shift = cv2.solvePnPRefineLM(
    points,
    np.array(case["pixels"]),
    matrix,
    bend,
    rotation,
    shift,
    (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_COUNT, 200, 1e-15),
)
turn, _ = cv2.Rodrigues(rotation)
json.dump(
    {
        "pixels": pixels.reshape(-1, 2).tolist(),
        "turn": turn.tolist(),
        "position": (-turn.T @ shift).ravel().tolist(),
    },
    sys.stdout,
)
