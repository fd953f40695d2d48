// The approach on the stride axis, as the program draws it; a click goes to the stride's first contact.

import { drawingFrom, el } from './html.js';

/** @import { Desk } from './desk.js' */
/** @import { ApproachNumbers, StrideView } from './wire.d.ts' */

/** @param {Desk} desk */
export function lane(desk) {
  const drawing = el('div', { class: 'lane-drawing', 'aria-hidden': 'true' });
  const buttons = el('div', { class: 'lane-buttons' });
  const empty = el('p', { class: 'quiet' }, 'The approach appears here, stride by stride, once poles and two hooves are marked.');
  const element = el('section', { class: 'lane', 'aria-label': 'Approach' }, drawing, buttons, empty);
  /** @type {ApproachNumbers | null} */
  let shown = null;

  function update() {
    const approach = desk.numbers?.approaches.find((a) => a.approach === desk.approach) ?? desk.numbers?.approaches.at(-1) ?? null;
    if (approach !== shown) {
      shown = approach;
      const svg = drawingFrom(approach?.lane ?? '');
      drawing.replaceChildren(...(svg ? [svg] : []));
      element.classList.toggle('tall', svg !== null && isTall(svg));
      empty.hidden = svg !== null;
      buttons.replaceChildren(...(approach?.strides ?? []).map(strideButton));
      place();
    }
    for (const button of buttons.children) {
      const { from, to } = /** @type {HTMLElement} */ (button).dataset;
      button.classList.toggle('here', desk.frame >= Number(from) && desk.frame < Number(to));
      const { stride } = /** @type {HTMLElement} */ (button).dataset;
      button.classList.toggle('evidence', shown !== null && desk.evidence?.approach === shown.approach && desk.evidence.strides.includes(Number(stride)));
    }
  }

  /** @param {StrideView} stride */
  function strideButton(stride) {
    const words = `Stride ${stride.name}${stride.length ? `, ${stride.length} ${stride.plus_minus}` : ''}: go there`;
    return el('button', { class: 'lane-button', 'aria-label': words, 'data-name': stride.name, 'data-stride': stride.number, 'data-from': stride.from_frame, 'data-to': stride.to_frame, onclick: () => void desk.goTo(stride.from_frame) });
  }

  /** Each button over its column, which is found by the stride's name on the axis. */
  function place() {
    const box = element.getBoundingClientRect();
    const list = /** @type {HTMLElement[]} */ ([...buttons.children]);
    if (box.width === 0 || list.length === 0) return;
    const texts = [...drawing.querySelectorAll('text')];
    const middles = list.map((button, i) => {
      const text = texts.find((t) => t.textContent?.trim() === button.dataset.name);
      const on = text?.getBoundingClientRect();
      return on ? on.left + on.width / 2 - box.left : (box.width * (i + 0.5)) / list.length;
    });
    const width = middles.length > 1 ? Math.abs((middles[1] ?? 0) - (middles[0] ?? 0)) : 80;
    list.forEach((button, i) => {
      button.style.left = `${(middles[i] ?? 0) - width / 2}px`;
      button.style.width = `${width}px`;
    });
  }
  drawing.addEventListener('scroll', place);
  new ResizeObserver(place).observe(element);
  return { element, update };
}

/** A drawing much higher than a lane is shown at its full width and rolled. @param {SVGElement} svg */
function isTall(svg) {
  const [, , width = 1, height = 0] = (svg.getAttribute('viewBox') ?? '').split(/[\s,]+/).map(Number);
  return height / width > 0.32;
}
