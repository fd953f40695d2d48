// Where to stand, as told: the sentence above the picture, figures and single changes beside it.

import { drawingFrom, el } from './html.js';
import { wholePlusMinus } from './sentence.js';

/** @import { StandView } from './wire.d.ts' */

/** @param {StandView} view @returns {HTMLElement[]} */
export function standAnswer(view) {
  const figure = el('figure', { class: 'stand-picture' });
  const drawing = drawingFrom(view.svg);
  if (drawing) figure.append(drawing);
  const both = view.now !== null && view.advised !== null;
  const cells = (/** @type {string | null} */ now, /** @type {string | null} */ advised) => [now, advised].filter((c) => c !== null);
  const heads = both ? ['now', 'better'] : [''];
  const table = el('table', { class: 'stand-table' },
    el('caption', { class: 'unseen' }, 'What will be known'),
    both && el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, '±'), heads.map((h) => el('th', { scope: 'col' }, h)))),
    el('tbody', {}, view.rows.map((row) => el('tr', {}, el('th', { scope: 'row' }, row.name), cells(row.now, row.advised).map((c) => el('td', {}, c))))));
  const lead = el('div', { class: 'stand-lead' },
    el('p', { class: 'stand-sentence', role: 'status' }, wholePlusMinus(view.sentence)),
    view.unseen && el('p', { class: 'wrong' }, `From where you stand now: ${view.unseen}.`),
    view.view.map((said) => el('p', {}, wholePlusMinus(said))));
  const words = el('div', { class: 'stand-words' },
    view.now !== null && el('p', { class: 'quiet' }, `Now ${wholePlusMinus(view.now)}.`),
    both && el('p', { class: 'quiet' }, `Better ${wholePlusMinus(view.advised ?? '')}.`),
    view.rows.length > 0 && (view.now !== null || view.advised !== null) && table,
    view.changes.length > 0 && el('h2', {}, view.changes_head),
    view.changes.length > 0 && el('ul', { class: 'stand-changes' }, view.changes.map((c) => el('li', {}, el('span', {}, c.words), el('span', {}, wholePlusMinus(c.half))))),
    view.doubts.map((d) => el('p', { class: 'wrong' }, `Doubt: ${d}.`)));
  const cautions = el('ul', { class: 'stand-cautions quiet' }, view.cautions.map((c) => el('li', {}, c)));
  return [el('div', { class: 'stand-seen' }, lead, figure), words, cautions];
}
