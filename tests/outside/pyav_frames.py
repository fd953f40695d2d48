"""Another program's view of a clip: every frame's time, and the luma of some frames.

Usage: pyav_frames.py CLIP STREAM LUMA_FILE EVERY

Prints JSON: {"time_base": [num, den], "frames": [{"pts", "width", "height"}]}, frames in the order they come out of
the decoder. The luma of every EVERY-th frame is appended to LUMA_FILE as bytes, turned upright by the frame's own
display matrix, 10-bit samples shifted to 8. Needs PyAV and numpy; shares no code with the program under test.
"""

import json
import sys

import av
import numpy as np


def luma(frame):
    plane = frame.planes[0]
    wide = "10" in frame.format.name
    samples = np.frombuffer(plane, dtype=np.uint16 if wide else np.uint8)
    stride = plane.line_size // (2 if wide else 1)
    picture = samples.reshape(-1, stride)[: frame.height, : frame.width]
    if wide:
        picture = (picture >> 2).astype(np.uint8)
    return np.ascontiguousarray(np.rot90(picture, k=round(frame.rotation / 90)))


def frames(container, stream):
    for packet in container.demux(stream):
        try:
            yield from packet.decode()
        except av.error.InvalidDataError:
            continue


def main():
    clip, stream_index, luma_file, every = sys.argv[1], int(sys.argv[2]), sys.argv[3], int(sys.argv[4])
    found = []
    with av.open(clip) as container, open(luma_file, "wb") as out:
        stream = container.streams[stream_index]
        stream.thread_type = "AUTO"
        for number, frame in enumerate(frames(container, stream)):
            width, height = frame.width, frame.height
            if number % every == 0:
                picture = luma(frame)
                height, width = picture.shape
                out.write(picture.tobytes())
            found.append({"pts": frame.pts, "width": width, "height": height})
        base = stream.time_base
    print(json.dumps({"time_base": [base.numerator, base.denominator], "frames": found}))


main()
