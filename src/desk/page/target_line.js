// The line above the picture: what the next click places, and what was last done.

import { el, replaceKeepingFocus } from './html.js';
import { hoofIcon } from './hoof_print.js';
import { currentStep } from './targets.js';

/** @import { Desk } from './desk.js' */

/** @param {Desk} desk */
export function targetLine(desk) {
  const next = el('p', { class: 'next', id: 'target-line' });
  const said = el('p', { class: 'said' });
  // Heard, not seen: what was done and what comes next, in one breath.
  const spoken = el('p', { class: 'unseen', role: 'status' });
  const element = el('div', { class: 'target-line' }, next, said, spoken);
  let shown = '';

  function update() {
    const target = desk.target;
    const mark = desk.selectedMark;
    const step = currentStep(desk.seen, desk.choice);
    const key = JSON.stringify([target, mark?.label, step?.says, desk.hidden, desk.cursor !== null]);
    if (key !== shown) {
      shown = key;
      replaceKeepingFocus(next, words(desk, step?.says ?? ''));
    }
    const text = desk.message?.text ?? '';
    if (said.textContent !== text) said.textContent = text;
    const heard = [text, target && !mark && `next: ${target.label}`].filter(Boolean).join('; ');
    if (spoken.textContent !== heard) spoken.textContent = heard;
  }
  return { element, update };
}

/** @param {Desk} desk @param {string} missing */
function words(desk, missing) {
  const { target, selectedMark } = desk;
  if (selectedMark) return [el('span', { class: 'lead' }, 'Selected'), el('strong', {}, selectedMark.label)];
  if (!target) return [el('span', { class: 'quiet' }, missing || 'Nothing is waiting to be placed.')];
  const sign = target.target === 'footfall' ? hoofIcon(target.limb, 20) : null;
  return [el('span', { class: 'lead' }, desk.cursor ? 'Enter places' : 'Click'), sign, el('strong', {}, target.label),
    desk.hidden && el('span', { class: 'quiet' }, 'out of sight')];
}
