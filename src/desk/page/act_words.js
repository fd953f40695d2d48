// Acts in words, for what waits, what was refused and what collided; and whether an act is on the
// disk already, although its answer never came.

import { EVENT_WORDS, LIMB_WORDS, footfallWords, markKey, spotKey } from './spots.js';

/** @import { Act, RoundView, Spot, MarkView } from './wire.d.ts' */

/** @param {Spot} spot */
function spotWords(spot) {
  switch (spot.of) {
    case 'pole_end': return `pole ${spot.pole}, ${spot.end} end`;
    case 'base': return `fence base, ${spot.end.replaceAll('_', ' ')}`;
    case 'length_end': return `${spot.reference}, ${spot.end}`;
    case 'tie': return `fixed point ${spot.tie}`;
    case 'footfall': return footfallWords(spot.limb, spot.event);
    case 'other': return spot.address;
  }
}

/** What the coach wanted. @param {Act} act @returns {string} */
export function actWords(act) {
  switch (act.act) {
    case 'set_poles': return 'state the poles';
    case 'set_fence': return 'state the fence';
    case 'set_length': return 'state a known length';
    case 'remove_length': return `take ${act.reference} away`;
    case 'place_length_end': return `place ${act.reference}, ${act.end} on frame ${act.at.frame}`;
    case 'place_pole_end': return `place pole ${act.pole}, ${act.end} end on frame ${act.at.frame}`;
    case 'place_base': return `place the fence base, ${act.end.replaceAll('_', ' ')} on frame ${act.at.frame}`;
    case 'place_footfall': return `place ${footfallWords(act.limb, act.event)} on frame ${act.at.frame}`;
    case 'place_tie': return `place a fixed point on frame ${act.at.frame}`;
    case 'move': return `move ${spotWords(act.spot)} on frame ${act.at.frame}`;
    case 'nudge': return `nudge ${spotWords(act.spot)} on frame ${act.frame}`;
    case 'remove': return `remove ${spotWords(act.spot)} on frame ${act.frame}`;
    case 'set_limb': return `call ${spotWords(act.spot)} the ${LIMB_WORDS[act.limb]}`;
    case 'set_event': return `count ${spotWords(act.spot)} to the ${EVENT_WORDS[act.event]}`;
    case 'set_hidden': return act.hidden ? `say that ${spotWords(act.spot)} was out of sight` : `say that ${spotWords(act.spot)} was in sight`;
    case 'set_frame': return `put ${spotWords(act.spot)} on frame ${act.frame}`;
    case 'set_round': return 'state who, where and when';
    case 'set_turning': return act.turning ? 'say that the phone turned' : 'say that the phone stood still';
    case 'set_approach': return 'state facts of the approach';
    case 'set_stride_note': return `note on stride ${act.stride}: “${act.text}”`;
    case 'new_approach': return 'begin another approach';
    case 'undo': return 'take the last change back';
    case 'redo': return 'make it again';
  }
}

/** An end may have been drawn this far to its edges. */
const SNAP_REACH_PX = 14;

/**
 * Whether a placing is on the disk already: the program saved it and was stopped before it could say
 * so. A mark at the very place can only be that one; a pole's end may have been drawn to its edges,
 * so there it must be new since the round was read, unless the page was loaded anew meanwhile.
 * @param {Act} act @param {RoundView} before @param {RoundView} disk
 */
export function isDone(act, before, disk) {
  const fits = fitting(act);
  if (!fits) return false;
  if (!disk.marks.some(fits)) return false;
  const exact = !(act.act === 'place_pole_end' && act.snap);
  return exact || before.revision === disk.revision || !before.marks.some(fits);
}

/** @param {Act} act @returns {((m: MarkView) => boolean) | null} */
function fitting(act) {
  const reach = act.act === 'place_pole_end' && act.snap ? SNAP_REACH_PX : 0.001;
  /** @param {MarkView} m @param {{ frame: number, x: number, y: number }} at */
  const near = (m, at) => m.frame === at.frame && Math.hypot(m.x - at.x, m.y - at.y) <= reach;
  switch (act.act) {
    case 'place_pole_end': return (m) => m.spot.of === 'pole_end' && m.spot.pole === act.pole && m.spot.end === act.end && near(m, act.at);
    case 'place_length_end': return (m) => m.spot.of === 'length_end' && m.spot.reference === act.reference && m.spot.end === act.end && near(m, act.at);
    case 'place_base': return (m) => m.spot.of === 'base' && m.spot.end === act.end && near(m, act.at);
    case 'place_footfall': return (m) => m.spot.of === 'footfall' && m.spot.limb === act.limb && m.spot.event === act.event && near(m, act.at);
    case 'place_tie': return (m) => m.spot.of === 'tie' && near(m, act.at);
    case 'move': return (m) => spotKey(m.spot) === spotKey(act.spot) && near(m, act.at);
    default: return null;
  }
}

/**
 * What somebody else changed, as sentences.
 * @param {RoundView} before @param {RoundView} disk @returns {string[]}
 */
export function differences(before, disk) {
  const was = new Map(before.marks.map((m) => [markKey(m), m]));
  const now = new Map(disk.marks.map((m) => [markKey(m), m]));
  /** @type {string[]} */
  const said = [];
  for (const [key, m] of now) {
    const old = was.get(key);
    if (!old) said.push(`${m.label} on frame ${m.frame} is new`);
    else if (Math.hypot(old.x - m.x, old.y - m.y) > 1e-6) said.push(`${m.label} on frame ${m.frame} was moved`);
    else if (old.hidden !== m.hidden) said.push(`${m.label} on frame ${m.frame} is now ${m.hidden ? 'out of sight' : 'in sight'}`);
  }
  for (const [key, m] of was) if (!now.has(key)) said.push(`${m.label} on frame ${m.frame} is gone`);
  /** @type {[string, (r: RoundView) => unknown][]} */
  const stated = [['the poles are stated otherwise', (r) => r.poles], ['the fence is stated otherwise', (r) => r.fences], ['other lengths are stated otherwise', (r) => r.lengths],
   
    ['rider, horse, place or note are others', (r) => r.about], ['facts or notes of an approach are others', (r) => r.approaches],
    ['the phone is now said to have turned, or to have stood', (r) => r.turning]];
  for (const [words, of] of stated) if (JSON.stringify(of(before)) !== JSON.stringify(of(disk))) said.push(words);
  return said.length > 0 ? said : ['the same marks, saved anew'];
}
