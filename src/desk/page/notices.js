// Saved or not, the program away, a change that collided, a change that was refused. Nothing here
// stands in the way of marking.

import { actWords, differences } from './act_words.js';
import { el, replaceKeepingFocus } from './html.js';
import { sentence } from './sentence.js';

/** @import { Desk } from './desk.js' */

const SAVE_WORDS = { saved: 'saved', saving: 'saving', away: 'not saved', conflict: 'not saved' };

/** @param {Desk} desk */
export function savedState(desk) {
  const element = el('p', { class: 'saved-state', role: 'status', 'aria-live': 'polite' });
  function update() {
    const { state } = desk.outbox;
    if (element.dataset.state === state) return;
    element.dataset.state = state;
    element.textContent = SAVE_WORDS[state];
  }
  return { element, update };
}

/** @param {Desk} desk */
export function notices(desk) {
  const element = el('div', { class: 'notices', role: 'region', 'aria-label': 'Notices', 'aria-live': 'assertive' });
  let shown = '';

  function update() {
    const { outbox } = desk;
    const key = JSON.stringify([outbox.state === 'away' ? outbox.waiting.length : 0, outbox.locked, outbox.disk?.revision, outbox.disk && outbox.waiting.length, desk.refusals]);
    if (key === shown) return;
    shown = key;
    replaceKeepingFocus(element, [
      outbox.state === 'away' && awayNotice(desk),
      outbox.disk && conflictNotice(desk),
      desk.refusals[0] && refusalNotice(desk),
    ]);
  }
  return { element, update };
}

/** @param {Desk} desk */
function awayNotice(desk) {
  const many = desk.outbox.waiting.length;
  const waits = many === 1 ? 'One change waits and is kept here' : `${many} changes wait and are kept here, in their order`;
  if (desk.outbox.locked) {
    return el('div', { class: 'notice away' }, el('strong', {}, 'The program was started anew.'),
      el('span', {}, `${waits}. Open the address that it printed, here or in another tab; then they are saved.`));
  }
  return el('div', { class: 'notice away' }, el('strong', {}, 'The program does not answer.'),
    el('span', {}, `${waits}; saved as soon as it is back. Go on.`));
}

/** @param {Desk} desk */
function conflictNotice(desk) {
  const disk = /** @type {import('./wire.d.ts').RoundView} */ (desk.outbox.disk);
  return el('div', { class: 'notice conflict' },
    el('strong', {}, 'This round was changed elsewhere. Yours waits; nothing is lost.'),
    el('div', { class: 'both' },
      el('div', {}, el('h3', {}, 'What you wanted'), el('ul', {}, desk.outbox.waiting.map((w) => el('li', {}, actWords(w.act))))),
      el('div', {}, el('h3', {}, 'What is saved now'), el('ul', {}, differences(desk.round, disk).map((d) => el('li', {}, d))))),
    el('div', { class: 'row' },
      el('button', { class: 'button strong', 'data-key': 'conflict again', onclick: () => desk.settleConflict('again') }, 'Make mine again on top'),
      el('button', { class: 'button', 'data-key': 'conflict drop', onclick: () => desk.settleConflict('drop') }, 'Drop mine')));
}

/** @param {Desk} desk */
function refusalNotice(desk) {
  const refused = /** @type {import('./wire.d.ts').Refused} */ (desk.refusals[0]);
  return el('div', { class: 'notice refused' },
    el('strong', {}, `Not done. ${sentence(refused.error)}`),
    refused.hint && el('span', {}, sentence(refused.hint)),
    el('button', { class: 'button small', 'data-key': 'refusal away', onclick: () => desk.putRefusalAway() }, 'Put away'));
}
