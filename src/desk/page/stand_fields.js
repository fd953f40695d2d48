// Fields of "where to stand": lengths in the units of the page, empty where what is usual will do.

import { field } from './fields.js';
import { alongFrom, countFrom, lengthFrom, numberFrom, unitOf, withUnit } from './lengths.js';
import { settings } from './settings.js';

/** @typedef {'count' | 'length' | 'along' | 'number'} FieldKind */
/** @typedef {ReturnType<typeof standField>} StandField */

/** @param {string} name @param {string} key @param {FieldKind} kind @param {string} [unit] */
export function standField(name, key, kind, unit = '') {
  const isLength = kind === 'length' || kind === 'along';
  const made = field(name, { inputmode: kind === 'count' ? 'numeric' : isLength ? 'text' : 'decimal', 'data-key': `stand ${key}` }, isLength ? unitOf(settings.feet) : unit);
  const behind = /** @type {HTMLElement | null} */ (made.element.querySelector('.unit'));
  let feet = settings.feet;
  const { input } = made;
  // A unit that was typed needs no second one.
  const showUnit = () => {
    if (behind) behind.hidden = /[a-z'"′″°]/i.test(input.value);
  };
  input.addEventListener('input', showUnit);
  return {
    ...made, name, kind,
    isUnread() {
      if (input.value.trim() === '') return false;
      const read = { count: countFrom, number: numberFrom, length: (/** @type {string} */ t) => lengthFrom(t, feet), along: (/** @type {string} */ t) => alongFrom(t, feet) }[kind];
      return read(input.value) === null;
    },
    unitsChanged() {
      if (!isLength || feet === settings.feet) return;
      input.value = withUnit(input.value, feet);
      input.placeholder = '';
      feet = settings.feet;
      if (behind) behind.textContent = unitOf(feet);
      showUnit();
    },
  };
}
