// What can be handed out: made by the program, with progress, and given up on a word.

import * as api from './api.js';
import { el, replaceKeepingFocus } from './html.js';
import { refusalWords } from './sentence.js';
import { settings } from './settings.js';

/** @import { Desk } from './desk.js' */
/** @import { HandOutKind, HandOutView } from './wire.d.ts' */

/** @type {[HandOutKind, string][]} */
const KINDS = [['sheet', 'Sheet (PDF)'], ['approach_picture', 'Approach picture'], ['stills', 'Stills'], ['reel', 'Reel (MP4)'], ['csv', 'Table (CSV)'], ['workbook', 'Workbook (XLSX)']];
const ASK_AGAIN_MS = 400;

/** @param {Desk} desk */
export function handOutStep(desk) {
  const status = el('div', { class: 'hand-outs', role: 'status' });
  /** @type {Map<HandOutKind, HandOutView | { kind: HandOutKind, state: 'failed', says: string, id: -1, file: null }>} */
  const asked = new Map();
  const buttons = KINDS.map(([kind, words]) => el('button', { class: 'button', 'data-key': `make ${kind}`, onclick: () => void make(kind) }, words));
  const names = el('p', { class: 'quiet' });
  const element = el('div', {}, el('div', { class: 'button-grid' }, buttons), names, status);

  /** @param {HandOutKind} kind */
  async function make(kind) {
    try {
      let shownOnce = false;
      let view = await api.makeHandOut(desk.clip.clip, { kind, no_names: !settings.names, feet: settings.feet, limits: settings.limits, lesson: null });
      while (true) {
        asked.set(kind, view);
        show();
        if (!shownOnce) status.scrollIntoView({ block: 'nearest' });
        shownOnce = true;
        if (view.state === 'done' && view.file !== null) save(view);
        if (view.state !== 'working') return;
        await new Promise((go) => setTimeout(go, ASK_AGAIN_MS));
        view = await api.getHandOut(view.id);
      }
    } catch (error) {
      asked.set(kind, { kind, state: 'failed', says: error instanceof api.ApiError ? refusalWords(error.refused) : String(error), id: -1, file: null });
      show();
    }
  }

  /** Saved as it is made: who asked for it wants it. @param {HandOutView} view */
  function save(view) {
    el('a', { href: api.handOutFile(view.id), download: '' }).click();
  }

  function show() {
    replaceKeepingFocus(status, [...asked.values()].map((view) => {
      const words = KINDS.find(([kind]) => kind === view.kind)?.[1] ?? view.kind;
      const says = el('span', { class: view.state === 'failed' ? 'wrong' : 'quiet' }, view.says);
      const working = view.state === 'working' && el('progress', { 'aria-label': `making ${words}` });
      const cancel = view.state === 'working' && el('button', { class: 'button small', 'data-key': `cancel ${view.id}`, onclick: () => void api.cancelHandOut(view.id).catch(() => {}) }, 'Cancel');
      const file = view.state === 'done' && view.file !== null && el('a', { class: 'button small', href: api.handOutFile(view.id), download: '', 'data-key': `file ${view.id}` }, 'Save');
      return el('div', { class: `hand-out ${view.state}` }, el('strong', {}, words), says, working, cancel, file);
    }));
  }

  function update() {
    const missing = desk.numbers?.cannot ?? null;
    for (const button of buttons) button.disabled = missing !== null;
    names.textContent = missing ?? (settings.names ? '' : 'Names are left off.');
    names.hidden = names.textContent === '';
  }
  return { element, update };
}
