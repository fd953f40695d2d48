// The next lesson: few fields, the distances, and the way to drawing, tables and page.

import * as api from './api.js';
import { choice, field } from './fields.js';
import { el, replaceKeepingFocus } from './html.js';
import { lengthField } from './length_field.js';
import { lessonPanel } from './lesson_panel.js';
import { refusalWords, sentence } from './sentence.js';
import { settings } from './settings.js';
import { sidePanel } from './side_panel.js';
import { standAnswer } from './stand_answer.js';

/** @import { Desk } from './desk.js' */
/** @import { LessonDistance, LessonGait, LessonGoing, LessonReadiness, LessonSize, LessonView, LessonWish } from './wire.d.ts' */

const ASK_AGAIN_MS = 500;

/** @type {[LessonSize, string][]} */
const SIZES = [['horse', 'Horse'], ['pony', 'Pony'], ['small_pony', 'Pony to 1.30 m'], ['medium_pony', 'Pony to 1.40 m'], ['large_pony', 'Pony to 1.50 m']];
/** @type {[LessonGait, string][]} */
const GAITS = [['canter', 'Canter'], ['trot', 'Trot']];
/** @type {[LessonGoing | '', string][]} */
const GOINGS = [['', 'As stated'], ['good', 'Good'], ['deep', 'Deep'], ['slippery', 'Slippery']];
/** @type {[LessonReadiness, string][]} */
const STATES = [['ready', 'Ready'], ['tired', 'Tired'], ['green', 'Green']];

/** @param {Desk} desk */
export function lessonStep(desk) {
  const number = (/** @type {string} */ key) => ({ inputmode: 'decimal', 'data-key': `lesson ${key}` });
  const stride = lengthField('Stride, if not measured', { 'data-key': 'lesson stride' });
  const height = lengthField('Fences', { 'data-key': 'lesson height' }, true);
  const slope = field('Slope, up is +', number('slope'), '%');
  const gait = choice('Met in', GAITS, { 'data-key': 'lesson gait' });
  const size = choice('For', SIZES, { 'data-key': 'lesson size' });
  const going = choice('Going', GOINGS, { 'data-key': 'lesson going' });
  const state = choice('The horse is', STATES, { 'data-key': 'lesson state' });
  stride.element.classList.add('whole');
  const form = el('form', { class: 'fields two' }, [stride, height, gait, size, going, state, slope].map((f) => f.element));
  const says = el('p', { class: 'quiet' });
  const notes = el('ul', { class: 'lesson-notes' });
  const list = el('dl', { class: 'lesson-distances' });
  const panel = lessonPanel();
  const standing = sidePanel('Where to stand next time', 'Where to stand next time');
  const open = el('button', { class: 'button', 'data-key': 'lesson drawing', 'aria-expanded': false, onclick: () => panel.toggle() }, 'Drawing and tables');
  const make = el('button', { class: 'button', 'data-key': 'lesson page', onclick: () => void makePage() }, 'Page (PDF)');
  const made = el('p', { class: 'quiet', role: 'status' });
  const better = el('button', { class: 'button', 'data-key': 'lesson stand', onclick: () => void whereToStand() }, 'Where to stand next time');
  const stood = el('div', { class: 'stood', role: 'status' });
  const decides = el('p', { class: 'quiet' }, 'Starting points: the person on the ground decides.');
  const element = el('div', { class: 'lesson' }, form, says, list, notes, decides, el('div', { class: 'button-grid' }, open, make), made, better, stood);
  panel.element.addEventListener('toggled', () => open.setAttribute('aria-expanded', String(!panel.element.hidden)));
  let asked = '';
  let stop = new AbortController();
  /** @type {LessonView | null} */
  let shown = null;

  form.addEventListener('submit', (e) => e.preventDefault());
  form.addEventListener('change', () => update());
  form.addEventListener('keydown', (e) => {
    if (e.key === 'Enter') update();
  });

  /** @param {HTMLInputElement} input */
  const numberIn = (input) => {
    const text = input.value.trim().replace(',', '.').replace('\u2212', '-');
    const value = Number(text);
    const wrong = text !== '' && !Number.isFinite(value);
    input.setAttribute('aria-invalid', String(wrong));
    return text === '' || wrong ? null : value;
  };

  /** @param {ReturnType<typeof lengthField>} of */
  const lengthIn = (of) => {
    const { metres } = of;
    of.input.setAttribute('aria-invalid', String(metres === null && !of.blank));
    return metres;
  };

  /** @returns {LessonWish} */
  const wish = () => ({
    approach: desk.approach || null, stride_m: lengthIn(stride), height_m: lengthIn(height), slope_percent: numberIn(slope.input), strides: null,
    gait: /** @type {LessonGait} */ (gait.select.value), size: /** @type {LessonSize} */ (size.select.value),
    going: /** @type {LessonGoing | ''} */ (going.select.value) || null, readiness: /** @type {LessonReadiness} */ (state.select.value),
  });

  async function makePage() {
    const lesson = wish();
    lesson.height_m ??= shown?.used.height_m ?? null;
    try {
      let view = await api.makeHandOut(desk.clip.clip, { kind: 'lesson', no_names: !settings.names, feet: settings.feet, limits: settings.limits, lesson });
      while (view.state === 'working') {
        made.textContent = view.says;
        await new Promise((go) => setTimeout(go, 300));
        view = await api.getHandOut(view.id);
      }
      made.textContent = view.says;
      if (view.file !== null) el('a', { href: api.handOutFile(view.id), download: '' }).click();
    } catch (error) {
      made.textContent = error instanceof api.ApiError ? refusalWords(error.refused) : String(error);
    }
  }

  /** Asked for by hand: it takes a second or two. The picture is shown at once, over the desk. */
  async function whereToStand() {
    /** @param {string} text */
    const saying = (text) => {
      stood.replaceChildren(el('p', { class: 'quiet' }, text));
      standing.inside.replaceChildren(el('p', {}, text));
    };
    if (!panel.element.hidden) panel.toggle();
    if (standing.element.hidden) standing.toggle();
    saying('Trying places …');
    try {
      const view = await api.getStood(desk.clip.clip, desk.approach ?? '', settings, stop.signal);
      stood.replaceChildren(el('p', {}, view.sentence), el('p', { class: 'quiet' }, view.cautions[0] ?? ''));
      standing.inside.replaceChildren(el('div', { class: 'stand-answer' }, ...standAnswer(view)));
    } catch (error) {
      if (api.isAbort(error)) {
        stood.replaceChildren();
        if (!standing.element.hidden) standing.toggle();
      } else saying(error instanceof api.ApiError ? refusalWords(error.refused) : String(error));
    }
    stood.scrollIntoView({ block: 'nearest' });
  }

  /** Asks anew when anything it rests on has changed. */
  function update() {
    const now = JSON.stringify([wish(), settings.feet, settings.dark, desk.round.revision, desk.numbers?.revision]);
    if (now === asked) return;
    asked = now;
    stop.abort();
    stop = new AbortController();
    void refresh(stop.signal);
  }

  /** @param {AbortSignal} signal */
  async function refresh(signal) {
    try {
      let view = await api.getLesson(desk.clip.clip, wish(), settings, signal);
      fill(view);
      // Each answer waits a while itself.
      while (view.unsettled) {
        await new Promise((go) => setTimeout(go, ASK_AGAIN_MS));
        view = await api.getLesson(desk.clip.clip, wish(), settings, signal);
        fill(view);
      }
    } catch (error) {
      if (api.isAbort(error)) return;
      asked = '';
      says.textContent = error instanceof api.ApiError ? refusalWords(error.refused) : String(error);
    }
  }

  /** @param {LessonView} view */
  function fill(view) {
    shown = view;
    stride.show(null);
    height.show(null);
    stride.input.placeholder = view.used.stride;
    height.input.placeholder = view.used.height;
    slope.input.placeholder = view.used.slope;
    says.textContent = view.cannot ?? [`Stride ${view.stride}.`, ...view.taken.map(sentence)].join(' ');
    replaceKeepingFocus(list, view.distances.map(distancePart));
    replaceKeepingFocus(notes, view.notes.map((n) => el('li', {}, n)));
    open.disabled = make.disabled = view.cannot !== null;
    stood.replaceChildren();
    decides.hidden = view.cannot !== null;
    panel.show(view);
  }
  return { element, update };
}

/** @param {LessonDistance} distance */
const distancePart = (distance) => el('div', { class: 'lesson-distance' },
  el('dt', {}, distance.name),
  el('dd', { class: 'value' }, distance.first),
  el('dd', { class: 'second' }, `${distance.second} · ${distance.walked}`));
