// Where the horse is about, by its footfalls: so that an enlarged picture goes along with it. Only
// for looking; no number comes from it.

/** @import { MarkView } from './wire.d.ts' */
/** @import { Point } from './view_transform.js' */

/** Marks nearer in time than this tell limbs apart, not the way of the horse. */
const APART = 15;

/**
 * @param {MarkView[]} footfalls @param {number} frame @param {boolean} [turning] the phone went along with the
 * horse: beyond the first and last footfall it is where it was there, for its way on the picture tells no speed
 * @returns {Point | null} nothing before there are two strides to go by
 */
export function aboutWhere(footfalls, frame, turning = false) {
  const seen = footfalls.filter((m) => !m.hidden).sort((a, b) => a.frame - b.frame);
  /** @type {MarkView[]} */
  const apart = [];
  for (const m of seen) {
    const last = apart.at(-1);
    if (!last || m.frame - last.frame >= APART) apart.push(m);
  }
  if (apart.length < 2) return null;
  const after = apart.findIndex((m) => m.frame > frame);
  const i = after < 0 ? apart.length - 1 : Math.max(after, 1);
  const a = /** @type {MarkView} */ (apart[i - 1]);
  const b = /** @type {MarkView} */ (apart[i]);
  const along = (frame - a.frame) / (b.frame - a.frame);
  const share = turning ? Math.min(Math.max(along, 0), 1) : along;
  return { x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share };
}
