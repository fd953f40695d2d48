"""Finds the corners of a printed chessboard in each picture, with OpenCV.

Reads {folder, pattern: [columns, rows], square}, the folder holding left*.jpg and
left_intrinsics.yml, the published lens; prints {size, focal, centre, views: [{name, corners,
ideal, opencv}]}: corners in pixels from the centre of the first pixel, row by row; the same
points with the published distortion taken out, as x/z and y/z; and the inner corners, in units of
`square`, as OpenCV's own pose from the outer ring and the published lens predicts them.
"""

import json
import sys
from pathlib import Path

import cv2
import numpy as np

STOP = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_COUNT, 100, 1e-10)
# Only this one goes on until it is done; OpenCV 5 gave it the plain name.
undistort = getattr(cv2, "undistortPointsIter", cv2.undistortPoints)

case = json.load(sys.stdin)
columns, rows = case["pattern"]
folder = Path(case["folder"])
published = cv2.FileStorage(str(folder / "left_intrinsics.yml"), cv2.FILE_STORAGE_READ)
matrix = published.getNode("camera_matrix").mat()
bend = published.getNode("distortion_coefficients").mat()
grid = np.array([[c, r, 0] for r in range(rows) for c in range(columns)]) * case["square"]
ring = np.array([r in (0, rows - 1) or c in (0, columns - 1) for r in range(rows) for c in range(columns)])


def predicted(corners, ideal):
    _, turn, shift = cv2.solvePnP(grid[ring], corners[ring], matrix, bend)
    turn, shift = cv2.solvePnPRefineLM(grid[ring], corners[ring], matrix, bend, turn, shift, STOP)
    turn, _ = cv2.Rodrigues(turn)
    camera = -(turn.T @ shift).ravel()
    rays = np.column_stack([ideal, np.ones(len(ideal))]) @ turn
    return (camera - rays * (camera[2] / rays[:, 2])[:, None])[:, :2]


views = []
size = None
for path in sorted(folder.glob("left*.jpg")):
    grey = cv2.imread(str(path), cv2.IMREAD_GRAYSCALE)
    size = [grey.shape[1], grey.shape[0]]
    found, corners = cv2.findChessboardCorners(grey, (columns, rows))
    assert found, path
    # Squares are 22 pixels and more; a window of 11 stays inside the four that meet.
    corners = cv2.cornerSubPix(grey, corners, (5, 5), (-1, -1), (*STOP[:2], 1e-4))
    corners = corners.reshape(-1, 2).astype(float)
    ideal = undistort(corners[:, None], matrix, bend, R=None, P=None, criteria=STOP)[:, 0]
    views.append(
        {
            "name": path.stem,
            "corners": corners.tolist(),
            "ideal": ideal.tolist(),
            "opencv": predicted(corners, ideal).tolist(),
        }
    )
json.dump(
    {"size": size, "focal": matrix[0, 0], "centre": matrix[:2, 2].tolist(), "views": views},
    sys.stdout,
)
