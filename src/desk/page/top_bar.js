// The bar at the top: where one is, units, names, light or dark, help.

import { el } from './html.js';
import { icon } from './icons.js';
import { settings } from './settings.js';

/** @import { IconName } from './icons.js' */
/** @import { ThemeName } from './settings.js' */

/** @type {[ThemeName, IconName, string][]} */
const THEMES = [['system', 'system', 'Light or dark as the system says'], ['light', 'light', 'Light'], ['dark', 'dark', 'Dark']];

/** @param {{ openHelp: () => void }} parts */
export function topBar({ openHelp }) {
  const where = el('div', { class: 'where' });
  const state = el('div', { class: 'state' });
  const units = [false, true].map((feet) => el('button', { class: 'segment', 'aria-label': feet ? 'ft, feet' : 'm, metres', onclick: () => settings.set({ feet }) }, feet ? 'ft' : 'm'));
  const names = el('button', { class: 'text-button', onclick: () => settings.set({ names: !settings.names }) });
  const themes = THEMES.map(([theme, name, words]) => el('button', { class: 'segment', 'aria-label': words, title: words, onclick: () => settings.set({ theme }) }, icon(name)));
  const element = el('header', { class: 'top-bar' }, where, state,
    el('div', { class: 'top-tools' },
      el('div', { class: 'segments', role: 'group', 'aria-label': 'Units' }, units),
      names,
      el('div', { class: 'segments', role: 'group', 'aria-label': 'Light or dark' }, themes),
      el('button', { class: 'text-button', title: 'Help', 'aria-label': '? Help', onclick: openHelp }, '?')));

  function update() {
    units.forEach((button, i) => button.setAttribute('aria-pressed', String(settings.feet === (i === 1))));
    names.setAttribute('aria-pressed', String(settings.names));
    names.textContent = settings.names ? 'Names on' : 'Names off';
    THEMES.forEach(([theme], i) => themes[i]?.setAttribute('aria-pressed', String(settings.theme === theme)));
  }
  settings.addEventListener('change', update);
  update();
  return { element, where, state };
}
