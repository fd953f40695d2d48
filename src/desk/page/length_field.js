// A field for a length in the chosen unit: a bare number is of that unit, and any other may be typed.

import { field, showValue } from './fields.js';
import { lengthText, metresFrom } from './lengths.js';
import { settings } from './settings.js';

/** @param {string} label @param {Record<string, unknown>} [attributes] */
export function lengthField(label, attributes = {}) {
  const { element, input } = field(label, { inputmode: 'decimal', ...attributes }, settings.feet ? 'ft' : 'm');
  const unit = /** @type {HTMLElement} */ (element.querySelector('.unit'));
  /** What it was last shown to hold, metres: what is not typed over keeps every digit. @type {number | null} */
  let known = null;
  let knownText = '';

  /** @param {number | null} metres */
  function show(metres) {
    known = metres;
    knownText = metres === null ? '' : lengthText(metres, settings.feet);
    unit.textContent = settings.feet ? 'ft' : 'm';
    showValue(input, knownText);
  }

  return {
    element,
    input,
    show,
    /** Back to what it held before it was typed over. */
    reset() { input.value = knownText; },
    get blank() { return input.value.trim() === ''; },
    /** Metres; nothing where it holds no length. @returns {number | null} */
    get metres() {
      return input.value === knownText && known !== null ? known : metresFrom(input.value, unit.textContent === 'ft' ? 'ft' : 'm');
    },
  };
}
