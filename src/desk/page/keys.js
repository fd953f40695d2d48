// Keys of the desk. One table: what help shows is what the keys do.

import { chooseEvent, chooseLimb } from './hooves_step.js';
import { CANTER_ORDER } from './spots.js';

/** @import { Desk } from './desk.js' */
/** @import { Picture } from './picture.js' */
/** @import { Speed } from './player.js' */

/** @typedef {{ keys: string[], words: string }} KeyHelp */

/** @type {{ title: string, keys: KeyHelp[] }[]} */
export const KEY_HELP = [
  { title: 'Frames', keys: [
    { keys: [',', '.'], words: 'one frame back or on; held: run' },
    { keys: ['←', '→'], words: 'the same while no mark is selected' },
    { keys: ['Shift ,', 'Shift .'], words: 'ten frames' },
    { keys: ['[', ']'], words: 'frame of the mark before, of the next one' },
    { keys: ['Home', 'End'], words: 'first or last frame' },
    { keys: ['Space'], words: 'play or stop' },
    { keys: ['S'], words: 'speed: 1, ½, ¼, ⅛' }] },
  { title: 'Placing', keys: [
    { keys: ['C'], words: 'crosshair: arrows move it, Shift faster, Alt finer; Enter places' },
    { keys: ['E', 'Shift E'], words: 'accept the expected end, or all of them' },
    { keys: ['1', '2', '3', '4'], words: 'trailing hind, leading hind, trailing fore, leading fore' },
    { keys: ['R', 'T', 'L', 'W'], words: 'strides, take-off, landing, first stride away' },
    { keys: ['A'], words: 'all four limbs, or one hind' },
    { keys: ['H'], words: 'the next hoof is out of sight' },
    { keys: ['G'], words: 'leaves the turn on this frame' },
    { keys: ['P', 'B', 'O'], words: 'step: poles, fence base, hooves' }] },
  { title: 'Marks', keys: [
    { keys: ['N'], words: 'select the mark placed last, then the next of this frame' },
    { keys: ['↑ ↓ ← →'], words: 'move the selected mark by 0.1 px; Shift: 1 px' },
    { keys: ['Delete'], words: 'remove it' },
    { keys: ['Esc'], words: 'let go' },
    { keys: ['Ctrl Z', 'Ctrl Shift Z'], words: 'take back, make again: without end' }] },
  { title: 'Picture', keys: [
    { keys: ['+', '−', '0'], words: 'larger, smaller, the whole picture' },
    { keys: ['Shift ← ↑ ↓ →'], words: 'move the enlarged picture' },
    { keys: ['K'], words: 'hide what lies on the picture, or show it again' },
    { keys: ['V'], words: 'the enlarged picture goes along with the horse, or stays' },
    { keys: ['J'], words: 'hold the background still, where the phone turned, or let go' },
    { keys: ['F'], words: 'picture alone, or with steps and numbers' },
    { keys: ['?'], words: 'this help' }] },
];

/** @type {Speed[]} */
const SPEEDS = [1, 0.5, 0.25, 0.125];
const PAN_PX = 80;

/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * @typedef {object} KeyParts
 * @property {Desk} desk
 * @property {Picture} picture
 * @property {() => void} togglePanels
 */

/** @param {KeyParts} parts @returns {() => void} stops listening */
export function listenToKeys(parts) {
  /** @param {KeyboardEvent} e */
  const down = (e) => {
    if (e.defaultPrevented || isTyping(e.target, e.key)) return;
    if (e.ctrlKey || e.metaKey ? command(parts, e) : plain(parts, e)) e.preventDefault();
  };
  const up = () => parts.desk.player.stopRunning();
  document.addEventListener('keydown', down);
  document.addEventListener('keyup', up);
  addEventListener('blur', up);
  return () => {
    document.removeEventListener('keydown', down);
    document.removeEventListener('keyup', up);
    removeEventListener('blur', up);
  };
}

/** Keys that the element under the focus needs itself. @param {EventTarget | null} target @param {string} key */
function isTyping(target, key) {
  if (!(target instanceof HTMLElement)) return false;
  if (target instanceof HTMLInputElement && target.type === 'checkbox') return key === ' ';
  if (target instanceof HTMLInputElement && target.type === 'range') return key.startsWith('Arrow') || key === 'Home' || key === 'End';
  if (target.matches('input, textarea, select')) return true;
  return target.matches('button, a, summary') && (key === ' ' || key === 'Enter');
}

/** @param {KeyParts} parts @param {KeyboardEvent} e @returns {boolean} */
function command({ desk }, e) {
  const key = e.key.toLowerCase();
  if (key === 'z' && e.shiftKey) desk.redo();
  else if (key === 'z') desk.undo();
  else if (key === 'y') desk.redo();
  else return false;
  return true;
}

/** @param {KeyParts} parts @param {KeyboardEvent} e @returns {boolean} */
function plain(parts, e) {
  const arrow = ARROWS[e.key];
  if (arrow) return arrows(parts, e, arrow);
  if (e.altKey) return false;
  const act = PLAIN[e.key.length === 1 ? e.key.toLowerCase() : e.key];
  if (!act) return false;
  return act(parts, e) !== false;
}

/** Arrows move what is held: crosshair, mark, picture; else the frame. @param {KeyParts} parts @param {KeyboardEvent} e @param {[number, number]} way */
function arrows({ desk, picture }, e, [dx, dy]) {
  if (desk.cursor) {
    const by = e.altKey ? 0.1 : e.shiftKey ? 10 / picture.shownView.scale : 1 / Math.min(picture.shownView.scale, 1);
    desk.setCursor({ x: desk.cursor.x + dx * by, y: desk.cursor.y + dy * by });
    picture.reveal(desk.cursor);
  } else if (desk.selectedMark) {
    const by = e.shiftKey ? 1 : 0.1;
    desk.nudge(dx * by, dy * by);
  } else if (e.shiftKey) {
    picture.pan(-dx * PAN_PX, -dy * PAN_PX);
  } else if (dx !== 0) {
    if (!e.repeat) desk.player.startRunning(dx);
  } else {
    return false;
  }
  return true;
}

/** @param {number} by @returns {(parts: KeyParts, e: KeyboardEvent) => void} */
const run = (by) => ({ desk }, e) => { if (!e.repeat) desk.player.startRunning(by); };

/** @type {Record<string, (parts: KeyParts, e: KeyboardEvent) => void | boolean>} */
const PLAIN = {
  ',': run(-1),
  '.': run(1),
  '<': run(-10),
  ';': run(-10),
  '>': run(10),
  ':': run(10),
  '[': ({ desk }) => desk.goToMark(-1),
  ']': ({ desk }) => desk.goToMark(1),
  Home: ({ desk }) => void desk.goTo(0),
  End: ({ desk }) => void desk.goTo(desk.player.last),
  ' ': ({ desk }) => desk.player.toggle(),
  s: ({ desk }) => desk.player.setSpeed(/** @type {Speed} */ (SPEEDS[(SPEEDS.indexOf(desk.player.speed) + 1) % 4])),
  c: (parts) => toggleCursor(parts),
  Enter: (parts, e) => {
    if (e.repeat) return;
    if (parts.desk.cursor) parts.desk.place(parts.desk.cursor);
    else if (parts.desk.target) toggleCursor(parts);
  },
  e: ({ desk }, e) => desk.acceptExpected(e.shiftKey),
  1: ({ desk }) => chooseLimb(desk, 'trailing_hind'),
  2: ({ desk }) => chooseLimb(desk, 'leading_hind'),
  3: ({ desk }) => chooseLimb(desk, /** @type {typeof CANTER_ORDER[number]} */ (CANTER_ORDER[2])),
  4: ({ desk }) => chooseLimb(desk, 'leading_fore'),
  r: ({ desk }) => chooseEvent(desk, 'stride'),
  t: ({ desk }) => chooseEvent(desk, 'take_off'),
  l: ({ desk }) => chooseEvent(desk, 'landing'),
  w: ({ desk }) => chooseEvent(desk, 'away'),
  a: ({ desk }) => {
    desk.choose({ four: !desk.choice.four, chosen: null });
    desk.say(desk.choice.four ? 'all four limbs are marked' : 'one hind limb is marked');
  },
  h: ({ desk }) => {
    desk.hidden = !desk.hidden;
    desk.say(desk.hidden ? 'the next hoof is out of sight: click about where it was' : 'the next hoof is in sight');
  },
  g: ({ desk }) => desk.setLeftTurn(desk.frame),
  p: ({ desk }) => desk.choose({ step: 'poles', chosen: null }),
  b: ({ desk }) => desk.choose({ step: 'fence', chosen: null }),
  o: ({ desk }) => desk.choose({ step: 'hooves', chosen: null }),
  n: ({ desk }) => desk.selectNext(),
  Delete: ({ desk }) => desk.removeSelected(),
  Backspace: ({ desk }) => desk.removeSelected(),
  Escape: ({ desk }) => {
    if (desk.cursor) desk.setCursor(null);
    else if (desk.choice.chosen) desk.choose({ chosen: null });
    else desk.select(null);
  },
  '+': ({ picture }) => picture.zoom(1.6),
  '=': ({ picture }) => picture.zoom(1.6),
  '-': ({ picture }) => picture.zoom(1 / 1.6),
  '−': ({ picture }) => picture.zoom(1 / 1.6),
  0: ({ picture }) => picture.whole(),
  k: ({ desk, picture }) => {
    picture.bare = !picture.bare;
    desk.say(picture.bare ? 'only the picture is shown (K brings the rest back)' : 'prints and marks are shown again');
  },
  v: ({ desk, picture }) => {
    picture.follows = !picture.follows;
    desk.say(picture.follows ? 'the enlarged picture goes along with the horse' : 'the enlarged picture stays');
  },
  j: ({ picture }) => void picture.toggleSteady(),
  f: ({ togglePanels }) => togglePanels(),
};

/** @param {KeyParts} parts */
function toggleCursor({ desk, picture }) {
  if (desk.cursor) return desk.setCursor(null);
  const target = desk.target;
  const expected = desk.expected.find((e) => target?.target === 'pole_end' && e.spot.of === 'pole_end' && e.spot.pole === target.pole && e.spot.end === target.end);
  desk.setCursor(desk.selectedMark ?? expected ?? desk.cursorLast ?? picture.middle);
  if (desk.cursor) picture.reveal(desk.cursor);
  desk.say('crosshair: arrows move it, Enter places');
}
