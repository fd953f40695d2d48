// Whether the phone stood still or turned with the horse: asked before anything is marked, for it
// decides what has to be marked.

import { el } from './html.js';

/** @import { Desk } from './desk.js' */

/** @param {Desk} desk */
export function phoneChoice(desk) {
  const still = el('button', { class: 'segment', 'data-key': 'phone still', onclick: () => choose(false) }, 'stood still');
  const turned = el('button', { class: 'segment', 'data-key': 'phone turned', onclick: () => choose(true) }, 'turned along');
  const words = el('p', { class: 'step-says', role: 'status' });
  const element = el('div', { class: 'phone' }, el('span', { class: 'field-name', id: 'phone-name' }, 'The phone'),
    el('div', { class: 'segments full', role: 'group', 'aria-labelledby': 'phone-name' }, still, turned), words);

  /** @param {boolean} turning */
  function choose(turning) {
    if (turning !== desk.seen.turning) desk.act({ act: 'set_turning', turning });
  }

  function update() {
    still.setAttribute('aria-pressed', String(!desk.seen.turning));
    turned.setAttribute('aria-pressed', String(desk.seen.turning));
    // Each per cent would be read out.
    words.setAttribute('aria-live', desk.followed.endsWith('%') ? 'off' : 'polite');
    if (words.textContent !== desk.followed) words.textContent = desk.followed;
    words.hidden = desk.followed === '';
  }
  return { element, update };
}
