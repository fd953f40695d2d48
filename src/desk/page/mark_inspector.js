// The selected mark: what it is, and everything that can be changed of it.

import { choice, tick } from './fields.js';
import { el } from './html.js';
import { CANTER_ORDER, EVENT_WORDS, LIMB_WORDS } from './spots.js';

/** @import { Desk } from './desk.js' */
/** @import { EventName, LimbName } from './wire.d.ts' */

/** @param {Desk} desk */
export function markInspector(desk) {
  const title = el('h2', {});
  const where = el('p', { class: 'quiet' });
  const why = el('p', { class: 'wrong' });
  const limb = choice('Limb', CANTER_ORDER.map((l) => [l, LIMB_WORDS[l]]), { 'data-key': 'inspect limb' });
  const event = choice('Belongs to', /** @type {[EventName, string][]} */ (Object.entries(EVENT_WORDS)), { 'data-key': 'inspect event' });
  const hidden = tick('Out of sight: the frame counts, the place does not', (on) => withSpot((spot) => desk.act({ act: 'set_hidden', spot, hidden: on })), 'inspect hidden');
  const frame = el('button', { class: 'button small', 'data-key': 'inspect frame', onclick: () => withSpot((spot) => desk.act({ act: 'set_frame', spot, frame: desk.frame })) }, 'Belongs to this frame');
  const footfall = el('div', {}, el('div', { class: 'fields' }, limb.element, event.element), hidden.element, frame);
  const element = el('section', { class: 'inspector', 'aria-label': 'Selected mark', hidden: true },
    title, where, why, footfall,
    el('div', { class: 'row' },
      el('button', { class: 'button small', 'data-key': 'inspect remove', onclick: () => desk.removeSelected() }, 'Remove'),
      el('button', { class: 'button small', 'data-key': 'inspect done', onclick: () => desk.select(null) }, 'Let go (Esc)')));

  /** @param {(spot: import('./wire.d.ts').Spot) => void} act */
  function withSpot(act) {
    const mark = desk.selectedMark;
    if (mark) act(mark.spot);
  }
  limb.select.addEventListener('change', () => withSpot((spot) => desk.act({ act: 'set_limb', spot, limb: /** @type {LimbName} */ (limb.select.value) })));
  event.select.addEventListener('change', () => withSpot((spot) => desk.act({ act: 'set_event', spot, event: /** @type {EventName} */ (event.select.value) })));

  function update() {
    const mark = desk.selectedMark;
    element.hidden = !mark;
    if (!mark) return;
    title.textContent = mark.label;
    where.textContent = `frame ${mark.frame}`;
    const suspect = desk.numbers?.suspects.find((s) => s.frame === mark.frame && JSON.stringify(s.spot) === JSON.stringify(mark.spot));
    why.textContent = suspect?.text ?? '';
    why.hidden = !suspect;
    footfall.hidden = mark.spot.of !== 'footfall';
    if (mark.spot.of === 'footfall') {
      limb.select.value = mark.spot.limb;
      event.select.value = mark.spot.event;
      hidden.input.checked = mark.hidden;
      frame.hidden = mark.frame === desk.frame;
    }
  }
  return { element, update };
}
