// What the numbers support, a sentence each, what matters first. A click shows the strides that show
// it. Below it the coach's own limits, for no published ones exist.

import { appliesTogether, field } from './fields.js';
import { el } from './html.js';
import { metresFrom } from './lengths.js';
import { settings } from './settings.js';

/** @import { Desk } from './desk.js' */
/** @import { ApproachNumbers, SentenceView } from './wire.d.ts' */

/** Sentences shown at once; the others are numbers and what was well. */
const SHOWN_AT_ONCE = 5;

/** @param {Desk} desk @param {ApproachNumbers} approach @param {boolean} many of several approaches @param {boolean} open whether the rest is unfolded */
export function readingPart(desk, approach, many, open) {
  if (approach.reading.length === 0) return null;
  const item = (/** @type {SentenceView} */ said, /** @type {number} */ at) => el('li', {}, sentenceButton(desk, approach, said, at));
  const first = approach.reading.slice(0, SHOWN_AT_ONCE);
  const rest = approach.reading.slice(SHOWN_AT_ONCE);
  return el('section', { class: 'readings', 'aria-label': 'Reading' },
    many && el('h3', {}, `${approach.approach}, read`),
    el('ul', {}, first.map(item)),
    rest.length > 0 && el('details', { class: 'more-readings', open }, el('summary', { 'data-key': `more ${approach.approach}` }, `${rest.length} more`), el('ul', {}, rest.map((said, i) => item(said, i + SHOWN_AT_ONCE)))));
}

/** @param {Desk} desk @param {ApproachNumbers} approach @param {SentenceView} said @param {number} at */
function sentenceButton(desk, approach, said, at) {
  const { go_to, strides } = said;
  if (go_to === null) return said.text;
  const show = () => {
    desk.showEvidence(approach.approach, strides);
    void desk.goTo(go_to);
    // Below 720 px the picture may be rolled out of sight.
    document.querySelector('.middle')?.scrollIntoView({ block: 'nearest' });
  };
  return el('button', { class: 'sentence', 'data-key': `said ${approach.approach} ${at}`, title: strides.length > 0 ? 'Show the strides' : 'Show the hoof', onclick: show }, said.text);
}

/** The coach's limits, and whom the sentences are for; made once, so that typing is never lost. */
export function readingSettings() {
  const level = field('Level within, either side of the mean', { inputmode: 'decimal' }, 'm');
  const zone = field('Take-off and landing about', { inputmode: 'decimal' }, 'm');
  const within = field('give or take', { inputmode: 'decimal' }, 'm');
  const form = el('form', { class: 'fields limits' }, level.element, zone.element, within.element);
  const wrong = el('p', { class: 'wrong', role: 'alert', hidden: true });
  /** To the centimetre: 1.8288 m are six feet. @param {number} metres */
  const shown = (metres) => String(Math.round(metres * 100) / 100);
  const show = () => {
    level.input.value = shown(settings.levelWithin);
    zone.input.value = shown(settings.zone);
    within.input.value = shown(settings.zoneWithin);
  };
  const apply = () => {
    let bad = false;
    const typed = (/** @type {HTMLInputElement} */ input, /** @type {number} */ most, /** @type {number} */ was) => {
      if (input.value === shown(was)) return was;
      const metres = metresFrom(input.value);
      if (metres !== null && metres <= most) return metres;
      bad = true;
      return was;
    };
    const levelWithin = typed(level.input, 2, settings.levelWithin);
    const zoneMiddle = typed(zone.input, 6, settings.zone);
    const zoneWithin = typed(within.input, 4, settings.zoneWithin);
    if (levelWithin !== settings.levelWithin || zoneMiddle !== settings.zone || zoneWithin !== settings.zoneWithin) settings.set({ levelWithin, zone: zoneMiddle, zoneWithin });
    wrong.hidden = !bad;
    wrong.textContent = bad ? 'That was no length, so the limit stays as it was: type such as 0.3 or 1 ft.' : '';
    show();
  };
  appliesTogether(form, apply);
  // Each field counts when it is left, too.
  form.addEventListener('change', apply);
  const whom = [false, true].map((rider) => el('button', { class: 'segment', type: 'button', onclick: () => settings.set({ rider }) }, rider ? 'the rider' : 'the coach'));
  const element = el('details', { class: 'reading-limits' },
    el('summary', {}, 'Limits of this reading'),
    el('p', { class: 'quiet' }, 'Yours to set: no published limit exists for any of them.'),
    form,
    wrong,
    el('div', { class: 'whom' }, el('span', { class: 'field-name' }, 'Sentences for'), el('div', { class: 'segments', role: 'group', 'aria-label': 'Sentences for' }, whom)));
  function update() {
    whom.forEach((button, i) => button.setAttribute('aria-pressed', String(settings.rider === (i === 1))));
  }
  show();
  update();
  settings.addEventListener('change', update);
  return { element };
}
