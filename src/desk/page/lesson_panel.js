// The next lesson in full beside the steps: the drawing to scale, each distance with what was
// published, cautions, sources.

import { drawingFrom, el } from './html.js';
import { sentence } from './sentence.js';
import { sidePanel } from './side_panel.js';

/** @import { LessonDistance, LessonView } from './wire.d.ts' */

export function lessonPanel() {
  const { element, inside, toggle } = sidePanel('Next lesson', 'Next lesson in full');

  /** @param {LessonView} view */
  function show(view) {
    const drawing = drawingFrom(view.drawing);
    const openTables = inside.querySelector('details')?.open ?? false;
    inside.replaceChildren(
      el('p', {}, view.cannot ?? `Stride ${view.stride}.`),
      drawing ? el('div', { class: 'lesson-drawing' }, /** @type {Node} */ (drawing)) : '',
      ...(view.notes.length > 0 ? [el('section', { class: 'doubts' }, el('h3', {}, 'Beware'), el('ul', {}, view.notes.map((n) => el('li', {}, n))))] : []),
      distanceTable(view.distances),
      ...(view.pace.length > 0 ? [el('section', {}, el('h3', {}, 'Pace beside course speeds'), el('p', {}, sentence(view.pace[0])), el('ul', { class: 'quiet' }, view.pace.slice(1).map((p) => el('li', {}, p))))] : []),
      el('section', {}, el('h3', {}, 'Cautions'), el('ul', {}, view.cautions.map((c) => el('li', {}, c)))),
      el('details', { class: 'placed', open: openTables }, el('summary', {}, 'Published tables and sources'),
        view.distances.map((d) => el('section', {}, el('h3', {}, d.name), el('ul', { class: 'quiet' }, d.rows.map((r) => el('li', {}, r))))),
        el('section', {}, el('h3', {}, 'Sources'), el('ul', { class: 'quiet' }, view.sources.map((s) => el('li', {}, s))))));
  }
  return { element, toggle, show };
}

/** @param {LessonDistance[]} distances */
function distanceTable(distances) {
  if (distances.length === 0) return '';
  const head = ['Exercise', 'Distance', 'Room', 'To adjust', 'Published'];
  return el('table', { class: 'lesson-table' },
    el('caption', { class: 'unseen' }, 'Distances of the next lesson'),
    el('thead', {}, el('tr', {}, head.map((h) => el('th', { scope: 'col' }, h)))),
    el('tbody', {}, distances.map((d) => el('tr', {},
      el('th', { scope: 'row' }, d.name),
      el('td', {}, el('span', { class: 'value' }, d.first), el('span', { class: 'second' }, `${d.second} · ${d.walked}`)),
      el('td', {}, d.room),
      el('td', {}, d.versions.map((v) => el('span', { class: 'version' }, v))),
      el('td', { class: 'quiet' }, d.published)))));
}
