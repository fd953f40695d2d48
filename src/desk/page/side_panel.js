// A panel over the clip's page, closed by its button or Escape. Nothing of the desk is locked while it
// is open.

import { el } from './html.js';

/** @param {string} title @param {string} label */
export function sidePanel(title, label) {
  const close = el('button', { class: 'button', onclick: () => toggle() }, 'Close');
  const inside = el('div', { class: 'lesson-inside' });
  const element = el('aside', { class: 'help lesson-panel', 'aria-label': label, hidden: true, tabindex: -1 },
    el('div', { class: 'help-head' }, el('h2', {}, title), close), inside);
  /** @type {Element | null} */
  let from = null;

  function toggle() {
    element.hidden = !element.hidden;
    if (!element.hidden) {
      // It belongs to the clip's page and goes with it.
      (document.querySelector('.desk') ?? document.body).append(element);
      from = document.activeElement;
      element.focus({ preventScroll: true });
    } else if (from instanceof HTMLElement) {
      from.focus({ preventScroll: true });
    }
    element.dispatchEvent(new Event('toggled'));
  }
  element.addEventListener('keydown', (e) => {
    if (e.key !== 'Escape') return;
    e.preventDefault();
    e.stopPropagation();
    toggle();
  });
  return { element, inside, toggle };
}
