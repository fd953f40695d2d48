// Help: a walk of one minute, and the keys.

import { el } from './html.js';
import { KEY_HELP } from './keys.js';

const WALK = [
  ['The phone', 'Say whether it stood still or turned along with the horse. Where it turned, the program follows the background by itself while you go on; nothing need be marked twice.'],
  ['Poles', 'Type how many poles lie there, how far apart and how long they are, then Enter. Click the ends in the order asked for; each is drawn to the pole’s own edges. Once four are placed, rings show where the others should be: Shift E takes them all.'],
  ['Fence', 'Click where the inner face of each upright meets the ground, on the take-off side, left and right as the horse goes.'],
  ['Hooves', 'Step to the frame in which the hind hoof first touches the ground, click the middle of the hoof, go on to the next stride. At the take-off press T and click both hinds; then both fores as they land.'],
  ['Numbers', 'Lengths with their ± appear as you click. A hatched ring is a mark that does not fit the others: look at it again. Everything is saved as you go and can be taken back.'],
];

export function helpPanel() {
  const element = el('aside', { class: 'help', 'aria-label': 'Help', hidden: true, tabindex: -1 },
    el('div', { class: 'help-head' }, el('h2', {}, 'In one minute'), el('button', { class: 'button', onclick: () => toggle() }, 'Close (?)')),
    el('ol', { class: 'walk' }, WALK.map(([title, words]) => el('li', {}, el('strong', {}, title ?? ''), el('span', {}, words ?? '')))),
    el('h2', {}, 'Keys'),
    el('div', { class: 'key-groups' }, KEY_HELP.map((group) => el('section', {}, el('h3', {}, group.title),
      el('dl', {}, group.keys.flatMap((k) => [el('dt', {}, k.keys.map((key) => el('kbd', {}, key))), el('dd', {}, k.words)]))))));
  /** @type {Element | null} */
  let from = null;

  function toggle() {
    element.hidden = !element.hidden;
    if (!element.hidden) {
      from = document.activeElement;
      element.focus({ preventScroll: true });
    } else if (from instanceof HTMLElement) {
      from.focus({ preventScroll: true });
    }
  }
  element.addEventListener('keydown', (e) => {
    if (e.key !== 'Escape') return;
    e.preventDefault();
    toggle();
  });
  return { element, toggle };
}
