// The fence: what it is called and is, all of it optional; then its base.

import { appliesTogether, choice, field, showValue } from './fields.js';
import { el } from './html.js';
import { lengthField } from './length_field.js';
import { targetList } from './target_list.js';

/** @import { Desk } from './desk.js' */
/** @import { FenceKindName } from './wire.d.ts' */

/** @type {[FenceKindName, string][]} */
const KINDS = [['vertical', 'vertical'], ['oxer', 'oxer'], ['cross_rail', 'cross rail'], ['triple_bar', 'triple bar'], ['ground_pole', 'ground pole'], ['other_kind', 'another kind']];

/** @param {Desk} desk */
export function fenceStep(desk) {
  const name = field('Called', { 'data-key': 'fence-name' });
  const kind = choice('Kind', KINDS, { 'data-key': 'fence-kind' });
  const height = lengthField('Height', { 'data-key': 'fence-height' });
  const spread = lengthField('Spread', { 'data-key': 'fence-spread' });
  const behind = field('Behind it', { 'data-key': 'fence-behind' });
  const around = field('Around it', { 'data-key': 'fence-around' });
  const fences = choice('Fence', [['', '']], { 'data-key': 'fence' });
  fences.element.classList.add('whole');
  fences.select.addEventListener('change', () => desk.choose({ fence: fences.select.value, chosen: null }));
  const another = el('button', { class: 'button', type: 'button', 'data-key': 'new-fence', onclick: () => newFence(desk) }, 'Another fence');
  for (const wide of [name, kind]) wide.element.classList.add('whole');
  const form = el('form', { class: 'fields two' }, name.element, kind.element, height.element, spread.element, behind.element, around.element);
  const wrong = el('p', { class: 'wrong', role: 'alert', hidden: true });
  const list = targetList(desk, 'fence');
  const element = el('div', {}, fences.element, form, wrong, list.element, another);

  let shownFences = '';

  function apply() {
    const was = desk.fence;
    const heightM = height.metres;
    const spreadM = spread.metres;
    const bad = (!height.blank && heightM === null) || (!spread.blank && spreadM === null);
    wrong.hidden = !bad;
    wrong.textContent = bad ? 'Height and spread: a length, such as 1.05 or 3 ft 6 in.' : '';
    if (bad) return;
    const act = { fence: was?.id ?? null, name: name.input.value.trim(), kind: /** @type {FenceKindName} */ (kind.select.value), height_m: heightM, spread_m: spreadM, behind: behind.input.value.trim(), around: around.input.value.trim() };
    const blank = !was && act.name === '' && act.kind === 'vertical' && heightM === null && spreadM === null && act.behind === '' && act.around === '';
    const same = was && was.name === act.name && was.kind === act.kind && was.height_m === heightM && was.spread_m === spreadM && was.behind === act.behind && was.around === act.around;
    if (!blank && !same) desk.act({ act: 'set_fence', ...act });
  }
  appliesTogether(form, apply);

  function update() {
    const is = desk.fence;
    if (is) {
      showValue(name.input, is.name);
      showValue(kind.select, is.kind);
      showValue(behind.input, is.behind);
      showValue(around.input, is.around);
    }
    height.show(is?.height_m ?? null);
    spread.show(is?.spread_m ?? null);
    const names = desk.seen.fences.map((f, i) => [f.id, f.name || `fence ${i + 1}`]);
    if (shownFences !== JSON.stringify(names)) {
      shownFences = JSON.stringify(names);
      fences.select.replaceChildren(...names.map(([id, words]) => el('option', { value: id }, words ?? '')));
    }
    fences.element.hidden = names.length < 2;
    fences.select.value = is?.id ?? '';
    another.hidden = names.length === 0;
    list.update();
  }
  return { element, update };
}

/** The second fence of a line; its approach begins with the first hoof marked to it. @param {Desk} desk */
function newFence(desk) {
  desk.choice = { ...desk.choice, step: 'fence', fence: null, chosen: null };
  desk.act({ act: 'set_fence', fence: null, name: '', kind: 'vertical', height_m: null, spread_m: null, behind: '', around: '' });
}
