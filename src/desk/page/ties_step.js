// Ties: fixed points marked again in other frames, when the phone turned.

import { el } from './html.js';
import { targetList } from './target_list.js';

/** @import { Desk } from './desk.js' */

/** @param {Desk} desk */
export function tiesStep(desk) {
  const list = targetList(desk, 'ties');
  const more = el('button', { class: 'button', 'data-key': 'new-tie', onclick: () => desk.choose({ step: 'ties', chosen: { target: 'tie', tie: null, label: 'a new tie' } }) }, 'A new tie');
  return { element: el('div', {}, more, list.element), update: () => list.update() };
}
