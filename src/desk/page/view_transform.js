// Where the frame lies in the view: display = scale × frame + offset. Pure.

/** @typedef {{ x: number, y: number }} Point */
/** @typedef {{ scale: number, x: number, y: number }} View */
/** @typedef {{ width: number, height: number }} Size */

/** At 32 a source pixel is as large as a thumb: more shows nothing. */
const LARGEST = 32;

/** The whole frame, centred. @param {Size} frame @param {Size} room @returns {View} */
export function fitted(frame, room) {
  const scale = Math.max(Math.min(room.width / frame.width, room.height / frame.height), 0.01);
  return { scale, x: (room.width - frame.width * scale) / 2, y: (room.height - frame.height * scale) / 2 };
}

/** @param {Point} p @param {View} v @returns {Point} */
export const displayFromFrame = (p, v) => ({ x: p.x * v.scale + v.x, y: p.y * v.scale + v.y });
/** @param {Point} p @param {View} v @returns {Point} */
export const frameFromDisplay = (p, v) => ({ x: (p.x - v.x) / v.scale, y: (p.y - v.y) / v.scale });

/**
 * Enlarges about a point of the display, which stays where it is.
 * @param {View} v @param {Point} about @param {number} factor @param {Size} frame @param {Size} room @returns {View}
 */
export function zoomed(v, about, factor, frame, room) {
  const least = fitted(frame, room).scale;
  const scale = Math.min(Math.max(v.scale * factor, least), LARGEST);
  const k = scale / v.scale;
  return kept({ scale, x: about.x - (about.x - v.x) * k, y: about.y - (about.y - v.y) * k }, frame, room);
}

/** @param {View} v @param {number} dx @param {number} dy @param {Size} frame @param {Size} room @returns {View} */
export const panned = (v, dx, dy, frame, room) => kept({ ...v, x: v.x + dx, y: v.y + dy }, frame, room);

/** The frame never leaves the view; where it is smaller it stays in the middle. @param {View} v @param {Size} frame @param {Size} room @returns {View} */
export function kept(v, frame, room) {
  return {
    scale: v.scale,
    x: keptAlong(v.x, frame.width * v.scale, room.width),
    y: keptAlong(v.y, frame.height * v.scale, room.height),
  };
}

/** @param {number} start @param {number} length @param {number} room */
function keptAlong(start, length, room) {
  if (length <= room) return (room - length) / 2;
  return Math.min(0, Math.max(room - length, start));
}
