// Typed fields: applied together on Enter or when the last of them is left, and never by a button.

import { el } from './html.js';

/**
 * A labelled field.
 * @param {string} label @param {Record<string, unknown>} attributes @param {string} [unit]
 */
export function field(label, attributes, unit = '') {
  const input = el('input', { type: 'text', autocomplete: 'off', ...attributes });
  const element = el('label', { class: 'field' }, el('span', { class: 'field-name' }, label), el('span', { class: 'field-box' }, input, unit && el('span', { class: 'unit', 'aria-hidden': 'true' }, unit)));
  return { element, input };
}

/**
 * @template {string} V
 * @param {string} label @param {[V, string][]} options @param {Record<string, unknown>} [attributes]
 */
export function choice(label, options, attributes = {}) {
  const select = el('select', attributes, options.map(([value, words]) => el('option', { value }, words)));
  const element = el('label', { class: 'field' }, el('span', { class: 'field-name' }, label), el('span', { class: 'field-box' }, select));
  return { element, select };
}

/** @param {string} label @param {(on: boolean) => void} onChange @param {string} key */
export function tick(label, onChange, key) {
  const input = el('input', { type: 'checkbox', 'data-key': key });
  input.addEventListener('change', () => onChange(input.checked));
  return { element: el('label', { class: 'tick' }, input, el('span', {}, label)), input };
}

/**
 * A group of fields that is applied when it is left, or on Enter.
 * @param {HTMLElement} form @param {() => void} apply
 */
export function appliesTogether(form, apply) {
  form.addEventListener('submit', (e) => {
    e.preventDefault();
    apply();
  });
  form.addEventListener('keydown', (e) => {
    if (e.key === 'Enter' && e.target instanceof HTMLInputElement) {
      e.preventDefault();
      apply();
    }
  });
  form.addEventListener('focusout', (e) => {
    const to = /** @type {FocusEvent} */ (e).relatedTarget;
    if (!(to instanceof Node && form.contains(to))) apply();
  });
}

/** Shows a value that came from the program, but never over what is being typed. @param {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} input @param {string} value */
export function showValue(input, value) {
  if (document.activeElement !== input && input.dataset.shown !== value) {
    input.value = value;
    input.dataset.shown = value;
  }
}
