// The program's messages come lower case and without a full stop, to stand in any line; here they
// become sentences, and a number stays with its ± and its unit.

/** @param {string | null | undefined} words */
export const sentence = (words) => (words ? `${words.charAt(0).toUpperCase()}${words.slice(1)}${/[.!?…]$/.test(words) ? '' : '.'}` : '');

/** @param {{ error: string, hint?: string | null }} refused */
export const refusalWords = (refused) => [sentence(refused.error), sentence(refused.hint)].filter(Boolean).join(' ');

/** @param {string} text */
export const wholePlusMinus = (text) => text.replace(/± (\S+) (cm|in|m|ft)\b/g, '±\u00a0$1\u00a0$2').replace(/(\d) (m|ft|in)\b/g, '$1\u00a0$2');
