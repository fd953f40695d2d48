// A field for a length in the chosen unit: a bare number is of that unit, and any other may be typed.

import { field, showValue } from './fields.js';
import { alongFrom, lengthText, metresFrom, unitOf, withUnit } from './lengths.js';
import { settings } from './settings.js';

/**
 * @param {string} label @param {Record<string, unknown>} [attributes]
 * @param {boolean} [mayBeNothing] 0 is a length, too: poles on the ground
 */
export function lengthField(label, attributes = {}, mayBeNothing = false) {
  let feet = settings.feet;
  const { element, input } = field(label, { inputmode: 'decimal', ...attributes }, unitOf(feet));
  const unit = /** @type {HTMLElement} */ (element.querySelector('.unit'));
  /** What it was last shown to hold, metres: what is not typed over keeps every digit. @type {number | null} */
  let known = null;
  let knownText = '';

  /** @param {number | null} metres */
  function show(metres) {
    // What was typed and not taken yet keeps its meaning.
    if (feet !== settings.feet && input.value !== knownText) input.value = withUnit(input.value, feet);
    feet = settings.feet;
    unit.textContent = unitOf(feet);
    known = metres;
    knownText = metres === null ? '' : lengthText(metres, feet);
    showValue(input, knownText);
  }
  show(null);

  return {
    element,
    input,
    show,
    /** Back to what it held before it was typed over. */
    reset() { input.value = knownText; },
    get blank() { return input.value.trim() === ''; },
    /** Metres; nothing where it holds no length. @returns {number | null} */
    get metres() {
      if (input.value === knownText && known !== null) return known;
      const metres = mayBeNothing ? alongFrom(input.value, feet) : metresFrom(input.value, unitOf(feet));
      return metres !== null && metres >= 0 ? metres : null;
    },
  };
}
