// Marks the demo's clip from nothing with pointer and keys; counts actions; takes everything back.
//   node marking.js            against a mock
//   DESK_URL=http://127.0.0.1:PORT/?key=TOKEN node marking.js   against the real desk (a folder with
//   schooling.mp4 and no marks beside it)

import assert from 'node:assert/strict';
import { desk, launch, openPage, OUT, run } from './lib/browser.js';
import { Hand } from './lib/hand.js';
import { onlyMarked } from './lib/marked.js';
import { BASE, LANDING, POLES, STRIDES, TAKE_OFF } from './lib/schooling.js';

const browser = await launch();
const at = await desk();

await run({
  async 'a clip is marked from nothing in at most 30 actions, and all of it taken back'() {
    const page = await openPage(browser, { viewport: { width: 1920, height: 1080 } });
    const hand = new Hand(page);
    await onlyMarked(page, at, []);
    await hand.open(at.url, at.clip);
    await hand.type('How many', '4');
    await hand.type('Apart', '3.0');
    await hand.type('Length', '3.5', 'Enter');
    await hand.saved();
    for (const [, , x, y] of POLES.slice(0, 4)) await hand.click(x, y);
    await hand.saved();
    await page.screenshot({ path: `${OUT}/marking-poles.png` });
    for (const [, , x, y] of POLES.slice(4)) await hand.click(x, y);
    for (const [, x, y] of BASE) await hand.click(x, y);
    await hand.saved();
    for (const [frame, x, y] of STRIDES) {
      await hand.frame(frame);
      await hand.click(x, y);
    }
    await hand.key('t');
    for (const [frame, x, y] of [...TAKE_OFF, ...LANDING]) {
      await hand.frame(frame);
      await hand.click(x, y);
    }
    await hand.saved();
    await page.locator('.strides tbody').nth(6).waitFor();
    assert.equal(await page.locator('.strides tbody').count(), 7);
    await page.waitForTimeout(1500);
    await page.screenshot({ path: `${OUT}/marking-done.png` });
    console.log(`      ${hand.actions} actions: ${hand.said.join(', ')}`);
    assert.ok(hand.actions <= 30, `${hand.actions} actions`);
    // Kept for whoever holds the numbers beside the truth.
    if (process.env.DESK_KEEP) return;
    for (let i = 0; i < 60 && !(await page.locator('.said', { hasText: 'there is nothing to take back' }).isVisible()); i += 1) {
      await page.keyboard.press('Control+z');
      await hand.saved();
    }
    await page.locator('.numbers', { hasText: /No (length|stride|numbers) yet/ }).waitFor();
    assert.deepEqual(page.complaints, []);
    await page.context().close();
  },
});

await browser.close();
await at.end();
