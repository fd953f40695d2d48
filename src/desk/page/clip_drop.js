// Clips dropped on the page, or chosen, are copied into the folder one after the other.

import * as api from './api.js';
import { el } from './html.js';
import { refusalWords } from './sentence.js';

/** @import { FolderView } from './wire.d.ts' */

/** @param {(folder: FolderView) => void} onFolder */
export function clipDrop(onFolder) {
  const input = el('input', { type: 'file', accept: 'video/*,.mp4,.mov,.m4v,.mkv,.avi', multiple: true, class: 'unseen', tabindex: -1, 'aria-hidden': 'true' });
  const button = el('div', { class: 'add' }, el('button', { class: 'button', onclick: () => input.click() }, 'Add clips'), input);
  const status = el('ul', { class: 'copying', role: 'status' });
  const cover = el('div', { class: 'drop-cover', hidden: true }, el('p', {}, 'Let go to copy the clips into this folder'));
  let turn = Promise.resolve();

  /** @param {File} file */
  async function copy(file) {
    const stop = new AbortController();
    const bar = el('progress', { max: 1, value: 0, 'aria-label': `copying ${file.name}` });
    const words = el('span', {}, 'waits');
    const cancel = el('button', { class: 'button small', onclick: () => stop.abort() }, 'Cancel');
    const row = el('li', {}, el('strong', {}, file.name), bar, words, cancel);
    status.append(row);
    turn = turn.then(async () => {
      if (stop.signal.aborted) return row.remove();
      words.textContent = 'copied';
      try {
        onFolder(await api.putClip(file, (share) => { bar.value = share; words.textContent = share >= 1 ? 'being looked at' : 'is copied'; }, stop.signal));
        row.remove();
      } catch (error) {
        if (api.isAbort(error)) return row.remove();
        const refused = error instanceof api.ApiError ? error.refused : { error: String(error), hint: null };
        bar.remove();
        words.className = 'wrong';
        words.textContent = refusalWords(refused);
        cancel.textContent = 'Put away';
        cancel.addEventListener('click', () => row.remove());
      }
    });
    await turn;
  }

  /** @param {Iterable<File>} files */
  const copyAll = (files) => { for (const file of files) void copy(file); };
  input.addEventListener('change', () => {
    copyAll(input.files ?? []);
    input.value = '';
  });

  const hasFiles = (/** @type {DragEvent} */ e) => e.dataTransfer?.types.includes('Files') ?? false;
  /** @type {(e: DragEvent) => void} */
  const over = (e) => {
    if (!hasFiles(e)) return;
    e.preventDefault();
    cover.hidden = false;
  };
  /** @type {(e: DragEvent) => void} */
  const leave = (e) => { if (e.relatedTarget === null) cover.hidden = true; };
  /** @type {(e: DragEvent) => void} */
  const dropped = (e) => {
    if (!hasFiles(e)) return;
    e.preventDefault();
    cover.hidden = true;
    copyAll(e.dataTransfer?.files ?? []);
  };
  document.addEventListener('dragover', over);
  document.addEventListener('dragleave', leave);
  document.addEventListener('drop', dropped);
  const close = () => {
    document.removeEventListener('dragover', over);
    document.removeEventListener('dragleave', leave);
    document.removeEventListener('drop', dropped);
  };
  return { button, status, cover, close };
}
