// Before filming: no "now" unless a place was typed, feet everywhere when they are chosen, and sentence
// and whole picture seen at once. Needs the real program, which alone reckons.

import assert from 'node:assert/strict';
import { desk, launch, openPage, run } from './lib/browser.js';

if (!process.env.DESK_URL) {
  console.log('skipped: the mock reckons no place; DESK_URL names a real desk');
  process.exit(0);
}
const browser = await launch();
const at = await desk();

/** The panel opened, with bounds that leave few places to try. */
async function opened(viewport, colorScheme = 'light') {
  const page = await openPage(browser, { viewport, colorScheme });
  await page.goto(at.url);
  await page.locator('.card').first().waitFor();
  // Before it is opened nothing is asked, so that the bounds count from the first time on.
  await page.evaluate(() => {
    for (const [key, value] of [['nearest', '17.5 m'], ['farthest', '18 m']]) document.querySelector(`[data-key="stand ${key}"]`).value = value;
  });
  await page.locator('.stand-title').click();
  await answered(page);
  return page;
}
const answered = (page) => page.locator('.stand-answer[aria-busy="false"] svg').waitFor({ timeout: 120_000 });

/** Parts of an element that are out of sight. */
const outOfSight = (page, selector) => page.locator(selector).evaluate((e) => {
  const box = e.getBoundingClientRect();
  const inside = box.height > 0 && box.top >= 0 && box.left >= 0 && box.bottom <= innerHeight && box.right <= innerWidth;
  return inside ? null : `${e.tagName}: ${Math.round(box.top)} to ${Math.round(box.bottom)} of ${innerHeight}`;
});

await run({
  async 'sentence and whole picture are seen at once'() {
    for (const viewport of [{ width: 1280, height: 720 }, { width: 1024, height: 768 }]) {
      const page = await opened(viewport);
      for (const selector of ['.stand-sentence', '.stand-picture svg']) assert.equal(await outOfSight(page, selector), null);
      assert.deepEqual(page.complaints, []);
      await page.context().close();
    }
  },
  async 'without a place there is no now, and a place has two numbers'() {
    const page = await opened({ width: 1280, height: 720 });
    const answer = page.locator('.stand-answer');
    assert.match(await answer.innerText(), /Stand 18\sm from the track on its right/);
    assert.doesNotMatch(await answer.innerText(), /\bnow\b/i);
    assert.equal(await page.locator('[data-key="stand spacing"]').getAttribute('placeholder'), '3');
    await page.getByText('Where you stand now').click();
    await page.locator('[data-key="stand distance"]').fill('24');
    await page.locator('.stand-asks .wrong', { hasText: 'both' }).waitFor();
    await page.locator('[data-key="stand along"]').fill('3');
    await answer.filter({ hasText: 'Now 24' }).waitFor({ timeout: 120_000 });
    await page.locator('[data-key="stand farthest"]').fill('wide');
    await page.locator('.stand-asks .wrong', { hasText: 'Farthest: a length' }).waitFor();
    await page.context().close();
  },
  async 'with feet chosen all is in feet, and what was typed keeps its meaning'() {
    const page = await opened({ width: 1280, height: 720 });
    await page.locator('[data-key="stand last"]').fill('5');
    await page.getByRole('button', { name: 'ft, feet' }).click();
    await page.locator('.stand-answer[aria-busy="false"]', { hasText: '13 ft from the track at least' }).waitFor({ timeout: 120_000 });
    const told = await page.locator('.stand-answer').evaluate((e) => `${e.innerText} ${e.querySelector('svg').textContent}`);
    assert.doesNotMatch(told, /\d\s?(m|cm)\b/);
    assert.match(told, /16 ft 5 in to the fence/);
    assert.equal(await page.locator('[data-key="stand last"]').inputValue(), '5 m');
    await page.evaluate(() => localStorage.clear());
    await page.context().close();
  },
});
await browser.close();
await at.end();
