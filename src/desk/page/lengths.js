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
