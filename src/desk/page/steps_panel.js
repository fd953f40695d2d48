// The steps of the work at the left: each says what is done and what is missing.

import { el } from './html.js';
import { icon } from './icons.js';
import { polesStep } from './poles_step.js';
import { fenceStep } from './fence_step.js';
import { knownLengthsStep } from './known_lengths_step.js';
import { hoovesStep } from './hooves_step.js';
import { tiesStep } from './ties_step.js';
import { phoneChoice } from './phone_choice.js';
import { roundStep } from './round_step.js';
import { handOutStep } from './hand_out_step.js';
import { lessonStep } from './lesson_step.js';
import { markInspector } from './mark_inspector.js';
import { currentStep } from './targets.js';

/** @import { Desk } from './desk.js' */
/** @import { StepName } from './wire.d.ts' */

/** @typedef {{ element: HTMLElement, update: () => void }} View */

/** @param {Desk} desk */
export function stepsPanel(desk) {
  /** @type {[StepName, string, View][]} */
  const marking = [['poles', 'Poles', polesStep(desk)], ['fence', 'Fence', fenceStep(desk)], ['lengths', 'Other lengths', knownLengthsStep(desk)],
    ['hooves', 'Hooves', hoovesStep(desk)], ['ties', 'Fixed points', tiesStep(desk)]];
  const inspector = markInspector(desk);
  const sections = [
    ...marking.map(([step, title, body]) => markingSection(desk, step, title, body)),
    plainSection('Round', roundStep(desk)),
    plainSection('Next lesson', lessonStep(desk)),
    plainSection('Hand out', handOutStep(desk)),
  ];
  const phone = phoneChoice(desk);
  const element = el('section', { class: 'steps', 'aria-label': 'Steps' }, phone.element, inspector.element, ...sections.map((s) => s.element));
  return { element, update: () => { phone.update(); inspector.update(); for (const s of sections) s.update(); } };
}

/** @param {Desk} desk @param {StepName} name @param {string} title @param {View} body @returns {View} */
function markingSection(desk, name, title, body) {
  const count = el('span', { class: 'step-count' });
  const says = el('p', { class: 'step-says' });
  const inside = el('div', { class: 'step-body', id: `step-${name}` }, says, body.element);
  const head = el('button', { class: 'step-head', 'aria-controls': `step-${name}`, 'data-key': `step-${name}` }, el('span', { class: 'step-title' }, title), count);
  const element = el('section', { class: 'step' }, el('h2', {}, head), inside);
  head.addEventListener('click', () => desk.choose({ step: name, chosen: null }));

  let wasCurrent = false;

  function update() {
    const step = desk.seen.steps.find((s) => s.step === name);
    element.hidden = !step;
    if (!step) return;
    const current = currentStep(desk.seen, desk.choice)?.step === name;
    head.setAttribute('aria-expanded', String(current));
    if (current) head.setAttribute('aria-current', 'step');
    else head.removeAttribute('aria-current');
    element.classList.toggle('current', current);
    element.classList.toggle('done', step.done);
    inside.hidden = !current;
    if (count.dataset.shown !== `${step.count}${step.done}`) {
      count.dataset.shown = `${step.count}${step.done}`;
      count.replaceChildren(step.count, ...(step.done ? [icon('done'), el('span', { class: 'unseen' }, 'done')] : []));
    }
    if (says.textContent !== step.says) says.textContent = step.says;
    says.hidden = step.says === '';
    if (current) body.update();
    if (current && !wasCurrent) element.scrollIntoView({ block: 'nearest' });
    wasCurrent = current;
  }
  return { element, update };
}

/** @param {string} title @param {View} body @returns {View} */
function plainSection(title, body) {
  const id = `step-${title.replace(' ', '-').toLowerCase()}`;
  const inside = el('div', { class: 'step-body', id, hidden: true }, body.element);
  const head = el('button', { class: 'step-head', 'aria-controls': id, 'aria-expanded': false }, el('span', { class: 'step-title' }, title), el('span', { class: 'step-count' }, icon('open')));
  head.addEventListener('click', () => {
    inside.hidden = !inside.hidden;
    head.setAttribute('aria-expanded', String(!inside.hidden));
    body.update();
    if (!inside.hidden) element.scrollIntoView({ block: 'nearest' });
  });
  const element = el('section', { class: 'step plain' }, el('h2', {}, head), inside);
  return { element, update: () => { if (!inside.hidden) body.update(); } };
}
