// What is placed by the next click. Poles, fence and ties in the order that the program proposes;
// footfalls in the order of the canter, which also depends on how many limbs the coach marks.

import { CANTER_ORDER, footfallTarget, spotKey } from './spots.js';

/** @import { RoundView, Target, LimbName, EventName, StepName, StepView, MarkView, Spot } from './wire.d.ts' */

/**
 * What the coach chose about the order; null is "as proposed".
 * @typedef {{ step: StepName | null, four: boolean, hind: LimbName, phase: EventName | null, approach: string | null, fence: string | null, chosen: Target | null }} Choice
 */

/** @type {Choice} */
export const AS_PROPOSED = { step: null, four: false, hind: 'leading_hind', phase: null, approach: null, fence: null, chosen: null };

/**
 * The step the coach is at: the one she chose, or the first with something missing.
 * @param {RoundView} round @param {Choice} choice @returns {StepView | null}
 */
export function currentStep(round, choice) {
  const chosen = round.steps.find((s) => s.step === choice.step);
  return chosen ?? round.steps.find((s) => !s.done) ?? null;
}

/** The approach that footfalls go to. @param {RoundView} round @param {Choice} choice @returns {string | null} */
export function currentApproach(round, choice) {
  const chosen = round.approaches.find((a) => a.id === choice.approach);
  return (chosen ?? round.approaches.at(-1))?.id ?? null;
}

/** The fence that is stated and marked: the one chosen, or the last. @param {RoundView} round @param {Choice} choice */
export const currentFence = (round, choice) => round.fences.find((f) => f.id === choice.fence) ?? round.fences.at(-1) ?? null;

/** @param {RoundView} round @param {string | null} approach */
export const footfallsOf = (round, approach) =>
  round.marks.filter((m) => m.spot.of === 'footfall' && (approach === null || m.spot.approach === approach));

/** @param {MarkView} mark */
const limbOf = (mark) => (mark.spot.of === 'footfall' ? mark.spot.limb : null);
/** @param {MarkView} mark */
const eventOf = (mark) => (mark.spot.of === 'footfall' ? mark.spot.event : null);

/** Limbs marked at the take-off and at the landing, in the order they come down. */
const AT = /** @type {const} */ ({ take_off: ['trailing_hind', 'leading_hind'], landing: ['trailing_fore', 'leading_fore'] });

/** @param {MarkView[]} footfalls @param {'take_off' | 'landing'} event */
const missingAt = (footfalls, event) =>
  AT[event].find((limb) => !footfalls.some((m) => eventOf(m) === event && limbOf(m) === limb));

/**
 * Which part of the approach is being marked: strides until a take-off is begun, then the rest.
 * @param {MarkView[]} footfalls @param {Choice} choice @returns {EventName | null}
 */
export function currentPhase(footfalls, choice) {
  const begun = choice.phase ?? (footfalls.some((m) => ['take_off', 'landing'].includes(eventOf(m) ?? '')) ? 'take_off' : 'stride');
  if (begun === 'take_off') {
    if (missingAt(footfalls, 'take_off')) return 'take_off';
    return missingAt(footfalls, 'landing') ? 'landing' : null;
  }
  if (begun === 'landing' && !missingAt(footfalls, 'landing')) return null;
  return begun;
}

/**
 * The footfall proposed next at a frame.
 * @param {MarkView[]} footfalls of the approach
 * @param {Choice} choice
 * @param {number} frame
 * @returns {Target | null}
 */
export function nextFootfall(footfalls, choice, frame) {
  const phase = currentPhase(footfalls, choice);
  if (phase === null) return null;
  if (phase === 'take_off' || phase === 'landing') {
    const limb = missingAt(footfalls, phase);
    return limb ? footfallTarget(limb, phase) : null;
  }
  if (!choice.four) return footfallTarget(choice.hind, phase);
  const before = footfalls.filter((m) => eventOf(m) === phase && m.frame <= frame);
  const last = before.reduce((/** @type {MarkView | null} */ a, b) => (a && later(a, b) ? a : b), null);
  const at = last ? CANTER_ORDER.indexOf(/** @type {LimbName} */ (limbOf(last))) : -1;
  return footfallTarget(/** @type {LimbName} */ (CANTER_ORDER[(at + 1) % 4]), phase);
}

/** Whether `a` came down after `b`. @param {MarkView} a @param {MarkView} b */
function later(a, b) {
  if (a.frame !== b.frame) return a.frame > b.frame;
  return CANTER_ORDER.indexOf(/** @type {LimbName} */ (limbOf(a))) > CANTER_ORDER.indexOf(/** @type {LimbName} */ (limbOf(b)));
}

/**
 * What the next click places.
 * @param {RoundView} round @param {Choice} choice @param {number} frame @returns {Target | null}
 */
export function nextTarget(round, choice, frame) {
  if (choice.chosen) return choice.chosen;
  const step = currentStep(round, choice);
  if (!step) return null;
  if (step.step === 'hooves') {
    return nextFootfall(footfallsOf(round, currentApproach(round, choice)), choice, frame);
  }
  if (step.step === 'ties') return tiesAgain(round, frame).find((t) => t.target === 'tie') ?? step.wanted[0] ?? null;
  return step.wanted[0] ?? null;
}

/**
 * Fixed things that are marked on other frames and not on this one: what joins frames of a phone
 * that turned is that the same things are marked in several.
 * @param {RoundView} round @param {number} frame @returns {Target[]}
 */
export function tiesAgain(round, frame) {
  /** @type {Map<string, MarkView>} */
  const still = new Map();
  for (const m of round.marks) if (m.spot.of !== 'footfall' && m.spot.of !== 'other') still.set(spotKey(m.spot), m);
  const here = new Set(round.marks.filter((m) => m.frame === frame).map((m) => spotKey(m.spot)));
  return [...still].filter(([key]) => !here.has(key)).map(([, { spot, label }]) => againTarget(spot, label));
}

/** @param {Spot} spot @param {string} label @returns {Target} */
function againTarget(spot, label) {
  if (spot.of === 'pole_end') return { target: 'pole_end', pole: spot.pole, end: spot.end, label };
  if (spot.of === 'base') return { target: 'base', fence: spot.fence, end: spot.end, label };
  if (spot.of === 'length_end') return { target: 'length_end', reference: spot.reference, end: spot.end, label };
  return { target: 'tie', tie: spot.of === 'tie' ? spot.tie : null, label };
}
