// A clip on the desk: joins picture, steps, numbers, lane and keys.

import * as api from './api.js';
import { Desk } from './desk.js';
import { el } from './html.js';
import { icon } from './icons.js';
import { listenToKeys } from './keys.js';
import { lane } from './lane.js';
import { notices, savedState } from './notices.js';
import { numbersPanel } from './numbers_panel.js';
import { Picture } from './picture.js';
import { settings } from './settings.js';
import { stepsPanel } from './steps_panel.js';
import { targetLine } from './target_line.js';
import { transport } from './transport.js';

/** @typedef {{ where: HTMLElement, state: HTMLElement }} Frame the parts of the top bar that a page fills */

/**
 * @param {HTMLElement} main @param {string} clip @param {Frame} around
 * @returns {Promise<() => void>} puts the page away
 */
export async function showDesk(main, clip, around) {
  const [view, round] = await Promise.all([api.getClip(clip), api.openRound(clip)]);
  const desk = new Desk(view, round);
  const picture = new Picture(desk);
  picture.element.setAttribute('aria-label', 'Picture');
  const parts = [targetLine(desk), transport(desk, picture), stepsPanel(desk), numbersPanel(desk), lane(desk), notices(desk), savedState(desk)];
  const [target, moving, steps, numbers, approach, notice, saved] = /** @type {[typeof parts[0], typeof parts[0], typeof parts[0], typeof parts[0], typeof parts[0], typeof parts[0], typeof parts[0]]} */ (parts);
  const title = el('h1', {});
  around.where.replaceChildren(el('a', { class: 'back', href: '#', 'aria-label': 'To the folder' }, icon('folder')), title);
  around.state.replaceChildren(saved.element);
  const layout = el('div', { class: 'desk' }, steps.element,
    el('div', { class: 'middle' }, notice.element, target.element, picture.element, moving.element),
    numbers.element, approach.element);
  main.replaceChildren(layout);

  let due = 0;
  const update = () => {
    due = 0;
    title.textContent = settings.names ? desk.seen.title : clip;
    document.title = `${title.textContent} – Groundline`;
    picture.drawNow();
    for (const part of parts) part.update();
  };
  // Many changes in a moment are drawn once.
  desk.addEventListener('change', () => { due ||= requestAnimationFrame(update); });
  const stopKeys = listenToKeys({
    desk, picture,
    togglePanels: () => layout.classList.toggle('picture-alone'),
  });
  const leaving = (/** @type {BeforeUnloadEvent} */ e) => { desk.flushNudge(); if (desk.outbox.state !== 'saved') e.preventDefault(); };
  const seenAgain = () => { if (document.visibilityState === 'visible') void desk.lookAgain(); };
  addEventListener('beforeunload', leaving);
  document.addEventListener('visibilitychange', seenAgain);
  addEventListener('focus', seenAgain);
  update();
  void desk.goTo(0);
  void desk.refreshNumbers();

  return () => {
    stopKeys();
    removeEventListener('beforeunload', leaving);
    document.removeEventListener('visibilitychange', seenAgain);
    removeEventListener('focus', seenAgain);
    cancelAnimationFrame(due);
    desk.close();
  };
}
