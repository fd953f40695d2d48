// What a step still wants and the marks it has, each a button: chosen to be placed, or gone to.

import { el, replaceKeepingFocus } from './html.js';
import { markKey } from './spots.js';

/** @import { Desk } from './desk.js' */
/** @import { SeenMark } from './pending.js' */
/** @import { StepName, Spot, Target } from './wire.d.ts' */

/** @type {Record<StepName, Spot['of']>} */
const KIND = { poles: 'pole_end', fence: 'base', lengths: 'length_end', hooves: 'footfall', ties: 'tie' };

/** @param {Desk} desk @param {StepName} name */
export function targetList(desk, name) {
  const wanted = el('ul', { class: 'chips' });
  const marks = el('ul', { class: 'mark-list' });
  const summary = el('summary', {});
  const placed = el('details', { class: 'placed' }, summary, marks);
  const element = el('div', { class: 'targets' }, wanted, placed);
  let shown = '';

  function update() {
    const step = desk.seen.steps.find((s) => s.step === name);
    const ofStep = desk.seen.marks.filter((m) => m.spot.of === KIND[name]).sort((a, b) => a.frame - b.frame);
    const targets = name === 'hooves' ? [] : step?.wanted ?? [];
    const next = desk.target;
    const key = JSON.stringify([targets, next, ofStep, desk.selected]);
    if (key === shown) return;
    shown = key;
    replaceKeepingFocus(wanted, targets.map((t) => wantedItem(desk, t, next !== null && JSON.stringify(t) === JSON.stringify(next))));
    placed.hidden = ofStep.length === 0;
    summary.textContent = ofStep.length === 1 ? '1 mark' : `${ofStep.length} marks`;
    replaceKeepingFocus(marks, ofStep.map((m) => markItem(desk, m)));
  }
  return { element, update };
}

/** @param {Desk} desk @param {Target} target @param {boolean} isNext */
const wantedItem = (desk, target, isNext) => el('li', {},
  el('button', { class: 'chip', 'aria-pressed': isNext, 'data-key': `want ${target.label}`, onclick: () => desk.choose({ chosen: target }) }, target.label));

/** @param {Desk} desk @param {SeenMark} mark */
function markItem(desk, mark) {
  const go = async () => {
    await desk.goTo(mark.frame);
    desk.select(mark);
  };
  return el('li', {}, el('button', { class: 'mark-item', 'aria-pressed': desk.selected === markKey(mark), 'data-key': markKey(mark), onclick: go },
    el('span', {}, mark.label), el('span', { class: 'quiet' }, mark.hidden ? `out of sight, frame ${mark.frame}` : `frame ${mark.frame}`)));
}
