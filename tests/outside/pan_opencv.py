"""The usual way with OpenCV, as a yardstick: goodFeaturesToTrack, calcOpticalFlowPyrLK,
findHomography from frame to frame, and the chain of those maps.

    pan_opencv.py <folder of PGM frames with truth.json> [threads] [every-n-frames re-detection]

Prints one JSON object: milliseconds a frame, points, and for a camera that only turns how far off
the chain's end is (RMS over a 5 x 5 grid of the last picture, pixels of angle; the same measure as
examples/pan_arena/drift.rs).
"""

import json
import sys
import time
from pathlib import Path

import cv2
import numpy as np


def main():
    folder = Path(sys.argv[1])
    cv2.setNumThreads(int(sys.argv[2]) if len(sys.argv) > 2 else 2)
    redetect = int(sys.argv[3]) if len(sys.argv) > 3 else 10
    cv2.setRNGSeed(1)
    frames = sorted(folder.glob("*.pgm"))
    chain = np.eye(3)
    previous, points, times, counts = None, None, [], []
    spacing = None
    for number, path in enumerate(frames):
        grey = cv2.imread(str(path), cv2.IMREAD_GRAYSCALE)
        begun = time.perf_counter()
        if previous is None:
            spacing = 0.012 * grey.shape[1]
            points = cv2.goodFeaturesToTrack(grey, 320, 0.001, spacing)
        else:
            moved, found, _ = cv2.calcOpticalFlowPyrLK(
                previous, grey, points, None, winSize=(21, 21), maxLevel=4,
                criteria=(cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, 30, 0.01))
            back, returned, _ = cv2.calcOpticalFlowPyrLK(
                grey, previous, moved, None, winSize=(21, 21), maxLevel=4,
                criteria=(cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, 30, 0.01))
            good = (found.ravel() == 1) & (returned.ravel() == 1)
            good &= np.linalg.norm((back - points).reshape(-1, 2), axis=1) < 0.5
            before, after = points[good], moved[good]
            # OpenCV's pixel centres are whole numbers; the chain is scored with outer corners at 0.
            step, mask = cv2.findHomography(before + 0.5, after + 0.5, cv2.RANSAC, 1.0)
            chain = step @ chain
            points = after[mask.ravel() == 1].reshape(-1, 1, 2)
            counts.append(len(points))
            if number % redetect == 0 or len(points) < 120:
                blocked = np.full(grey.shape, 255, np.uint8)
                for x, y in points.reshape(-1, 2):
                    cv2.circle(blocked, (int(x), int(y)), int(spacing), 0, -1)
                room = max(320 - len(points), 1)
                fresh = cv2.goodFeaturesToTrack(grey, room, 0.001, spacing, mask=blocked)
                if fresh is not None:
                    points = np.concatenate([points, fresh]).astype(np.float32)
        times.append(1e3 * (time.perf_counter() - begun))
        previous = grey
    out = {"frames": len(frames), "ms_mean": float(np.mean(times)),
           "ms_median": float(np.median(times)), "points_median": float(np.median(counts))}
    truth = folder / "truth.json"
    if truth.exists():
        out["chain_off_px"] = chain_off(json.loads(truth.read_text()), chain)
    print(json.dumps(out))


def chain_off(truth, chain):
    first, last = truth["frames"][0], truth["frames"][-1]
    centre = np.array([truth["width"] / 2, truth["height"] / 2])
    back = np.linalg.inv(chain)
    squares = []
    for i in range(5):
        for j in range(5):
            at = centre * [0.2 + 0.4 * i, 0.2 + 0.4 * j]
            p = back @ [at[0], at[1], 1]
            ray = np.array([p[0] - centre[0] * p[2], p[1] - centre[1] * p[2],
                            first["focal_px"] * p[2]])
            found = turn(first).T @ ray
            found /= np.linalg.norm(found)
            true = turn(last).T @ [at[0] - centre[0], at[1] - centre[1], last["focal_px"]]
            true /= np.linalg.norm(true)
            off = np.linalg.norm(found * np.sign(found @ true) - true) * last["focal_px"]
            squares.append(off ** 2)
    return float(np.sqrt(np.mean(squares)))


def turn(frame):
    return np.array(frame["camera_from_ground"]).reshape(3, 3)


main()
