// Under the picture: the frame and its time, stepping, playing, zoom, and a slider over the clip.

import { el, svg } from './html.js';
import { icon } from './icons.js';
import { markedFrames } from './spots.js';

/** @import { Desk } from './desk.js' */
/** @import { Picture } from './picture.js' */
/** @import { Speed } from './player.js' */

/** @type {[Speed, string, string][]} */
const SPEEDS = [[1, '1', 'full speed'], [0.5, '½', 'half speed'], [0.25, '¼', 'a quarter of the speed'], [0.125, '⅛', 'an eighth of the speed']];

/** @param {Desk} desk @param {Picture} picture */
export function transport(desk, picture) {
  const { player } = desk;
  const number = el('span', { class: 'frame-number', 'aria-live': 'polite' });
  const time = el('span', { class: 'frame-time' });
  const slider = el('input', { type: 'range', min: 0, max: player.last, step: 1, value: 0, class: 'slider', 'aria-label': 'Frame of the clip', 'data-key': 'slider' });
  const ticks = svg('svg', { class: 'ticks', 'aria-hidden': 'true', preserveAspectRatio: 'none', viewBox: `0 0 ${Math.max(player.last, 1)} 10` });
  slider.addEventListener('input', () => void desk.goTo(Number(slider.value)));

  const play = el('button', { class: 'icon-button play', title: 'Play or stop (space)', onclick: () => player.toggle() });
  const speeds = SPEEDS.map(([speed, label, words]) =>
    el('button', { class: 'segment', 'aria-pressed': speed === 1, 'aria-label': `${label}, ${words}`, title: `${words} (S goes round)`, onclick: () => player.setSpeed(speed) }, label));

  const follow = el('button', { class: 'icon-button', title: 'The enlarged picture goes along with the horse (V)', 'aria-label': 'Go along with the horse', onclick: () => { picture.follows = !picture.follows; update(); } }, icon('follow'));

  const steady = el('button', { class: 'icon-button', title: 'Hold the background still (J)', 'aria-label': 'Hold the background still', onclick: () => void picture.toggleSteady() }, icon('steady'));

  const undo = button('undo', 'Take back (Ctrl Z)', () => desk.undo());
  const redo = button('redo', 'Make again (Ctrl Shift Z)', () => desk.redo());
  const element = el('div', { class: 'transport' },
    el('div', { class: 'slider-row' }, /** @type {Node} */ (ticks), slider),
    el('div', { class: 'transport-row' },
      el('div', { class: 'reading' }, number, time),
      el('div', { class: 'group' },
        button('mark_back', 'Frame of the mark before ( [ )', () => desk.goToMark(-1)),
        stepButton(desk, 'back', 'One frame back, held: run ( , )', -1),
        play,
        stepButton(desk, 'forward', 'One frame on, held: run ( . )', 1),
        button('mark_forward', 'Frame of the next mark ( ] )', () => desk.goToMark(1))),
      el('div', { class: 'group segments', role: 'group', 'aria-label': 'Speed' }, speeds),
      el('div', { class: 'group' },
        undo, redo),
      el('div', { class: 'group zoom' },
        steady,
        follow,
        button('smaller', 'Smaller ( − )', () => picture.zoom(1 / 1.6)),
        button('whole', 'The whole picture ( 0 )', () => picture.whole()),
        button('larger', 'Larger ( + )', () => picture.zoom(1.6)))));

  let drawnTicks = '';
  let drawnPlay = '';
  function update() {
    // Number and time are those of the picture that is shown, never of one that is on its way.
    const n = player.shown;
    number.textContent = n < 0 ? '' : `frame ${n}`;
    time.textContent = n < 0 ? '' : desk.clip.times[n] ?? '';
    if (document.activeElement !== slider || player.wanted === n) slider.value = String(Math.max(n, 0));
    slider.setAttribute('aria-valuetext', `frame ${n}, ${desk.clip.times[n] ?? ''}`);
    undo.title = `Take back${desk.seen.undo ? `: ${desk.seen.undo}` : ''} (Ctrl Z)`;
    redo.title = `Make again${desk.seen.redo ? `: ${desk.seen.redo}` : ''} (Ctrl Shift Z)`;
    const marked = markedFrames(desk.seen.marks);
    if (drawnTicks !== marked.join()) {
      drawnTicks = marked.join();
      ticks.replaceChildren(...marked.map((f) => svg('path', { d: `M${f} 0v10`, 'vector-effect': 'non-scaling-stroke' })));
    }
    follow.setAttribute('aria-pressed', String(picture.follows));
    // Always there, so that nothing moves under the hand when it can be used.
    steady.disabled = !desk.canSteady && picture.steady === null;
    steady.setAttribute('aria-pressed', String(picture.steady !== null));
    // While frames run by, nobody wants to hear each.
    number.setAttribute('aria-live', player.playing ? 'off' : 'polite');
    const state = player.playing ? 'pause' : 'play';
    if (drawnPlay !== state) {
      drawnPlay = state;
      play.setAttribute('aria-label', player.playing ? 'Stop' : 'Play');
      play.replaceChildren(icon(state));
    }
    SPEEDS.forEach(([speed], i) => speeds[i]?.setAttribute('aria-pressed', String(speed === player.speed)));
  }
  return { element, update };
}

/** @param {import('./icons.js').IconName} name @param {string} title @param {() => void} act */
const button = (name, title, act) => el('button', { class: 'icon-button', title, 'aria-label': title.replace(/ \(.*/, ''), onclick: act }, icon(name));

/** Pressed: a step; held: runs. @param {Desk} desk @param {import('./icons.js').IconName} name @param {string} title @param {1 | -1} by */
function stepButton(desk, name, title, by) {
  const element = button(name, title, () => {});
  const stop = () => desk.player.stopRunning();
  element.addEventListener('pointerdown', (e) => { if (e.button === 0) desk.player.startRunning(by); });
  element.addEventListener('pointerup', stop);
  element.addEventListener('pointercancel', stop);
  element.addEventListener('pointerleave', stop);
  // From the keyboard a click comes without a pointer.
  element.addEventListener('click', (e) => { if (e.detail === 0) void desk.player.step(by); });
  element.addEventListener('contextmenu', (e) => e.preventDefault());
  return element;
}
