// Before filming: where to stand, as typed. Nothing is asked until the panel is opened.

import * as api from './api.js';
import { choice, field } from './fields.js';
import { drawingFrom, el } from './html.js';
import { countFrom, metresFrom } from './lengths.js';
import { wholePlusMinus } from './sentence.js';
import { settings } from './settings.js';

/** @import { StandQuery, StandView } from './wire.d.ts' */

/** Typing goes on; the answer takes a second or two. */
const WAIT_MS = 400;

/**
 * A length that may lie on either side: "9", "-2 m", "0". Pure.
 * @param {string} text @returns {number | null} metres
 */
export function alongFrom(text) {
  const clean = text.trim().replace('−', '-');
  if (/^-?0+([.,]0*)?\s*m?$/.test(clean)) return 0;
  const metres = metresFrom(clean.replace(/^-/, ''));
  return metres !== null && clean.startsWith('-') ? -metres : metres;
}

export function standPanel() {
  /** @param {string} label @param {string} value @param {string} unit @param {string} key */
  const typed = (label, value, unit, key) => field(label, { value, inputmode: unit ? 'decimal' : 'numeric', 'data-key': `stand ${key}` }, unit);
  const fields = {
    poles: typed('Poles', '4', '', 'poles'),
    spacing: typed('Poles apart', '3', 'm', 'spacing'),
    last: typed('Last pole before the fence', '4', 'm', 'last'),
    strides: typed('Strides wanted', '5', '', 'strides'),
    distance: typed('Phone from the track', '18', 'm', 'distance'),
    along: typed('Phone before the fence', '9', 'm', 'along'),
    height: typed('Phone above the ground', '1.6', 'm', 'height'),
  };
  const laid = choice('Poles laid by', [['tape', 'tape'], ['paces', 'walking']], { 'data-key': 'stand laid' });
  const side = choice('Side, the way the horse goes', [['right', 'right'], ['left', 'left']], { 'data-key': 'stand side' });
  const held = choice('Phone', [['fixed', 'on a stand'], ['turning', 'follows the horse']], { 'data-key': 'stand held' });
  const form = el('form', { class: 'fields stand-fields' },
    fields.poles.element, fields.spacing.element, laid.element, fields.last.element, fields.strides.element,
    fields.distance.element, fields.along.element, fields.height.element, side.element, held.element);
  const wrong = el('p', { class: 'wrong', role: 'alert', hidden: true });
  const answer = el('div', { class: 'stand-answer' });
  const element = el('details', { class: 'stand-panel' }, el('summary', {}, 'Before filming: where to stand'), form, wrong, answer);
  let waiting = 0;
  /** @type {AbortController | null} */
  let asking = null;

  /** @param {string} text */
  const complain = (text) => {
    wrong.textContent = text;
    wrong.hidden = text === '';
  };

  /** @returns {StandQuery | null} */
  function asked() {
    const poles = countFrom(fields.poles.input.value);
    const strides = countFrom(fields.strides.input.value);
    const spacing_m = metresFrom(fields.spacing.input.value);
    const distance_m = metresFrom(fields.distance.input.value);
    const height_m = metresFrom(fields.height.input.value);
    const last_pole_m = alongFrom(fields.last.input.value);
    const along_m = alongFrom(fields.along.input.value);
    if (poles === null || strides === null) {
      complain('Poles and strides: whole numbers, such as 4.');
      return null;
    }
    if (spacing_m === null || distance_m === null || height_m === null || last_pole_m === null || along_m === null) {
      complain('Lengths: such as 3.5 or 12 ft.');
      return null;
    }
    complain('');
    return { poles, strides, spacing_m, distance_m, height_m, last_pole_m, along_m, paced: laid.select.value === 'paces', left: side.select.value === 'left', turning: held.select.value === 'turning' };
  }

  async function ask() {
    const query = element.open ? asked() : null;
    if (!query) return;
    asking?.abort();
    const mine = new AbortController();
    asking = mine;
    answer.classList.add('older');
    if (!answer.hasChildNodes()) answer.append(el('p', { class: 'quiet', role: 'status' }, 'Trying places …'));
    answer.setAttribute('aria-busy', 'true');
    try {
      const view = await api.getStand(query, settings, mine.signal);
      answer.replaceChildren(...shown(view));
      settled();
    } catch (error) {
      if (api.isAbort(error)) return;
      const refused = error instanceof api.ApiError ? error.refused : { error: String(error), hint: null };
      complain([refused.error, refused.hint].filter(Boolean).join(' – '));
      answer.replaceChildren();
      settled();
    }
  }
  function settled() {
    answer.classList.remove('older');
    answer.setAttribute('aria-busy', 'false');
  }
  function askSoon() {
    clearTimeout(waiting);
    waiting = window.setTimeout(ask, WAIT_MS);
  }
  form.addEventListener('submit', (e) => e.preventDefault());
  form.addEventListener('input', askSoon);
  element.addEventListener('toggle', () => { if (element.open) ask(); });
  settings.addEventListener('change', askSoon);
  return {
    element,
    close() {
      clearTimeout(waiting);
      asking?.abort();
      settings.removeEventListener('change', askSoon);
    },
  };
}

/** @param {StandView} view @returns {HTMLElement[]} */
function shown(view) {
  const figure = el('figure', { class: 'stand-picture' });
  const drawing = drawingFrom(view.svg);
  if (drawing) figure.append(drawing);
  const better = view.better !== null;
  const table = el('table', { class: 'stand-table' },
    el('thead', {}, el('tr', {}, el('th', { scope: 'col' }, '±'), el('th', { scope: 'col' }, 'now'), better && el('th', { scope: 'col' }, 'better'))),
    el('tbody', {}, view.rows.map((row) => el('tr', {}, el('th', { scope: 'row' }, row.name), el('td', {}, row.now), better && el('td', {}, row.better ?? '')))));
  const words = el('div', { class: 'stand-words' },
    el('p', { class: 'stand-sentence', role: 'status' }, wholePlusMinus(view.sentence)),
    el('p', { class: 'quiet' }, `Now ${view.now}.`),
    better && el('p', { class: 'quiet' }, `Better ${view.better}.`),
    view.unseen && el('p', { class: 'wrong' }, `From where you stand now: ${view.unseen}.`),
    table,
    view.changes.length > 0 && el('h2', {}, 'One thing alone done differently from now'),
    view.changes.length > 0 && el('ul', { class: 'stand-changes' }, view.changes.map((c) => el('li', {}, el('span', {}, c.words), el('span', {}, c.half)))),
    view.doubts.map((d) => el('p', { class: 'wrong' }, `Doubt: ${d}.`)));
  const cautions = el('ul', { class: 'stand-cautions quiet' }, view.cautions.map((c) => el('li', {}, c)));
  return [figure, words, cautions];
}
