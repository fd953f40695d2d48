// The numbers at the right: headline, take-off and landing, strides, doubts, suspects. Every number
// comes written; here it is only set.

import { el, replaceKeepingFocus } from './html.js';
import { icon } from './icons.js';
import { readingLimits } from './reading_limits.js';
import { readingPart } from './reading_part.js';
import { markKey } from './spots.js';

/** @import { Desk } from './desk.js' */
/** @import { ApproachNumbers, FactView, NumbersView, StrideView } from './wire.d.ts' */

/** @param {Desk} desk */
export function numbersPanel(desk) {
  const headline = el('h2', { class: 'headline' });
  const cannot = el('p', { class: 'cannot' });
  const approaches = el('div', { class: 'approaches' });
  const suspects = el('section', { class: 'suspects', hidden: true });
  const doubts = el('section', { class: 'doubts', hidden: true });
  const spoken = el('p', { class: 'unseen', role: 'status' });
  const unfinished = el('section', { class: 'unfinished', hidden: true });
  const toDoubts = el('button', { class: 'link doubts-link', hidden: true, 'data-key': 'to doubts', onclick: () => doubts.scrollIntoView({ block: 'nearest' }) });
  const readings = el('div', { class: 'all-readings' });
  const limits = readingLimits();
  const element = el('section', { class: 'numbers', 'aria-label': 'Numbers', tabindex: 0 }, headline, cannot, toDoubts, suspects, readings, limits.element, approaches, unfinished, doubts, spoken);
  /** @type {NumbersView | null} */
  let shown = null;
  let at = -1;

  function update() {
    element.classList.toggle('counting', desk.counting || (desk.numbers !== null && desk.numbers.revision !== desk.round.revision));
    const { numbers } = desk;
    if (!numbers) {
      headline.textContent = desk.counting ? 'Measuring …' : 'The numbers did not come.';
      return;
    }
    if (numbers !== shown) {
      shown = numbers;
      fill(numbers);
    }
    if (at !== desk.frame || numbers === shown) {
      at = desk.frame;
      for (const row of element.querySelectorAll('tbody[data-from]')) {
        const { from, to } = /** @type {HTMLElement} */ (row).dataset;
        row.classList.toggle('here', at >= Number(from) && at < Number(to));
        const { approach, stride } = /** @type {HTMLElement} */ (row).dataset;
        row.classList.toggle('evidence', desk.evidence !== null && desk.evidence.approach === approach && desk.evidence.strides.includes(Number(stride)));
      }
    }
  }

  /** @param {NumbersView} numbers */
  function fill(numbers) {
    // A line may break after the words, not within take-off.
    headline.textContent = numbers.headline.replaceAll('-', '\u2011');
    cannot.textContent = numbers.cannot ?? '';
    cannot.hidden = !numbers.cannot || numbers.cannot === numbers.headline;
    const many = numbers.approaches.length > 1;
    const unfolded = readings.querySelector('details.more-readings[open]') !== null;
    replaceKeepingFocus(readings, numbers.approaches.map((a) => readingPart(desk, a, many, unfolded)));
    replaceKeepingFocus(approaches, numbers.approaches.map((a) => approachPart(desk, a, many)));
    limits.element.hidden = numbers.approaches.every((a) => a.reading.length === 0);
    suspects.hidden = numbers.suspects.length === 0;
    replaceKeepingFocus(suspects, [el('h3', {}, 'Suspect marks'), el('ul', {}, numbers.suspects.map((s) => {
      const label = desk.round.marks.find((m) => markKey(m) === markKey(s))?.label ?? 'a mark';
      const go = async () => {
        await desk.goTo(s.frame);
        desk.select(desk.seen.marks.find((m) => markKey(m) === markKey(s)) ?? null);
      };
      return el('li', {}, el('button', { class: 'link', 'data-key': `suspect ${markKey(s)}`, onclick: () => void go() }, `${label}, frame ${s.frame}`), ` ${s.text}`);
    }))]);
    const told = [...new Set([...desk.clip.doubts, ...numbers.doubts.filter((d) => !d.unfinished).map((d) => d.text)])];
    const open = [...new Set(numbers.doubts.filter((d) => d.unfinished).map((d) => d.text))];
    unfinished.hidden = open.length === 0;
    replaceKeepingFocus(unfinished, [el('h3', {}, 'Not marked yet'), el('ul', {}, open.map((d) => el('li', {}, d)))]);
    doubts.hidden = told.length === 0;
    toDoubts.hidden = doubts.hidden;
    toDoubts.textContent = told.length === 1 ? '1 doubt' : `${told.length} doubts`;
    replaceKeepingFocus(doubts, [el('h3', {}, 'Doubts'), el('ul', {}, told.map((d) => el('li', {}, d)))]);
    spoken.textContent = numbers.cannot ?? numbers.headline;
  }
  return { element, update };
}

/** @param {Desk} desk @param {ApproachNumbers} approach @param {boolean} many */
function approachPart(desk, approach, many) {
  return el('section', {},
    many && el('h3', {}, `${approach.approach}: ${approach.headline}`),
    // Take-off and landing first, then the strides, then what is told of all of them.
    facts(approach.facts.slice(0, 2)),
    approach.strides.length > 0 && strideTable(desk, approach),
    facts(approach.facts.slice(2)));
}

/** @param {FactView[]} list */
const facts = (list) => list.length > 0 && el('dl', { class: 'facts' }, list.flatMap(factPart));

/** @param {FactView} fact */
const factPart = (fact) => [
  el('dt', {}, fact.name),
  el('dd', {}, measured(fact.value, fact.plus_minus), fact.explained && el('span', { class: 'explained' }, fact.explained)),
];

/** @param {string} value @param {string} plusMinus */
const measured = (value, plusMinus) => el('span', { class: 'measured' }, el('span', { class: 'value' }, value), plusMinus && el('span', { class: 'plus-minus' }, ` ${plusMinus}`));

/** @param {Desk} desk @param {ApproachNumbers} approach */
function strideTable(desk, approach) {
  return el('table', { class: 'strides' },
    el('caption', { class: 'unseen' }, 'Strides, the farthest from the fence first'),
    el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, el('span', { class: 'unseen' }, 'Stride')), el('th', { scope: 'col' }, 'Length, time'), el('th', { scope: 'col' }, 'Pace, tempo'), el('th', { scope: 'col' }, el('span', { class: 'unseen' }, 'Note')))),
    ...approach.strides.map((s) => strideRows(desk, approach.approach, s)));
}

/** @param {Desk} desk @param {string} approach @param {StrideView} stride */
function strideRows(desk, approach, stride) {
  const noteRow = noteOf(desk, approach, stride);
  const write = () => {
    noteRow.row.hidden = false;
    noteRow.input.focus();
  };
  return el('tbody', { 'data-approach': approach, 'data-stride': stride.number, 'data-from': stride.from_frame, 'data-to': stride.to_frame },
    el('tr', {},
      el('th', { scope: 'row' }, el('button', { class: 'stride-name', 'data-key': `stride ${approach} ${stride.number}`, title: 'Go to its first contact', 'aria-label': `Stride ${stride.name}: go to its first contact`, onclick: () => void desk.goTo(stride.from_frame) }, stride.name)),
      el('td', {}, stride.length ? measured(stride.length, stride.plus_minus) : el('span', { class: 'quiet' }, 'not seen'), el('span', { class: 'second' }, stride.duration)),
      el('td', {}, el('span', { class: 'pace' }, stride.pace), el('span', { class: 'second' }, stride.tempo)),
      el('td', { class: 'pen' }, !stride.note && el('button', { class: 'icon-button', title: 'Write a note', 'aria-label': `Write a note on stride ${stride.name}`, 'data-key': `pen ${approach} ${stride.number}`, onclick: write }, icon('pen')))),
    noteRow.row);
}

/** The note's own row; hidden while there is none. @param {Desk} desk @param {string} approach @param {StrideView} stride */
function noteOf(desk, approach, stride) {
  const input = el('input', { class: 'note', type: 'text', value: stride.note, placeholder: 'note', autocomplete: 'off', 'aria-label': `Note on stride ${stride.name}`, 'data-key': `note ${approach} ${stride.number}` });
  const row = el('tr', { class: 'note-row', hidden: stride.note === '' }, el('td', {}), el('td', { colspan: 3 }, input));
  input.addEventListener('change', () => {
    const text = input.value.trim();
    const was = desk.seen.approaches.find((a) => a.id === approach)?.stride_notes.find((n) => n.stride === stride.number)?.text ?? '';
    if (text !== was) desk.act({ act: 'set_stride_note', approach, stride: stride.number, text });
  });
  input.addEventListener('blur', () => { row.hidden = input.value.trim() === ''; });
  return { row, input };
}
