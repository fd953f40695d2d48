// Before filming: where to stand, as typed. Nothing is asked until the panel is opened. An empty field
// shows what is taken in its place; without a place there is no "now", only the best one.

import * as api from './api.js';
import { choice, tick } from './fields.js';
import { el } from './html.js';
import { alongFrom, countFrom, lengthFrom, numberFrom } from './lengths.js';
import { refusalWords } from './sentence.js';
import { settings } from './settings.js';
import { standAnswer } from './stand_answer.js';
import { standField } from './stand_fields.js';

/** @import { StandQuery, StandUsed } from './wire.d.ts' */
/** @import { StandField } from './stand_fields.js' */

/** Typing goes on; the answer takes a second or two. */
const WAIT_MS = 400;

/** What a field that could not be read needs. */
const NEEDED = { count: 'a whole number, such as 4', length: 'a length, such as 3.5 m or 12 ft', number: 'a number, such as 60' };

export function standPanel() {
  const fields = {
    poles: standField('Poles', 'poles', 'count'),
    spacing: standField('Poles apart', 'spacing', 'length'),
    lastPole: standField('Last one to fence', 'last', 'along'),
    strides: standField('Strides wanted', 'strides', 'count'),
    nearest: standField('Nearest you can go', 'nearest', 'length'),
    farthest: standField('Farthest', 'farthest', 'length'),
    distance: standField('From the track', 'distance', 'length'),
    along: standField('Before the fence', 'along', 'along'),
    height: standField('Phone held at', 'height', 'length'),
    poleLength: standField('Pole length', 'pole length', 'length'),
    stride: standField('Stride length', 'stride', 'length'),
    field: standField('Field of view', 'field', 'number', '°'),
    frames: standField('Frame rate', 'frames', 'number', 'Hz'),
  };
  const all = /** @type {StandField[]} */ (Object.values(fields));
  const laid = choice('Laid by', [['tape', 'tape'], ['paces', 'walking']], { 'data-key': 'stand laid' });
  const side = choice('Side (as it goes)', [['right', 'right'], ['left', 'left']], { 'data-key': 'stand side' });
  const held = choice('Phone', [['fixed', 'on a stand'], ['turning', 'follows the horse']], { 'data-key': 'stand held' });
  const snapped = tick('Ends drawn to the poles\u2019 edges', () => {}, 'stand snapped');
  held.element.classList.add('whole');
  const group = (/** @type {string} */ name, /** @type {string} */ says, /** @type {HTMLElement[]} */ inside) => el('details', { class: 'stand-more' }, el('summary', {}, name), says && el('p', { class: 'quiet' }, says), el('div', { class: 'fields two' }, inside));
  const form = el('form', { class: 'fields two stand-fields' },
    fields.poles.element, fields.spacing.element, fields.lastPole.element, laid.element, fields.strides.element, side.element, held.element,
    fields.nearest.element, fields.farthest.element,
    group('Where you stand now', 'If you do: then you are told how to go from there.', [fields.distance.element, fields.along.element]),
    group('More', '', [fields.height.element, fields.poleLength.element, fields.stride.element, fields.field.element, fields.frames.element, snapped.element]));
  const wrong = el('p', { class: 'wrong', role: 'alert', hidden: true });
  const answer = el('div', { class: 'stand-answer' });
  const body = el('div', { class: 'stand-body' }, el('div', { class: 'stand-asks' }, form, wrong), answer);
  const element = el('details', { class: 'stand-panel' }, el('summary', { class: 'stand-title' }, 'Before filming: where to stand'), body);
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
    const unread = all.find((f) => f.isUnread());
    for (const f of all) f.input.setAttribute('aria-invalid', String(f === unread));
    if (unread) {
      complain(`${unread.name}: ${NEEDED[unread.kind === 'along' ? 'length' : unread.kind]}.`);
      return null;
    }
    complain('');
    const count = (/** @type {StandField} */ f) => countFrom(f.input.value);
    const length = (/** @type {StandField} */ f) => lengthFrom(f.input.value, settings.feet);
    const along = (/** @type {StandField} */ f) => alongFrom(f.input.value, settings.feet);
    return {
      poles: count(fields.poles), spacing_m: length(fields.spacing), pole_length_m: length(fields.poleLength), last_pole_m: along(fields.lastPole),
      paced: laid.select.value === 'paces', snapped: snapped.input.checked,
      strides: count(fields.strides), stride_m: length(fields.stride), left: side.select.value === 'left', turning: held.select.value === 'turning',
      field_deg: numberFrom(fields.field.input.value), frames_per_s: numberFrom(fields.frames.input.value),
      nearest_m: length(fields.nearest), farthest_m: length(fields.farthest),
      distance_m: length(fields.distance), along_m: along(fields.along), height_m: length(fields.height),
    };
  }

  /** @param {StandUsed} used */
  function showUsed(used) {
    for (const [field, value] of /** @type {[StandField, string][]} */ ([
      [fields.poles, used.poles], [fields.spacing, used.spacing], [fields.lastPole, used.last_pole], [fields.strides, used.strides], [fields.nearest, used.nearest],
      [fields.farthest, used.farthest], [fields.poleLength, used.pole_length], [fields.stride, used.stride], [fields.field, used.field], [fields.frames, used.frames_per_s],
    ])) field.input.placeholder = value;
  }

  async function ask() {
    const query = element.open ? asked() : null;
    asking?.abort();
    if (!query) return;
    // Half a place is being typed.
    if ((query.distance_m === null) !== (query.along_m === null)) return complain('Where you stand now: both from the track and before the fence.');
    const mine = new AbortController();
    asking = mine;
    answer.classList.add('older');
    if (!answer.hasChildNodes()) answer.append(el('p', { class: 'quiet', role: 'status' }, 'Trying places …'));
    answer.setAttribute('aria-busy', 'true');
    try {
      const view = await api.getStand(query, settings, mine.signal);
      answer.replaceChildren(...standAnswer(view));
      showUsed(view.used);
      settled();
    } catch (error) {
      if (api.isAbort(error)) return;
      complain(error instanceof api.ApiError ? refusalWords(error.refused) : String(error));
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
  function onSettings() {
    for (const f of all) f.unitsChanged();
    askSoon();
  }
  form.addEventListener('submit', (e) => e.preventDefault());
  form.addEventListener('input', askSoon);
  element.addEventListener('toggle', () => {
    if (!element.open) return;
    // Sentence and picture are seen without scrolling.
    element.scrollIntoView({ block: 'start' });
    void ask();
  });
  settings.addEventListener('change', onSettings);
  return {
    element,
    close() {
      clearTimeout(waiting);
      asking?.abort();
      settings.removeEventListener('change', onSettings);
    },
  };
}
