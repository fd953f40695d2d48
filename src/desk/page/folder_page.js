// A folder of clips: what is done and missing; search; clips dropped on the page are copied in.

import * as api from './api.js';
import { clipDrop } from './clip_drop.js';
import { el, replaceKeepingFocus } from './html.js';
import { icon } from './icons.js';
import { standPanel } from './stand_panel.js';
import { settings } from './settings.js';

/** @import { ClipCard, FolderView, Progress } from './wire.d.ts' */
/** @import { Frame } from './desk_page.js' */

/** The clip that the desk was asked for is opened once; after that the folder is the folder. */
let openedFirst = false;

/** @type {Record<Progress, string>} */
const PROGRESS_WORDS = { not_begun: 'not begun', begun: 'begun', measured: 'measured', unreadable: 'cannot be used' };

/**
 * Clips that have every word somewhere. Pure.
 * @param {ClipCard[]} clips @param {string} words
 */
export function found(clips, words) {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  return clips.filter((c) => {
    const text = [c.clip, c.rider, c.horse, c.date, c.fences, c.state, PROGRESS_WORDS[c.progress]].join(' ').toLowerCase();
    return wanted.every((w) => text.includes(w));
  });
}

/** @param {HTMLElement} main @param {Frame} around @returns {Promise<() => void>} */
export async function showFolder(main, around) {
  let folder = await api.getFolder();
  if (folder.first && !openedFirst) {
    openedFirst = true;
    location.hash = `clip/${encodeURIComponent(folder.first)}`;
    return () => {};
  }
  const search = el('input', { type: 'search', class: 'search', placeholder: 'Rider, horse, fence, date …', 'aria-label': 'Search clips', autocomplete: 'off' });
  const count = el('p', { class: 'quiet', role: 'status' });
  const list = el('ul', { class: 'cards' });
  const elsewhere = el('p', { class: 'notice away', hidden: true });
  const drop = clipDrop((now) => { folder = now; show(); });
  const stand = standPanel();
  const title = el('h1', {}, folder.name);
  around.where.replaceChildren(title);
  around.state.replaceChildren();
  document.title = `${folder.name} – Groundline`;
  main.replaceChildren(el('div', { class: 'folder' }, elsewhere, el('div', { class: 'folder-tools' }, search, count, drop.button), drop.status, stand.element, list, drop.cover));

  function show() {
    const clips = found(folder.clips, search.value);
    elsewhere.hidden = folder.open_elsewhere === null;
    elsewhere.textContent = folder.open_elsewhere ?? '';
    count.textContent = counted(folder, clips.length);
    replaceKeepingFocus(list, clips.map(card));
  }
  search.addEventListener('input', show);
  settings.addEventListener('change', show);
  show();
  return () => {
    settings.removeEventListener('change', show);
    drop.close();
    stand.close();
  };
}

/** @param {FolderView} folder @param {number} shown */
function counted(folder, shown) {
  const all = folder.clips.length;
  if (all === 0) return 'No clips here yet: drop some on the page.';
  return shown === all ? `${all} ${all === 1 ? 'clip' : 'clips'}` : `${shown} of ${all} clips`;
}

/** @param {ClipCard} clip */
function card(clip) {
  const names = settings.names ? [clip.horse, clip.rider].filter(Boolean).join(' · ') : '';
  const poster = el('img', { class: 'poster', src: api.posterPath(clip.clip), alt: '', loading: 'lazy', decoding: 'async' });
  poster.addEventListener('error', () => poster.classList.add('missing'));
  const inside = [
    clip.unreadable ? el('div', { class: 'poster missing' }, icon('unread')) : poster,
    el('div', { class: 'card-words' },
      el('h2', {}, names || clip.clip),
      el('p', { class: 'quiet' }, [clip.date, clip.fences].filter(Boolean).join(' · ')),
      names && el('p', { class: 'quiet' }, clip.clip),
      el('p', { class: `progress-words ${clip.progress}` }, clip.unreadable ?? clip.state)),
  ];
  return el('li', { class: `card ${clip.progress}` }, clip.unreadable
    ? el('div', { class: 'card-inside' }, inside)
    : el('a', { class: 'card-inside', href: `#clip/${encodeURIComponent(clip.clip)}`, 'data-key': `clip ${clip.clip}` }, inside));
}
