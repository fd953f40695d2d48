// What marks are marks of: names to compare them by, words to show.

/** @import { Spot, LimbName, EventName, Target, MarkView, Act } from './wire.d.ts' */

/** The order in which the feet of a canter stride come down. @type {LimbName[]} */
export const CANTER_ORDER = ['trailing_hind', 'leading_hind', 'trailing_fore', 'leading_fore'];

/** @type {Record<LimbName, string>} */
export const LIMB_WORDS = {
  trailing_hind: 'trailing hind',
  leading_hind: 'leading hind',
  trailing_fore: 'trailing fore',
  leading_fore: 'leading fore',
};

/** @type {Record<EventName, string>} */
export const EVENT_WORDS = { stride: 'stride', take_off: 'take-off', landing: 'landing', away: 'first stride away' };

/** The same spot gives the same text. @param {Spot} spot @returns {string} */
export function spotKey(spot) {
  switch (spot.of) {
    case 'pole_end': return `pole ${spot.pole} ${spot.end}`;
    case 'base': return `base ${spot.fence} ${spot.end}`;
    case 'length_end': return `length ${spot.reference} ${spot.end}`;
    case 'tie': return `tie ${spot.tie}`;
    case 'footfall': return `footfall ${spot.approach} ${spot.footfall}`;
    case 'other': return `other ${spot.address}`;
  }
}

/** A mark is a spot on a frame. @param {{ spot: Spot, frame: number }} mark */
export const markKey = (mark) => `${spotKey(mark.spot)} @${mark.frame}`;

/** @param {LimbName} limb @param {EventName} event */
export const footfallWords = (limb, event) =>
  event === 'stride' ? LIMB_WORDS[limb] : `${LIMB_WORDS[limb]}, ${EVENT_WORDS[event]}`;

/** @param {LimbName} limb @param {EventName} event @returns {Target} */
export const footfallTarget = (limb, event) => ({ target: 'footfall', limb, event, label: footfallWords(limb, event) });

/** Whether a mark is what the target asks for. @param {Target} target @param {Spot} spot */
export function isOf(target, spot) {
  if (target.target === 'pole_end') return spot.of === 'pole_end' && spot.pole === target.pole && spot.end === target.end;
  if (target.target === 'length_end') return spot.of === 'length_end' && spot.reference === target.reference && spot.end === target.end;
  if (target.target === 'base') return spot.of === 'base' && spot.fence === target.fence && spot.end === target.end;
  return false;
}

/**
 * The act that places a target.
 * @param {Target} target @param {{ frame: number, x: number, y: number }} at
 * @param {{ snap: boolean, hidden: boolean, approach: string | null }} how
 * @returns {Act}
 */
export function placingAct(target, at, how) {
  switch (target.target) {
    case 'pole_end': return { act: 'place_pole_end', pole: target.pole, end: target.end, at, snap: how.snap };
    case 'base': return { act: 'place_base', fence: target.fence || null, end: target.end, at };
    case 'length_end': return { act: 'place_length_end', reference: target.reference, end: target.end, at };
    case 'footfall':
      return { act: 'place_footfall', approach: how.approach, limb: target.limb, event: target.event, at, hidden: how.hidden };
    case 'tie': return { act: 'place_tie', tie: target.tie, at };
  }
}

/** Marks of things that stand still. @param {Spot} spot */
export const standsStill = (spot) => spot.of !== 'footfall';

/** Frames that have marks, in order, each once. @param {MarkView[]} marks */
export const markedFrames = (marks) => [...new Set(marks.map((m) => m.frame))].sort((a, b) => a - b);

/**
 * The marked frame after (or before) a frame.
 * @param {MarkView[]} marks @param {number} frame @param {1 | -1} direction @returns {number | null}
 */
export function nextMarkedFrame(marks, frame, direction) {
  const frames = markedFrames(marks);
  const there = direction > 0 ? frames.find((f) => f > frame) : frames.findLast((f) => f < frame);
  return there ?? null;
}
