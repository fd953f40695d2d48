// The round as it will be once the acts that wait are saved: what the coach placed is seen at once,
// and the next target is right, also while the program is away. Nothing here is ever sent.

import { footfallWords, isOf, spotKey } from './spots.js';

/** @import { RoundView, Act, Spot, MarkView, StepView, Target } from './wire.d.ts' */

/** @typedef {MarkView & { waiting?: boolean }} SeenMark */
/** @typedef {Omit<RoundView, 'marks'> & { marks: SeenMark[] }} SeenRound */

/**
 * @param {RoundView} round as it is saved
 * @param {{ key: string, act: Act }[]} waiting in order
 * @returns {SeenRound}
 */
export function withPending(round, waiting) {
  /** @type {SeenRound[]} */
  const past = [round];
  /** @type {SeenRound[]} */
  const undone = [];
  for (const { key, act } of waiting) {
    const now = /** @type {SeenRound} */ (past.at(-1));
    if (act.act === 'undo') {
      // What undo would take back further is on the disk and not known here.
      if (past.length > 1) undone.push(/** @type {SeenRound} */ (past.pop()));
    } else if (act.act === 'redo') {
      const again = undone.pop();
      if (again) past.push(again);
    } else {
      past.push(after(now, act, key));
      undone.length = 0;
    }
  }
  return /** @type {SeenRound} */ (past.at(-1));
}

/** @param {SeenRound} round @param {Act} act @param {string} key @returns {SeenRound} */
function after(round, act, key) {
  switch (act.act) {
    case 'place_pole_end':
      return placed(round, { of: 'pole_end', pole: act.pole, end: act.end }, act.at, `pole ${act.pole}, ${act.end} end`, false);
    case 'place_length_end':
      return placed(round, { of: 'length_end', reference: act.reference, end: act.end }, act.at, `${act.reference}, ${act.end}`, false);
    case 'remove_length':
      return { ...round, lengths: round.lengths.filter((l) => l.id !== act.reference), marks: round.marks.filter((m) => m.spot.of !== 'length_end' || m.spot.reference !== act.reference) };
    case 'place_base':
      return placed(round, { of: 'base', fence: act.fence ?? round.fences[0]?.id ?? '', end: act.end }, act.at, `fence base, ${act.end.replaceAll('_', ' ')}`, false);
    case 'place_footfall':
      return placed(round, { of: 'footfall', approach: act.approach ?? round.approaches.at(-1)?.id ?? '', footfall: key, limb: act.limb, event: act.event },
        act.at, footfallWords(act.limb, act.event), act.hidden);
    case 'place_tie':
      return placed(round, { of: 'tie', tie: act.tie ?? key }, act.at, 'fixed point', false);
    case 'move':
      return changed(round, act.spot, act.at.frame, (m) => ({ ...m, x: act.at.x, y: act.at.y }));
    case 'nudge':
      return changed(round, act.spot, act.frame, (m) => ({ ...m, x: m.x + act.dx, y: m.y + act.dy }));
    case 'remove':
      return changed(round, act.spot, act.frame, () => null);
    case 'set_hidden':
      return changed(round, act.spot, null, (m) => ({ ...m, hidden: act.hidden }));
    case 'set_frame':
      return changed(round, act.spot, null, (m) => ({ ...m, frame: act.frame }));
    case 'set_limb':
      return changed(round, act.spot, null, (m) => (m.spot.of === 'footfall' ? { ...m, spot: { ...m.spot, limb: act.limb }, label: footfallWords(act.limb, m.spot.event) } : m));
    case 'set_event':
      return changed(round, act.spot, null, (m) => (m.spot.of === 'footfall' ? { ...m, spot: { ...m.spot, event: act.event }, label: footfallWords(m.spot.limb, act.event) } : m));
    case 'set_poles':
      return withPoles({ ...round, poles: { count: act.count, spacing_m: act.spacing_m, length_m: act.length_m, taped: act.taped } });
    case 'set_round':
      return { ...round, about: act.about };
    case 'set_turning':
      return { ...round, turning: act.turning };
    case 'set_stride_note':
      return { ...round, approaches: round.approaches.map((a) => (a.id === act.approach
        ? { ...a, stride_notes: [...a.stride_notes.filter((n) => n.stride !== act.stride), ...(act.text ? [{ stride: act.stride, text: act.text }] : [])] } : a)) };
    case 'set_approach':
      return { ...round, approaches: round.approaches.map((a) => (a.id === act.approach ? { ...a, lead: act.lead, left_turn_frame: act.left_turn_frame, note: act.note } : a)) };
    default:
      return round;
  }
}

/**
 * @param {SeenRound} round @param {Spot} spot @param {{ frame: number, x: number, y: number }} at @param {string} label @param {boolean} hidden
 * @returns {SeenRound}
 */
function placed(round, spot, at, label, hidden) {
  const key = spotKey(spot);
  // A pole's end has one mark a frame, and one in all while the camera stands.
  const others = round.marks.filter((m) => spotKey(m.spot) !== key || (round.turning && m.frame !== at.frame));
  return {
    ...round,
    marks: [...others, { spot, label, frame: at.frame, x: at.x, y: at.y, hidden, waiting: true }],
    steps: round.steps.map((s) => withoutWanted(s, spot)),
  };
}

/** @param {StepView} step @param {Spot} spot @returns {StepView} */
function withoutWanted(step, spot) {
  const wanted = step.wanted.filter((t) => !isOf(t, spot));
  if (wanted.length === step.wanted.length) return step;
  return { ...step, wanted, done: step.done || (wanted.length === 0 && step.step !== 'hooves') };
}

/** @param {SeenRound} round @param {Spot} spot @param {number | null} frame @param {(m: SeenMark) => SeenMark | null} change @returns {SeenRound} */
function changed(round, spot, frame, change) {
  const key = spotKey(spot);
  const marks = round.marks.flatMap((m) => {
    if (spotKey(m.spot) !== key || (frame !== null && m.frame !== frame)) return [m];
    const next = change(m);
    return next ? [{ ...next, waiting: true }] : [];
  });
  return { ...round, marks };
}

/** The ends that newly stated poles want. @param {SeenRound} round @returns {SeenRound} */
function withPoles(round) {
  const count = round.poles?.count ?? 0;
  /** @type {Target[]} */
  const all = [];
  for (let pole = 1; pole <= count; pole += 1) {
    for (const end of /** @type {const} */ (['left', 'right'])) all.push({ target: 'pole_end', pole, end, label: `pole ${pole}, ${end} end` });
  }
  const wanted = all.filter((t) => !round.marks.some((m) => isOf(t, m.spot)));
  return { ...round, steps: round.steps.map((s) => (s.step === 'poles' ? { ...s, wanted, done: wanted.length === 0 } : s)) };
}
