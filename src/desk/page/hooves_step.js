// Hooves: which limb, and what its footfall belongs to. Both are proposed; both can be chosen.

import { choice as chooser, tick } from './fields.js';
import { hoofIcon } from './hoof_print.js';
import { el } from './html.js';
import { CANTER_ORDER, EVENT_WORDS, LIMB_WORDS, footfallTarget } from './spots.js';
import { targetList } from './target_list.js';
import { currentPhase, footfallsOf } from './targets.js';

/** @import { Desk } from './desk.js' */
/** @import { EventName, LimbName } from './wire.d.ts' */

/** @type {[EventName, string, string][]} */
const EVENTS = [['stride', 'Strides', 'R'], ['take_off', 'Take-off', 'T'], ['landing', 'Landing', 'L'], ['away', 'Away', 'W']];

/** @param {Desk} desk */
export function hoovesStep(desk) {
  const events = EVENTS.map(([event, label, key]) =>
    el('button', { class: 'segment', 'data-key': `event ${event}`, title: `${label} (${key})`, onclick: () => chooseEvent(desk, event) }, label));
  const limbs = CANTER_ORDER.map((limb, i) =>
    el('button', { class: 'limb', 'data-key': `limb ${limb}`, title: `${LIMB_WORDS[limb]} (${i + 1})`, onclick: () => chooseLimb(desk, limb) }, hoofIcon(limb, 24), el('span', {}, LIMB_WORDS[limb])));
  const four = tick('Mark all four limbs', (on) => desk.choose({ four: on }), 'four');
  const hidden = tick('The next hoof is out of sight (H)', (on) => { desk.hidden = on; desk.changed(); }, 'hidden');
  const approaches = chooser('Approach', [['', '']], { 'data-key': 'approach' });
  approaches.select.addEventListener('change', () => desk.choose({ approach: approaches.select.value, chosen: null, phase: null }));
  const another = el('button', { class: 'button', 'data-key': 'new-approach', onclick: () => newApproach(desk) }, 'Another approach');
  const turn = el('button', { class: 'button', 'data-key': 'left-turn' });
  turn.addEventListener('click', () => desk.setLeftTurn(leftTurn(desk) === desk.frame ? null : desk.frame));
  const lead = chooser('Lead', [['', 'not seen'], ['left', 'left'], ['right', 'right']], { 'data-key': 'lead' });
  lead.select.addEventListener('change', () => setLead(desk, lead.select.value));
  const list = targetList(desk, 'hooves');
  const element = el('div', {},
    el('div', { class: 'segments full', role: 'group', 'aria-label': 'Belongs to' }, events),
    el('div', { class: 'limbs', role: 'group', 'aria-label': 'Limb' }, limbs),
    el('div', { class: 'ticks-list' }, four.element, hidden.element),
    el('div', { class: 'fields two' }, lead.element, approaches.element),
    el('div', { class: 'row' }, turn, another),
    list.element);
  let shownApproaches = '';

  function update() {
    const { target } = desk;
    const phase = desk.choice.chosen ? null : currentPhase(footfallsOf(desk.seen, desk.approach), desk.choice);
    EVENTS.forEach(([event], i) => events[i]?.setAttribute('aria-pressed', String(target?.target === 'footfall' ? target.event === event : phase === event)));
    CANTER_ORDER.forEach((limb, i) => limbs[i]?.setAttribute('aria-pressed', String(target?.target === 'footfall' && target.limb === limb)));
    four.input.checked = desk.choice.four;
    hidden.input.checked = desk.hidden;
    const approach = desk.seen.approaches.find((a) => a.id === desk.approach);
    if (document.activeElement !== lead.select) lead.select.value = approach?.lead ?? '';
    lead.select.disabled = !approach;
    const ids = desk.seen.approaches.map((a) => a.id);
    if (shownApproaches !== ids.join()) {
      shownApproaches = ids.join();
      approaches.select.replaceChildren(...ids.map((id) => el('option', { value: id }, id)));
    }
    approaches.element.hidden = ids.length < 2;
    approaches.select.value = desk.approach ?? '';
    another.disabled = ids.length === 0;
    another.textContent = desk.seen.fences.length > 1 && desk.fence ? `Another approach, to ${desk.fence.name || 'this fence'}` : 'Another approach';
    turn.disabled = !approach;
    const left = leftTurn(desk);
    turn.textContent = left === null ? 'Leaves the turn here (G)' : left === desk.frame ? 'Leaves the turn here: take away' : `Left the turn on frame ${left}: here instead (G)`;
    list.update();
  }
  return { element, update };
}

/** @param {Desk} desk */
const leftTurn = (desk) => desk.seen.approaches.find((a) => a.id === desk.approach)?.left_turn_frame ?? null;

/** @param {Desk} desk @param {EventName} event */
export function chooseEvent(desk, event) {
  desk.choose({ step: 'hooves', phase: event, chosen: null });
  desk.say(event === 'stride' ? 'footfalls of strides' : `footfalls of the ${EVENT_WORDS[event]}`);
}

/**
 * The limb of the next footfall. While one hind limb is marked, a chosen hind is the one to go on with.
 * @param {Desk} desk @param {LimbName} limb
 */
export function chooseLimb(desk, limb) {
  const { target, choice } = desk;
  const event = target?.target === 'footfall' ? target.event : choice.phase ?? 'stride';
  const stays = event === 'stride' && !choice.four && limb.endsWith('hind');
  desk.choose({ step: 'hooves', ...(stays ? { hind: limb, chosen: null } : { chosen: footfallTarget(limb, event) }) });
}

/** @param {Desk} desk @param {string} value */
function setLead(desk, value) {
  const approach = desk.seen.approaches.find((a) => a.id === desk.approach);
  const lead = value === 'left' || value === 'right' ? value : null;
  if (approach) desk.act({ act: 'set_approach', approach: approach.id, lead, left_turn_frame: approach.left_turn_frame, note: approach.note });
}

/** @param {Desk} desk */
function newApproach(desk) {
  const fence = desk.fence?.id;
  if (!fence) return;
  desk.choice = { ...desk.choice, approach: null, phase: 'stride', chosen: null, step: 'hooves' };
  desk.act({ act: 'new_approach', fence });
}
