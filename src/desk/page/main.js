// Joins the parts: the folder, or the clip that the address names.

import { ApiError } from './api.js';
import { showDesk } from './desk_page.js';
import { showFolder } from './folder_page.js';
import { helpPanel } from './help.js';
import { el } from './html.js';
import { refusalWords } from './sentence.js';
import { topBar } from './top_bar.js';

const help = helpPanel();
const bar = topBar({ openHelp: help.toggle });
const main = el('main', { id: 'main' });
document.body.append(bar.element, main, help.element);
const around = { where: bar.where, state: bar.state };

let putAway = () => {};
let turn = 0;

async function show() {
  const mine = ++turn;
  putAway();
  putAway = () => {};
  const clip = /^#clip\/(.+)$/.exec(location.hash)?.[1];
  try {
    const away = await (clip ? showDesk(main, decodeURIComponent(clip), around) : showFolder(main, around));
    if (mine === turn) putAway = away;
    else away();
  } catch (error) {
    if (mine === turn) showFailure(error);
  }
}

/** @param {unknown} error */
function showFailure(error) {
  const refused = error instanceof ApiError ? error.refused : { error: String(error), hint: null };
  const clip = location.hash.startsWith('#clip/');
  bar.where.replaceChildren(el('h1', {}, 'Groundline'));
  main.replaceChildren(el('div', { class: 'failure' }, el('p', { role: 'alert' }, refusalWords(refused)),
    el('div', { class: 'row' }, el('button', { class: 'button strong', onclick: () => void show() }, 'Try again'), clip && el('a', { class: 'button', href: '#' }, 'To the folder'))));
  if (!(error instanceof ApiError)) throw error;
}

document.addEventListener('keydown', (e) => {
  const typing = e.target instanceof HTMLElement && e.target.matches('input:not([type=checkbox]):not([type=range]), textarea, select');
  if (e.key === '?' && !typing && !e.defaultPrevented) {
    e.preventDefault();
    help.toggle();
  }
});
addEventListener('hashchange', () => void show());
void show();
