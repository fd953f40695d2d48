// The reading by keys alone: a sentence shows its strides, the coach's limits change what is said, the
// rider is spoken to. Needs the real program, which alone reads.

import assert from 'node:assert/strict';
import { run } from './lib/browser.js';
import { openMarked } from './lib/marked.js';

const { page, end } = await openMarked('the mock reads nothing');
await page.locator('.readings .sentence').first().waitFor();
const sentences = page.locator('.readings');
const evidence = page.locator('.lane-button.evidence');
const frame = () => page.locator('.stage').getAttribute('data-frame');

await run({
  async 'a sentence shows the strides it rests on, and puts them away'() {
    const first = page.locator('.readings .sentence').first();
    await first.focus();
    await page.keyboard.press('Enter');
    await evidence.first().waitFor();
    const shown = await evidence.count();
    assert.ok(shown >= 3, `${shown} strides`);
    assert.equal(await page.locator('.strides tbody.evidence').count(), shown);
    const from = await page.locator('.strides tbody.evidence').first().getAttribute('data-from');
    await page.locator(`.stage[data-frame="${from}"]`).waitFor();
    assert.equal(await frame(), from);
    await first.focus();
    await page.keyboard.press('Enter');
    await page.waitForFunction(() => document.querySelector('.lane-button.evidence') === null);
  },
  async 'the limits are the coach’s, and are printed where they decide'() {
    assert.match(await sentences.innerText(), /within 0\.30\sm of the mean/);
    await page.locator('.reading-limits summary').focus();
    await page.keyboard.press('Enter');
    const level = page.getByLabel('Level within, either side of the mean');
    await level.fill('1,5');
    await page.keyboard.press('Enter');
    await sentences.filter({ hasText: 'Level within 1.50 m of the mean' }).waitFor();
    await page.getByLabel('Take-off about').fill('3');
    await page.getByLabel('Both give or take').fill('0.5');
    await page.keyboard.press('Enter');
    await sentences.filter({ hasText: 'Deep: take-off' }).waitFor();
    // What is no length leaves the limit as it was.
    await level.fill('wide');
    await page.keyboard.press('Enter');
    await page.locator('.reading-limits .wrong', { hasText: 'no length' }).waitFor();
    assert.equal(await level.inputValue(), '1.5');
    // Too much is told with what is needed.
    await level.fill('2.5');
    await page.keyboard.press('Enter');
    await page.locator('.reading-limits .wrong', { hasText: 'a length up to 2 m' }).waitFor();
    // Feet may be typed, and each field counts when it is left.
    await level.fill('1 ft');
    await page.keyboard.press('Tab');
    await sentences.filter({ hasText: 'evel within 0.30 m of the mean' }).waitFor();
  },
  async 'the rider is spoken to'() {
    await page.getByRole('button', { name: 'the rider' }).focus();
    await page.keyboard.press('Enter');
    await sentences.filter({ hasText: 'You came deep' }).waitFor();
    assert.deepEqual(page.complaints, []);
  },
  async 'where to stand the next time is said on asking'() {
    await page.getByRole('button', { name: 'Next lesson', exact: true }).focus();
    await page.keyboard.press('Enter');
    await page.locator('.lesson-distance').first().waitFor();
    await page.locator('[data-key="lesson stand"]').focus();
    await page.keyboard.press('Enter');
    await page.locator('.stood', { hasText: /±/ }).waitFor({ timeout: 60_000 });
    assert.match(await page.locator('.stood').innerText(), /4 m from the track at least/);
    // Sentence and picture lie over the desk, in sight.
    const panel = page.locator('.lesson-panel:not([hidden])');
    for (const part of ['.stand-sentence', '.stand-picture svg']) {
      const box = await panel.locator(part).boundingBox();
      const { height } = page.viewportSize();
      assert.ok(box && box.y >= 0 && box.y + box.height <= height, `${part}: ${JSON.stringify(box)} of ${height}`);
    }
    await page.keyboard.press('Escape');
    await panel.waitFor({ state: 'hidden' });
  },
});
await end();
