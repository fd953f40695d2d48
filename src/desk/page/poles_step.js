// Poles: how many, how far apart, how long; then their ends.

import { appliesTogether, choice, field, showValue } from './fields.js';
import { el } from './html.js';
import { lengthField } from './length_field.js';
import { countFrom } from './lengths.js';
import { targetList } from './target_list.js';

/** @import { Desk } from './desk.js' */

/** @param {Desk} desk */
export function polesStep(desk) {
  const count = field('How many', { inputmode: 'numeric', 'data-key': 'pole-count' });
  const spacing = lengthField('Apart', { 'data-key': 'pole-spacing' });
  const length = lengthField('Length', { 'data-key': 'pole-length' });
  const taped = choice('Spacing was', [['taped', 'taped'], ['paced', 'paced']], { 'data-key': 'pole-taped' });
  const wrong = el('p', { class: 'wrong', role: 'alert', hidden: true });
  const form = el('form', { class: 'fields two' }, count.element, taped.element, spacing.element, length.element);
  const all = el('button', { class: 'button', hidden: true, title: 'Shift E; E takes the next one', onclick: () => desk.acceptExpected(true) });
  const list = targetList(desk, 'poles');
  const element = el('div', {}, form, wrong, all, list.element);

  /** @param {string} text */
  const complain = (text) => {
    wrong.textContent = text;
    wrong.hidden = text === '';
  };

  function apply() {
    const texts = [count.input.value, spacing.input.value, length.input.value];
    if (texts.every((t) => t.trim() === '')) return complain('');
    if (texts.some((t) => t.trim() === '')) return complain('');
    const stated = { count: countFrom(count.input.value), spacing_m: spacing.metres, length_m: length.metres };
    if (stated.count === null) return complain('How many: a whole number, such as 4.');
    if (stated.spacing_m === null) return complain('Apart: a length, such as 3.0 or 10 ft.');
    if (stated.length_m === null) return complain('Length: a length, such as 3.5 or 12 ft.');
    complain('');
    const act = { count: stated.count, spacing_m: stated.spacing_m, length_m: stated.length_m, taped: taped.select.value === 'taped' };
    const was = desk.seen.poles;
    const same = was && was.count === act.count && was.spacing_m === act.spacing_m && was.length_m === act.length_m && was.taped === act.taped;
    if (!same) desk.act({ act: 'set_poles', ...act });
  }
  appliesTogether(form, apply);

  function update() {
    const { poles } = desk.seen;
    if (poles) {
      showValue(count.input, String(poles.count));
      showValue(taped.select, poles.taped ? 'taped' : 'paced');
    }
    spacing.show(poles?.spacing_m ?? null);
    length.show(poles?.length_m ?? null);
    const ends = desk.expected.length;
    all.hidden = ends === 0;
    all.textContent = ends === 1 ? 'Accept the expected end' : `Accept all ${ends} expected ends`;
    list.update();
  }
  return { element, update };
}
