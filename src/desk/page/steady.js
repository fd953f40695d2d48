// The background held still: each frame laid over the one that was shown when it began. For looking
// only; nothing is placed on a picture that is bent.

/** @import { View, Size } from './view_transform.js' */
/** @import { SteadyView } from './wire.d.ts' */

/** Of the view's width: the rest is room for where the camera turned to. */
const SHARE = 0.6;

/** The frame in the middle of the view, smaller than it. @param {Size} frame @param {Size} room @returns {View} */
export function steadyFrame(frame, room) {
  const scale = SHARE * Math.min(room.width / frame.width, room.height / frame.height);
  return { scale, x: (room.width - frame.width * scale) / 2, y: (room.height - frame.height * scale) / 2 };
}

/**
 * The CSS transform that lays what is drawn for a frame over the first one; nothing where that frame
 * was not followed.
 * @param {SteadyView} steady @param {number} frame @param {View} v @returns {string | null}
 */
export function steadyTransform(steady, frame, v) {
  const map = steady.maps[frame];
  if (!map) return null;
  const [a, b, c, d, e, f, g, h, i] = map;
  // To frame pixels, over the other frame, and back to the display: V · M · V⁻¹.
  const s = v.scale;
  const toFrame = [1 / s, 0, -v.x / s, 0, 1 / s, -v.y / s, 0, 0, 1];
  const toDisplay = [s, 0, v.x, 0, s, v.y, 0, 0, 1];
  const m = times(toDisplay, times([a, b, c, d, e, f, g, h, i], toFrame));
  const n = m.map((value) => value / /** @type {number} */ (m[8]));
  return `matrix3d(${n[0]}, ${n[3]}, 0, ${n[6]}, ${n[1]}, ${n[4]}, 0, ${n[7]}, 0, 0, 1, 0, ${n[2]}, ${n[5]}, 0, ${n[8]})`;
}

/** Of two 3 × 3 matrices, row by row. @param {number[]} a @param {number[]} b */
function times(a, b) {
  return [0, 1, 2].flatMap((row) => [0, 1, 2].map((column) =>
    [0, 1, 2].reduce((sum, k) => sum + /** @type {number} */ (a[3 * row + k]) * /** @type {number} */ (b[3 * k + column]), 0)));
}
