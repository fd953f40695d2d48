// The sign of a footfall: a horseshoe open at the heel, its toe the way the horse goes. Fore prints
// are round, hind prints pointed; leading limbs filled, trailing limbs outlined.

import { svg } from './html.js';

/** @import { LimbName } from './wire.d.ts' */

/** In a square of side 1 about (0, 0), toe to the right. @type {Record<LimbName, string>} */
const SHAPES = {
  leading_fore: 'M-.4-.3A.5.5 0 1 1-.4.3L-.06 0Z',
  trailing_fore: 'M-.4-.3A.5.5 0 1 1-.4.3L-.2.15A.25.25 0 1 0-.2-.15Z',
  leading_hind: 'M-.44-.27C-.1-.52.36-.36.6 0C.36.36-.1.52-.44.27L-.08 0Z',
  trailing_hind: 'M-.44-.27C-.1-.52.36-.36.6 0C.36.36-.1.52-.44.27L-.24.13C0 .25.16.16.3 0C.16-.16 0-.25-.24-.13Z',
};

/**
 * @param {LimbName} limb
 * @param {{ size: number, x?: number, y?: number, leftwards?: boolean }} how
 * @returns {SVGElement}
 */
export function hoofPrint(limb, { size, x = 0, y = 0, leftwards = false }) {
  const turn = leftwards ? ' scale(-1 1)' : '';
  return svg('g', { class: `print ${limb.startsWith('leading') ? 'leading' : 'trailing'}`, transform: `translate(${x} ${y}) scale(${size})${turn}` },
    svg('path', { class: 'casing', d: SHAPES[limb], 'vector-effect': 'non-scaling-stroke' }),
    svg('path', { class: 'shape', d: SHAPES[limb], 'vector-effect': 'non-scaling-stroke' }));
}

/** The sign alone, for buttons and lists. @param {LimbName} limb @param {number} [size] */
export function hoofIcon(limb, size = 22) {
  return svg('svg', { class: 'hoof-icon', viewBox: '-.7 -.7 1.4 1.4', width: size, height: size, 'aria-hidden': 'true' }, hoofPrint(limb, { size: 1 }));
}

/**
 * Whether the horse goes to the left in the picture, judged by its footfalls.
 * @param {{ spot: { of: string }, frame: number, x: number }[]} marks
 */
export function goesLeft(marks) {
  const falls = marks.filter((m) => m.spot.of === 'footfall').sort((a, b) => a.frame - b.frame);
  const first = falls[0];
  const last = falls.at(-1);
  return Boolean(first && last && last.x < first.x);
}
