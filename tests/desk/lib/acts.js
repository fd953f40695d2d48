// Marks the demo's clip through the contract itself, quickly, for tests that begin with a marked round.

import { BASE, LANDING, POLES, STRIDES, TAKE_OFF } from './schooling.js';

/** @param {import('playwright-core').Page} page on the desk, so that it has the cookie */
export async function post(page, clip, acts) {
  return page.evaluate(async ({ clip: name, acts: list }) => {
    const path = `/api/rounds/${encodeURIComponent(name)}`;
    const ask = async (p, body) => (await fetch(p, { method: 'POST', headers: { 'content-type': 'application/json' }, body: body && JSON.stringify(body) })).json();
    let round = await ask(path);
    for (const act of list) {
      const done = await ask(`${path}/acts`, { revision: round.revision, key: crypto.randomUUID(), act });
      if (!done.round) throw new Error(JSON.stringify(done));
      round = done.round;
    }
    return round;
  }, { clip, acts });
}

/** Takes everything back that was done to a clip, so that a test begins with nothing. */
export async function empty(page, clip) {
  for (let round = await post(page, clip, []); round.undo !== null; round = await post(page, clip, [{ act: 'undo' }]));
}

export const poles = [{ act: 'set_poles', count: 4, spacing_m: 3, length_m: 3.5, taped: true }];
export const ends = POLES.map(([pole, end, x, y]) => ({ act: 'place_pole_end', pole, end, at: { frame: 0, x, y }, snap: false }));
export const base = BASE.map(([end, x, y]) => ({ act: 'place_base', fence: null, end, at: { frame: 0, x, y } }));
const footfall = (limb, event) => ([frame, x, y]) => ({ act: 'place_footfall', approach: null, limb, event, at: { frame, x, y }, hidden: false });
export const strides = STRIDES.map(footfall('leading_hind', 'stride'));
export const jump = [
  footfall('trailing_hind', 'take_off')(TAKE_OFF[0]), footfall('leading_hind', 'take_off')(TAKE_OFF[1]),
  footfall('trailing_fore', 'landing')(LANDING[0]), footfall('leading_fore', 'landing')(LANDING[1]),
];
export const about = [{ act: 'set_round', about: { rider: 'Demo rider', horse: 'Copper', place: 'evening school', date: '2026-09-04', surface: 'sand', slope_percent: null, note: '' } }];
export const everything = [...poles, ...ends, ...base, ...strides, ...jump, ...about];
