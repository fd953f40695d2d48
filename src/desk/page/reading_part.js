// What the numbers support, a sentence each, what matters first. A click shows the strides that show it.

import { el } from './html.js';

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
