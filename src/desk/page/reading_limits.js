// The coach's limits of a reading, for no published ones exist, and whom its sentences are for.

import { appliesTogether, field } from './fields.js';
import { el } from './html.js';
import { lengthField } from './length_field.js';
import { lengthText, unitOf } from './lengths.js';
import { settings } from './settings.js';

/** @import { Limits } from './wire.d.ts' */

/** What may be set: its name, and the least and most that makes sense, metres. @type {[keyof Limits, string, number][]} */
const LENGTHS = [
  ['level_within_m', 'Level within, either side of the mean', 2],
  ['zone_m', 'Take-off about', 6],
  ['landing_zone_m', 'Landing about', 6],
  ['zone_within_m', 'Both give or take', 4],
  ['added_shorter_m', 'Added if shorter by', 2],
  ['straight_within_m', 'Straight within', 3],
];
/** The same in per cent. @type {[keyof Limits, string, number, number][]} */
const SHARES = [
  ['pace_tolerance_percent', 'Change of pace over', 0.5, 50],
  ['sure_percent', 'Said outright from', 50, 99],
];

/** Made once, so that typing is never lost. */
export function readingLimits() {
  const lengths = LENGTHS.map(([key, label, most]) => ({ key, label, most, of: lengthField(label) }));
  const shares = SHARES.map(([key, label, least, most]) => ({ key, label, least, most, of: field(label, { inputmode: 'decimal' }, '%') }));
  lengths[0]?.of.element.classList.add('whole');
  const form = el('form', { class: 'fields two limits' }, [...lengths, ...shares].map((one) => one.of.element));
  const wrong = el('p', { class: 'wrong', role: 'alert', hidden: true });

  function show() {
    for (const { key, of } of lengths) of.show(settings.limits[key]);
    for (const { key, of } of shares) of.input.value = String(settings.limits[key]);
  }

  /** What was typed and cannot be, and stays as it was. @returns {string} */
  function apply() {
    const limits = { ...settings.limits };
    const bad = [];
    for (const { key, label, most, of } of lengths) {
      const metres = of.metres;
      if (metres !== null && metres <= most) limits[key] = metres;
      else bad.push(`${label}: “${of.input.value}” is ${metres === null ? 'no length' : 'too much'}; a length up to ${lengthText(most, settings.feet)} ${unitOf(settings.feet)} is needed, such as 0.3 m or 1 ft.`);
    }
    for (const { key, label, least, most, of } of shares) {
      const share = Number(of.input.value.trim().replace(',', '.').replace(/ *%$/, ''));
      if (share >= least && share <= most) limits[key] = share;
      else bad.push(`${label}: “${of.input.value}” cannot be; ${least} to ${most} % is needed.`);
    }
    if (JSON.stringify(limits) !== JSON.stringify(settings.limits)) settings.set({ limits });
    return bad.join(' ');
  }
  const applied = () => {
    const bad = apply();
    // A field that holds what could not be taken was put back, and says so until the next is taken.
    wrong.hidden = bad === '';
    wrong.textContent = bad;
    show();
    for (const { of } of lengths) of.reset();
  };
  appliesTogether(form, applied);
  // Each field counts when it is left, too.
  form.addEventListener('change', applied);
  const whom = [false, true].map((rider) => el('button', { class: 'segment', type: 'button', onclick: () => settings.set({ rider }) }, rider ? 'the rider' : 'the coach'));
  const element = el('details', { class: 'reading-limits' },
    el('summary', {}, 'Limits of this reading'),
    el('p', { class: 'quiet' }, 'Yours to set: no published limit exists for any of them.'),
    form,
    wrong,
    el('div', { class: 'whom' }, el('span', { class: 'field-name' }, 'Sentences for'), el('div', { class: 'segments', role: 'group', 'aria-label': 'Sentences for' }, whom)));
  function update() {
    whom.forEach((button, i) => button.setAttribute('aria-pressed', String(settings.rider === (i === 1))));
    show();
  }
  update();
  settings.addEventListener('change', update);
  return { element };
}
