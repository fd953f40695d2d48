// Reads a length as a coach types it: "3", "3.0 m", "3,5", "350 cm", "10 ft", 12', 9' 10".

const METRES = /** @type {Record<string, number>} */ ({ m: 1, cm: 0.01, ft: 0.3048, "'": 0.3048, '′': 0.3048, in: 0.0254, '"': 0.0254, '″': 0.0254 });

const METRES_PER_FOOT = 0.3048;

/**
 * @param {string} text @param {'m' | 'ft'} [bare] the unit of a number without one
 * @returns {number | null} metres; nothing where it is not a length above zero
 */
export function metresFrom(text, bare = 'm') {
  const clean = text.trim().toLowerCase().replaceAll(',', '.');
  const parts = [...clean.matchAll(/(\d+(?:\.\d+)?)\s*(cm|m|ft|in|'|′|"|″)?\s*/g)];
  if (parts.length === 0 || parts.map((p) => p[0]).join('') !== clean) return null;
  if (parts.length > 1 && parts.some((p) => p[2] === undefined)) return null;
  const metres = parts.reduce((sum, p) => sum + Number(p[1]) * (METRES[p[2] ?? bare] ?? NaN), 0);
  return metres > 0 ? Math.round(metres * 1e6) / 1e6 : null;
}

/** As a field holds it, to the centimetre or the hundredth of a foot. @param {number} metres @param {boolean} feet */
export const lengthText = (metres, feet) => String(Math.round((100 * metres) / (feet ? METRES_PER_FOOT : 1)) / 100);

/** How many; nothing where it is not a whole number above zero. @param {string} text */
export function countFrom(text) {
  return /^\s*\d{1,3}\s*$/.test(text) && Number(text) > 0 ? Number(text) : null;
}

/** A number above zero, such as a field of view; nothing where it is none. @param {string} text */
export function numberFrom(text) {
  const clean = text.trim().replace(',', '.').replace(/\s*(°|hz|fps)$/i, '');
  return /^\d+(\.\d+)?$/.test(clean) && Number(clean) > 0 ? Number(clean) : null;
}

/** @param {boolean} feet @returns {'m' | 'ft'} */
export const unitOf = (feet) => (feet ? 'ft' : 'm');

/** @param {string} text @param {boolean} feet @returns {number | null} metres */
export const lengthFrom = (text, feet) => metresFrom(text, unitOf(feet));

/**
 * A length that may lie on either side: "9", "-2 m", "0". Pure.
 * @param {string} text @param {boolean} [feet] @returns {number | null} metres
 */
export function alongFrom(text, feet = false) {
  const clean = text.trim().replace('−', '-');
  if (/^-?0+([.,]0*)?\s*(m|ft)?$/.test(clean)) return 0;
  const metres = lengthFrom(clean.replace(/^-/, ''), feet);
  return metres !== null && clean.startsWith('-') ? -metres : metres;
}

/**
 * What was typed keeps its meaning when the page changes its units: a number alone gets the unit it
 * was typed in. Pure.
 * @param {string} text @param {boolean} wereFeet
 */
export const withUnit = (text, wereFeet) => (/^\s*[-−]?\d+([.,]\d*)?\s*$/.test(text) ? `${text.trim()} ${unitOf(wereFeet)}` : text);
