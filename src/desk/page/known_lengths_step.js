// Other things of known length: an upright, a distance on the ground, the fence's width. A row each
// that was stated, and one line to state another.

import { appliesTogether, choice, showValue } from './fields.js';
import { el, replaceKeepingFocus } from './html.js';
import { icon } from './icons.js';
import { lengthField } from './length_field.js';
import { settings } from './settings.js';
import { targetList } from './target_list.js';

/** @import { Desk } from './desk.js' */
/** @import { KnownBy, LengthKind, LengthView } from './wire.d.ts' */

/** @type {[LengthKind, string][]} */
const KINDS = [['upright', 'upright'], ['distance', 'distance on the ground'], ['fence_width', 'width of the fence']];
/** @type {[KnownBy, string][]} */
const KNOWN_BY = [['tape', 'tape'], ['paces', 'paces or rule'], ['eye', 'eye']];

/** @param {Desk} desk */
export function knownLengthsStep(desk) {
  const stated = el('ul', { class: 'stated' });
  const kind = choice('What', KINDS, { 'data-key': 'length-kind' });
  kind.element.classList.add('whole');
  const length = lengthField('Length', { 'data-key': 'length' });
  const by = choice('Known by', KNOWN_BY, { 'data-key': 'length-by' });
  const wrong = el('p', { class: 'wrong', role: 'alert', hidden: true });
  const add = el('button', { class: 'button', type: 'submit', 'data-key': 'add-length' }, 'Add');
  const form = el('form', { class: 'fields two' }, kind.element, length.element, by.element, add);
  const list = targetList(desk, 'lengths');
  const element = el('div', {}, stated, form, wrong, list.element);
  let shown = '';

  form.addEventListener('submit', (e) => {
    e.preventDefault();
    const length_m = length.metres;
    wrong.hidden = length_m !== null;
    wrong.textContent = length_m === null ? 'Length: such as 1.6, 3.5 m or 5 ft 3 in.' : '';
    if (length_m === null) return;
    length.input.value = '';
    const fence = desk.fence?.id ?? null;
    desk.act({ act: 'set_length', reference: null, kind: /** @type {LengthKind} */ (kind.select.value), fence, length_m, known_by: /** @type {KnownBy} */ (by.select.value) });
    // What was stated is marked next: a width by the fence's own base.
    desk.choose({ step: kind.select.value === 'fence_width' ? 'fence' : 'lengths', chosen: null });
  });

  function update() {
    const { lengths } = desk.seen;
    const key = JSON.stringify([lengths, settings.feet]);
    if (key !== shown) {
      shown = key;
      stated.hidden = lengths.length === 0;
      replaceKeepingFocus(stated, lengths.map((l) => row(desk, l)));
    }
    length.show(null);
    list.update();
  }
  return { element, update };
}

/** @param {Desk} desk @param {LengthView} is */
function row(desk, is) {
  const length = lengthField('Length', { 'data-key': `length ${is.id}` });
  const by = choice('Known by', KNOWN_BY, { 'data-key': `length-by ${is.id}` });
  length.show(is.length_m);
  showValue(by.select, is.known_by);
  const away = el('button', { class: 'icon-button', type: 'button', title: `Take ${is.label} away`, 'aria-label': `Take ${is.label} away`, 'data-key': `length-away ${is.id}`, onclick: () => desk.act({ act: 'remove_length', reference: is.id }) }, icon('away'));
  const form = el('form', { class: 'stated-row', 'aria-label': is.label }, el('span', { class: 'stated-name' }, is.label), length.element, by.element, away);
  appliesTogether(form, () => {
    const length_m = length.metres;
    if (length_m === null) {
      length.reset();
      return;
    }
    const known_by = /** @type {KnownBy} */ (by.select.value);
    if (length_m !== is.length_m || known_by !== is.known_by) desk.act({ act: 'set_length', reference: is.id, kind: is.kind, fence: null, length_m, known_by });
  });
  return el('li', {}, form);
}
