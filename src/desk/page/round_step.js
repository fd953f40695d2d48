// Who, where and when, and the notes on the round and its approach.

import { appliesTogether, field, showValue } from './fields.js';
import { el } from './html.js';

/** @import { Desk } from './desk.js' */
/** @import { RoundAbout } from './wire.d.ts' */

/** @typedef {{ key: Exclude<keyof RoundAbout, 'slope_percent'>, label: string, attributes: Record<string, unknown> }} Asked */

/** @type {Asked[]} */
const ASKED = [
  { key: 'rider', label: 'Rider', attributes: {} },
  { key: 'horse', label: 'Horse', attributes: {} },
  { key: 'place', label: 'Place', attributes: {} },
  { key: 'surface', label: 'Surface', attributes: {} },
  { key: 'date', label: 'Date', attributes: { type: 'date' } },
];

/** @param {Desk} desk */
export function roundStep(desk) {
  const asked = ASKED.map((a) => ({ ...a, ...field(a.label, { ...a.attributes, 'data-key': `about ${a.key}` }) }));
  // A date needs more room than half a column has.
  asked.find((a) => a.key === 'date')?.element.classList.add('whole');
  const slope = field('Uphill (−: downhill)', { inputmode: 'decimal', 'data-key': 'about slope_percent' }, '%');
  const note = el('textarea', { rows: 3, 'data-key': 'about note' });
  const form = el('form', { class: 'fields two' }, asked.map((a) => a.element), slope.element,
    el('label', { class: 'field whole' }, el('span', { class: 'field-name' }, 'Note on the round'), note));
  const approachNote = el('textarea', { rows: 2, 'data-key': 'approach note' });
  const approachForm = el('form', { class: 'fields' }, el('label', { class: 'field whole' }, el('span', { class: 'field-name' }, 'Note on the approach'), approachNote));
  const element = el('div', {}, form, approachForm);

  appliesTogether(form, () => {
    const about = { ...desk.seen.about, note: note.value, slope_percent: percentFrom(slope.input.value, desk.seen.about.slope_percent) };
    for (const a of asked) about[a.key] = a.input.value.trim();
    if (JSON.stringify(about) !== JSON.stringify(desk.seen.about)) desk.act({ act: 'set_round', about });
  });
  appliesTogether(approachForm, () => {
    const approach = desk.seen.approaches.find((a) => a.id === desk.approach);
    if (!approach || approach.note === approachNote.value) return;
    desk.act({ act: 'set_approach', approach: approach.id, lead: approach.lead, left_turn_frame: approach.left_turn_frame, note: approachNote.value });
  });

  function update() {
    for (const a of asked) showValue(a.input, desk.seen.about[a.key]);
    showValue(slope.input, desk.seen.about.slope_percent === null ? '' : String(desk.seen.about.slope_percent));
    showValue(note, desk.seen.about.note);
    const approach = desk.seen.approaches.find((a) => a.id === desk.approach);
    approachForm.hidden = !approach;
    if (approach) showValue(approachNote, approach.note);
  }
  return { element, update };
}

/** A slope as typed; what is none leaves it as it was. @param {string} text @param {number | null} was */
function percentFrom(text, was) {
  const typed = text.trim().replace('\u2212', '-').replace(',', '.').replace(/\s*%$/, '');
  if (typed === '') return null;
  const percent = Number(typed);
  return Number.isFinite(percent) && Math.abs(percent) <= 30 ? percent : was;
}
