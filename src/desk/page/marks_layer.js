// Marks over the picture, in the display's own pixels so that they stay fine at every zoom.

import { svg } from './html.js';
import { goesLeft, hoofPrint } from './hoof_print.js';
import { isOf, markKey, standsStill } from './spots.js';
import { displayFromFrame } from './view_transform.js';

/** @import { SeenMark } from './pending.js' */
/** @import { Point, View } from './view_transform.js' */
/** @import { ExpectedView, SuspectView } from './wire.d.ts' */

/**
 * @typedef {object} MarksScene
 * @property {SeenMark[]} marks
 * @property {number} frame
 * @property {View} view
 * @property {boolean} turning whether places of other frames say nothing of this one
 * @property {boolean} surveyed whether prints on the ground are drawn already
 * @property {ExpectedView[]} expected
 * @property {ExpectedView[]} carried still things marked on other frames, where they are on this one
 * @property {import('./wire.d.ts').Target | null} target
 * @property {SuspectView[]} suspects
 * @property {string | null} selected key of the mark
 * @property {Point | null} cursor the keyboard's, on the frame
 * @property {{ from: Point, to: Point } | null} snapped how the last click was drawn to an edge
 */

const PRINT = 22;

/** @param {SVGElement} layer @param {MarksScene} scene */
export function drawMarks(layer, scene) {
  const suspects = new Set(scene.suspects.map(markKey));
  const seen = scene.marks.filter((m) => !m.hidden && (m.frame === scene.frame || !scene.turning));
  const leftwards = goesLeft(scene.marks);
  /** @type {(SVGElement | null)[]} */
  const parts = [
    ...poleLines(seen, scene),
    ...scene.carried.map((c) => carriedCross(c, scene.view, scene.target !== null && againOf(scene.target, c.spot))),
    ...scene.expected.map((e) => expectedRing(e, scene.view, scene.target !== null && isOf(scene.target, e.spot))),
    ...seen.map((m) => markSign(m, scene, suspects.has(markKey(m)), leftwards)),
    scene.snapped && snapTrace(scene.snapped, scene.view),
    scene.cursor && cursorCross(displayFromFrame(scene.cursor, scene.view)),
  ];
  layer.replaceChildren(.../** @type {SVGElement[]} */ (parts.filter(Boolean)));
}

/** The two ends of a pole joined, so that a left end taken for a right one is seen at once. @param {SeenMark[]} seen @param {MarksScene} scene */
function poleLines(seen, scene) {
  const ends = seen.filter((m) => ['pole_end', 'base', 'length_end'].includes(m.spot.of));
  const lines = [];
  for (const a of ends) {
    const partner = ends.find((b) => joined(a, b) && a.frame === b.frame);
    if (!partner) continue;
    const p = displayFromFrame(a, scene.view);
    const q = displayFromFrame(partner, scene.view);
    const d = `M${p.x} ${p.y}L${q.x} ${q.y}`;
    lines.push(svg('g', { class: a.spot.of === 'base' ? 'joint base' : 'joint' }, svg('path', { class: 'casing', d }), svg('path', { class: 'line', d })));
  }
  return lines;
}

/** @param {SeenMark} a @param {SeenMark} b */
function joined(a, b) {
  if (a.spot.of === 'pole_end' && b.spot.of === 'pole_end') return a.spot.pole === b.spot.pole && a.spot.end === 'left' && b.spot.end === 'right';
  if (a.spot.of === 'length_end' && b.spot.of === 'length_end') return a.spot.reference === b.spot.reference && ['foot', 'from'].includes(a.spot.end) && a !== b;
  if (a.spot.of === 'base' && b.spot.of === 'base') return a.spot.fence === b.spot.fence && a.spot.end.endsWith('left') && b.spot.end === a.spot.end.replace('left', 'right');
  return false;
}

/** @param {SeenMark} mark @param {MarksScene} scene @param {boolean} suspect @param {boolean} leftwards */
function markSign(mark, scene, suspect, leftwards) {
  const here = mark.frame === scene.frame;
  const still = standsStill(mark.spot);
  if (!here && mark.spot.of === 'footfall' && scene.surveyed && !suspect) return null;
  const p = displayFromFrame(mark, scene.view);
  const selected = scene.selected === markKey(mark);
  const group = svg('g', { class: ['mark', mark.spot.of, here || still ? 'here' : 'elsewhere', mark.waiting ? 'waiting' : '', selected ? 'selected' : '', suspect ? 'suspect' : ''].join(' ') });
  if (mark.spot.of === 'footfall' && !(scene.surveyed && here)) {
    group.append(hoofPrint(mark.spot.limb, { size: here ? PRINT : PRINT * 0.7, x: p.x, y: p.y, leftwards }));
  }
  if (here || still) group.append(...fineCross(p, mark.spot.of === 'tie' ? 7 : 5));
  if (suspect) group.append(suspectSign(p));
  if (selected) group.append(svg('circle', { class: 'ring', cx: p.x, cy: p.y, r: 15 }));
  return group;
}

/** A cross that leaves its middle free. @param {Point} p @param {number} r */
function fineCross(p, r) {
  const d = `M${p.x - r} ${p.y}h${r - 1.5}M${p.x + 1.5} ${p.y}h${r - 1.5}M${p.x} ${p.y - r}v${r - 1.5}M${p.x} ${p.y + 1.5}v${r - 1.5}`;
  return [svg('path', { class: 'casing', d }), svg('path', { class: 'line', d })];
}

/** A hatched ring: not told by colour alone. @param {Point} p */
const suspectSign = (p) => svg('g', { class: 'suspect-sign' },
  svg('circle', { class: 'casing', cx: p.x, cy: p.y, r: 13 }), svg('circle', { class: 'line', cx: p.x, cy: p.y, r: 13 }));

/** @param {import('./wire.d.ts').Target} target @param {import('./wire.d.ts').Spot} spot */
const againOf = (target, spot) => (target.target === 'tie' ? spot.of === 'tie' && spot.tie === target.tie : isOf(target, spot));

/** Where a thing marked elsewhere should be: a cross in a ring when it is the one wanted. @param {ExpectedView} carried @param {View} view @param {boolean} wanted */
function carriedCross(carried, view, wanted) {
  const p = displayFromFrame(carried, view);
  const d = `M${p.x - 5} ${p.y - 5}l10 10M${p.x - 5} ${p.y + 5}l10 -10`;
  return svg('g', { class: wanted ? 'carried next' : 'carried' }, svg('path', { class: 'casing', d }), svg('path', { class: 'line', d }),
    wanted ? svg('circle', { class: 'line', cx: p.x, cy: p.y, r: 14 }) : null);
}

/** The one that is placed next is drawn stronger. @param {ExpectedView} expected @param {View} view @param {boolean} next */
function expectedRing(expected, view, next) {
  const p = displayFromFrame(expected, view);
  return svg('g', { class: next ? 'expected next' : 'expected' },
    svg('circle', { class: 'casing', cx: p.x, cy: p.y, r: 8 }), svg('circle', { class: 'line', cx: p.x, cy: p.y, r: 8 }));
}

/** @param {{ from: Point, to: Point }} snapped @param {View} view */
function snapTrace({ from, to }, view) {
  const p = displayFromFrame(from, view);
  const q = displayFromFrame(to, view);
  const d = `M${p.x} ${p.y}L${q.x} ${q.y}`;
  return svg('g', { class: 'snap' }, svg('path', { class: 'casing', d }), svg('path', { class: 'line', d }), svg('circle', { class: 'line', cx: p.x, cy: p.y, r: 3 }));
}

/** @param {Point} p */
function cursorCross(p) {
  const d = `M${p.x - 28} ${p.y}h22M${p.x + 6} ${p.y}h22M${p.x} ${p.y - 28}v22M${p.x} ${p.y + 6}v22`;
  return svg('g', { class: 'cursor' }, svg('path', { class: 'casing', d }), svg('path', { class: 'line', d }));
}

/**
 * The mark under a point of the display; on this frame first.
 * @param {SeenMark[]} marks @param {number} frame @param {boolean} turning @param {View} view @param {Point} at @param {number} reach
 * @returns {SeenMark | null}
 */
export function markUnder(marks, frame, turning, view, at, reach) {
  /** @type {SeenMark | null} */
  let nearest = null;
  let least = reach;
  for (const mark of marks) {
    const reachable = mark.frame === frame || (!turning && standsStill(mark.spot));
    if (!reachable || mark.hidden || mark.waiting) continue;
    const p = displayFromFrame(mark, view);
    const distance = Math.hypot(p.x - at.x, p.y - at.y) + (mark.frame === frame ? 0 : 0.5);
    if (distance <= least) {
      nearest = mark;
      least = distance;
    }
  }
  return nearest;
}
