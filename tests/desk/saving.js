// Nothing acknowledged is lost and nothing wanted is dropped silently: the program killed and
// started again while marking, a reload while it is away, two tabs on one round.
//   node saving.js
//   DESK_COMMAND='groundline desk FOLDER --port 4567 --no-open' node saving.js   with the real program

import assert from 'node:assert/strict';
import { launch, openPage, Mock, Program, run } from './lib/browser.js';
import * as acts from './lib/acts.js';
import { Hand } from './lib/hand.js';
import { POLES } from './lib/schooling.js';

const CLIP = process.env.DESK_CLIP ?? 'schooling.mp4';
const browser = await launch();
const program = process.env.DESK_COMMAND ? new Program(process.env.DESK_COMMAND) : new Mock();
await program.start();

const round = (page) => page.evaluate(async (clip) => (await fetch(`/api/rounds/${encodeURIComponent(clip)}`)).json(), CLIP);
const ends = (r) => r.marks.filter((m) => m.spot.of === 'pole_end').map((m) => `${m.spot.pole} ${m.spot.end}`).sort();
const state = (page, value) => page.locator(`.saved-state[data-state="${value}"]`).waitFor({ timeout: 20000 });

/** A clip with nothing marked on it but stated poles. */
async function begin(context) {
  const page = context ? await context.newPage() : await openPage(browser);
  const hand = new Hand(page);
  await hand.open(program.url, CLIP);
  return { page, hand };
}

await run({
  async 'killed while marking and started again: all acts arrive, in order, once each'() {
    const { page, hand } = await begin();
    await acts.empty(page, CLIP);
    await page.reload();
    await hand.type('How many', '4');
    await hand.type('Apart', '3.0');
    await hand.type('Length', '3.5', 'Enter');
    await hand.saved();
    const [a, b, c, d] = POLES;
    await hand.click(a[2], a[3]);
    await hand.saved();
    const acknowledged = ends(await round(page));
    await program.kill();
    await hand.click(b[2], b[3]);
    await hand.click(c[2], c[3]);
    await state(page, 'away');
    await page.locator('.notice.away', { hasText: '2 changes wait' }).waitFor();
    // A reload finds nobody: what waits is kept with the tab.
    await program.start();
    if (process.env.DESK_COMMAND) {
      // A program started anew has a new key: opening its address lets this tab in again.
      const other = await page.context().newPage();
      await other.goto(program.url);
      await other.close();
    }
    await state(page, 'saved');
    await hand.click(d[2], d[3]);
    await state(page, 'saved');
    const after = ends(await round(page));
    for (const end of acknowledged) assert.ok(after.includes(end), `${end} was acknowledged and is lost`);
    assert.deepEqual(after, ['1 left', '1 right', '2 left', '2 right']);
    assert.equal((await round(page)).marks.length, 4, 'each once');
    await page.context().close();
  },

  async 'a reload while the program is away keeps what waits'() {
    const { page, hand } = await begin();
    await page.locator('.chip').first().waitFor();
    const before = (await round(page)).marks.length;
    // The acts are lost on their way; the rest of the program is there.
    await page.route('**/acts', (r) => r.abort());
    const [, , x, y] = POLES[4];
    await hand.click(x, y);
    await state(page, 'away');
    page.on('dialog', (dialog) => dialog.accept());
    await page.unroute('**/acts');
    await page.reload();
    await state(page, 'saved');
    await page.waitForFunction(async ([clip, n]) => (await (await fetch(`/api/rounds/${clip}`)).json()).marks.length === n, [CLIP, before + 1]);
    await page.context().close();
  },

  async 'an act whose answer is lost is done once'() {
    const { page, hand } = await begin();
    await page.locator('.chip').first().waitFor();
    const before = (await round(page)).marks.length;
    // The first is done and its answer lost; the next find nobody until the test lets them through:
    // a single loss is over in half a second, which a busy machine may not see.
    let done = false;
    let back = false;
    await page.route('**/acts', async (r) => {
      if (back) return r.continue();
      if (!done) {
        done = true;
        await r.fetch();
      }
      return r.abort();
    });
    const [, , x, y] = POLES[5];
    await hand.click(x, y);
    await state(page, 'away');
    back = true;
    await state(page, 'saved');
    const after = await round(page);
    assert.equal(after.marks.length, before + 1);
    await page.keyboard.press('Control+z');
    await hand.saved();
    assert.equal((await round(page)).marks.length, before, 'one step of undo');
    await page.context().close();
  },

  async 'two tabs: the second sees both changes, and makes its own again on top'() {
    const first = await begin();
    const second = await begin(first.page.context());
    const [, , x, y] = POLES[5];
    const [, , u, v] = POLES[6];
    const before = (await round(first.page)).marks.length;
    await first.page.bringToFront();
    await first.hand.click(x, y);
    await first.hand.saved();
    // The second tab has not looked since: no focus event comes in a browser without a screen.
    await second.page.evaluate(() => document.querySelector('.stage')?.getBoundingClientRect());
    await second.page.locator('.chip', { hasText: 'pole 4, left end' }).click();
    await second.hand.click(u, v);
    const conflict = second.page.locator('.notice.conflict');
    await Promise.race([conflict.waitFor(), state(second.page, 'saved').then(() => new Promise(() => {}))]);
    const words = await conflict.innerText();
    assert.match(words, /place pole 4, left end/);
    assert.match(words, /pole 3, right end.*is new/);
    await second.page.screenshot({ path: `${process.env.DESK_OUT ?? 'out'}/conflict.png` });
    await second.page.getByRole('button', { name: 'Make mine again on top' }).click();
    await second.hand.saved();
    assert.equal((await round(second.page)).marks.length, before + 2);
    // And the other way: dropped on the coach's word.
    await first.hand.click(...POLES[7].slice(2));
    await first.page.locator('.notice.conflict').waitFor();
    await first.page.getByRole('button', { name: 'Drop mine' }).click();
    await first.hand.saved();
    assert.equal((await round(first.page)).marks.length, before + 2);
    await first.page.context().close();
  },
});

await browser.close();
await program.kill();
