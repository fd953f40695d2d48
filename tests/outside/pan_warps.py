"""Clips with an exact truth for the tracker, warped by scikit-image.

    pan_warps.py <folder> [name ...]

Writes <folder>/<name>/00000.pgm ... and truth.json with "maps": for each frame the 3 x 3 matrix to
its pixels from the source picture's (outer corners at zero). Sources are pictures that come with
scikit-image and random fields; they are seen through a camera that pans, shakes, rolls and zooms.
"""

import json
import sys
from pathlib import Path

import numpy as np
from scipy.ndimage import gaussian_filter
from skimage import color, data, transform

WIDE, HIGH, FRAMES = 640, 360, 48


def main():
    folder, wanted = Path(sys.argv[1]), sys.argv[2:]
    rng = np.random.default_rng(4)
    sources = {
        "field-fine": field(rng, [1.6, 5, 20]),
        "field-coarse": field(rng, [3.5, 12, 40]),
        "camera": enlarged(data.camera() / 255.0, 2.2),
        "astronaut": enlarged(color.rgb2gray(data.astronaut()), 2.2),
        "coffee": enlarged(color.rgb2gray(data.coffee()), 2.0),
    }
    for name, source in sources.items():
        maps = path(source.shape, rng)
        ways = {name: 0}
        if name in ("field-fine", "camera"):
            ways |= {f"{name}-noise": 3, f"{name}-blur": 2}
        for way, noise in ways.items():
            if wanted and way not in wanted:
                continue
            blur = way.endswith("-blur")
            frames = blurred(source, maps) if blur else [view(source, m) for m in maps]
            write(folder / way, frames, maps, rng, noise)


def field(rng, sizes):
    total = np.zeros((900, 1300))
    for size in sizes:
        layer = gaussian_filter(rng.standard_normal(total.shape), size, mode="wrap")
        total += layer / layer.std()
    return 0.5 + 0.16 * total


def enlarged(picture, factor):
    # Enlarged by a quintic spline: band-limited, so that a warp of it is exact to a thousandth.
    return transform.rescale(picture, factor, order=5, mode="reflect")


def path(shape, rng):
    """To the frame from the source: pan there and half-way back, tremor, roll, zoom, slant."""
    high, wide = shape
    maps = []
    shake = gaussian_filter(rng.standard_normal((FRAMES, 3)), (1.0, 0)) * [2.5, 2.5, 0.004]
    for i in range(FRAMES):
        t = i / (FRAMES - 1)
        there = np.sin(t * 0.75 * np.pi)
        left = 30 + (wide - WIDE - 90) * there + shake[i, 0]
        top = (high - HIGH) / 2 + 20 * np.sin(5 * t) + shake[i, 1]
        roll, zoom = 0.02 * np.sin(4 * t) + shake[i, 2], 1 + 0.12 * np.sin(3 * t)
        c, s = np.cos(roll) * zoom, np.sin(roll) * zoom
        about = np.array([[c, -s, 0], [s, c, 0], [6e-5 * np.sin(6 * t), 4e-5 * np.cos(5 * t), 1]])
        to_middle = np.array([[1, 0, -left - WIDE / 2], [0, 1, -top - HIGH / 2], [0, 0, 1]])
        back = np.array([[1, 0, WIDE / 2], [0, 1, HIGH / 2], [0, 0, 1]])
        maps.append(back @ about @ to_middle)
    return maps


def view(source, frame_from_source):
    half = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]])
    centres = np.linalg.inv(half) @ np.linalg.inv(frame_from_source) @ half
    return transform.warp(source, centres, output_shape=(HIGH, WIDE), order=5, mode="reflect")


def blurred(source, maps):
    """Exposed for half of the time between frames."""
    frames = []
    for i, now in enumerate(maps):
        step = (maps[min(i + 1, FRAMES - 1)] - maps[max(i - 1, 0)]) / 2
        parts = [view(source, now + share * step) for share in np.linspace(-0.25, 0.25, 7)]
        frames.append(np.mean(parts, axis=0))
    return frames


def write(folder, frames, maps, rng, noise):
    folder.mkdir(parents=True, exist_ok=True)
    for i, frame in enumerate(frames):
        levels = 255 * frame + noise * rng.standard_normal(frame.shape)
        pixels = np.clip(np.round(levels), 0, 255).astype(np.uint8)
        header = f"P5\n{WIDE} {HIGH}\n255\n".encode()
        (folder / f"{i:05d}.pgm").write_bytes(header + pixels.tobytes())
    truth = {"maps": [m.ravel().tolist() for m in maps]}
    (folder / "truth.json").write_text(json.dumps(truth))


main()
