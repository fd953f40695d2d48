// The fence: what it is called and is, all of it optional; then its base.

import { appliesTogether, choice, field, showValue } from './fields.js';
import { el } from './html.js';
import { metresFrom } from './lengths.js';
import { targetList } from './target_list.js';

/** @import { Desk } from './desk.js' */
/** @import { FenceKindName } from './wire.d.ts' */

/** @type {[FenceKindName, string][]} */
const KINDS = [['vertical', 'vertical'], ['oxer', 'oxer'], ['cross_rail', 'cross rail'], ['triple_bar', 'triple bar'], ['ground_pole', 'ground pole'], ['other_kind', 'another kind']];

/** @param {Desk} desk */
export function fenceStep(desk) {
  const name = field('Called', { 'data-key': 'fence-name' });
  const kind = choice('Kind', KINDS, { 'data-key': 'fence-kind' });
  const height = field('Height', { inputmode: 'decimal', 'data-key': 'fence-height' }, 'm');
  const spread = field('Spread', { inputmode: 'decimal', 'data-key': 'fence-spread' }, 'm');
  const form = el('form', { class: 'fields two' }, name.element, kind.element, height.element, spread.element);
  const wrong = el('p', { class: 'wrong', role: 'alert', hidden: true });
  const list = targetList(desk, 'fence');
  const element = el('div', {}, form, wrong, list.element);

  const fence = () => desk.seen.fences.find((f) => f.id === desk.seen.approaches.find((a) => a.id === desk.approach)?.fence) ?? desk.seen.fences.at(-1) ?? null;

  function apply() {
    const was = fence();
    const heightM = metresFrom(height.input.value);
    const spreadM = metresFrom(spread.input.value);
    const bad = (height.input.value.trim() !== '' && heightM === null) || (spread.input.value.trim() !== '' && spreadM === null);
    wrong.hidden = !bad;
    wrong.textContent = bad ? 'Height and spread: a length, such as 1.05 or 3 ft 6 in.' : '';
    if (bad) return;
    const act = { fence: was?.id ?? null, name: name.input.value.trim(), kind: /** @type {FenceKindName} */ (kind.select.value), height_m: heightM, spread_m: spreadM };
    const blank = !was && act.name === '' && act.kind === 'vertical' && heightM === null && spreadM === null;
    const same = was && was.name === act.name && was.kind === act.kind && was.height_m === heightM && was.spread_m === spreadM;
    if (!blank && !same) desk.act({ act: 'set_fence', ...act });
  }
  appliesTogether(form, apply);

  function update() {
    const is = fence();
    if (is) {
      showValue(name.input, is.name);
      showValue(kind.select, is.kind);
      showValue(height.input, is.height_m === null ? '' : String(is.height_m));
      showValue(spread.input, is.spread_m === null ? '' : String(is.spread_m));
    }
    list.update();
  }
  return { element, update };
}
