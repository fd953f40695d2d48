// Ties: fixed points marked again in other frames, when the phone turned. Ends of poles and the
// fence's base tie frames together as well.

import { el, replaceKeepingFocus } from './html.js';
import { targetList } from './target_list.js';
import { tiesAgain } from './targets.js';

/** @import { Desk } from './desk.js' */
/** @import { Target } from './wire.d.ts' */

/** @param {Desk} desk */
export function tiesStep(desk) {
  const again = el('ul', { class: 'chips' });
  const heading = el('h3', {}, 'Seen on this frame again?');
  const list = targetList(desk, 'ties');
  const element = el('div', {}, list.element, heading, again);
  let shown = '';

  function update() {
    const targets = tiesAgain(desk.seen, desk.frame);
    const key = JSON.stringify([targets, desk.target]);
    if (key !== shown) {
      shown = key;
      heading.hidden = targets.length === 0;
      replaceKeepingFocus(again, targets.map((t) => chip(desk, t)));
    }
    list.update();
  }
  return { element, update };
}

/** @param {Desk} desk @param {Target} target */
const chip = (desk, target) => el('li', {}, el('button', { class: 'chip', 'data-key': `again ${target.label}`, 'aria-pressed': JSON.stringify(target) === JSON.stringify(desk.target), onclick: () => desk.choose({ step: 'ties', chosen: target }) }, target.label));
