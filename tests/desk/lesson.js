// The next lesson by keys alone: opened, asked for, seen in full, put away, made into a page. Needs
// the real program, which alone can plan.

import assert from 'node:assert/strict';
import { run } from './lib/browser.js';
import { openMarked } from './lib/marked.js';

const { page, end } = await openMarked('the mock plans no lesson');
await page.locator('.strides tbody').first().waitFor();
const key = (name) => page.locator(`[data-key="lesson ${name}"]`);
const value = (name) => page.locator('.lesson-distance', { hasText: name }).locator('.value').first();

await run({
  async 'the measured stride is planned for until another is typed'() {
    await page.getByRole('button', { name: 'Next lesson', exact: true }).focus();
    await page.keyboard.press('Enter');
    await page.locator('.lesson-distance').first().waitFor();
    assert.match(await page.locator('.lesson').innerText(), /measured strides/);
    assert.match(await page.locator('.lesson').innerText(), /person on the ground decides/);
    await page.keyboard.press('Tab');
    await page.keyboard.type('3,6576');
    await page.keyboard.press('Tab');
    await page.keyboard.type('1.0');
    await page.keyboard.press('Enter');
    // 3 × 12 ft (R1, R4 of the reference values).
    await value('2 strides').filter({ hasText: '10.97 m' }).waitFor();
    await key('gait').selectOption('trot');
    await page.locator('.lesson-distance', { hasText: 'placing pole, trot' }).waitFor();
    await key('gait').selectOption('canter');
    await page.locator('.lesson-distance', { hasText: 'placing pole, canter' }).first().waitFor();
  },
  async 'what is no stride is refused in words, and the fields stay'() {
    await key('stride').fill('9');
    await page.keyboard.press('Enter');
    await page.locator('.lesson', { hasText: 'Cannot plan for a stride of 9.00 m' }).waitFor();
    assert.equal(await key('drawing').isDisabled(), true);
    await key('stride').fill('3.6576');
    await page.keyboard.press('Enter');
    await value('2 strides').filter({ hasText: '10.97 m' }).waitFor();
  },
  async 'drawing and tables open and close by keys, and the focus comes back'() {
    await key('drawing').focus();
    await page.keyboard.press('Enter');
    const panel = page.locator('.lesson-panel');
    await panel.locator('.lesson-drawing svg').waitFor();
    assert.equal(await key('drawing').getAttribute('aria-expanded'), 'true');
    assert.match(await panel.innerText(), /not a permit to jump/);
    await panel.locator('summary').focus();
    await page.keyboard.press('Enter');
    assert.match(await panel.innerText(), /grade B/);
    await page.keyboard.press('Escape');
    assert.equal(await panel.isHidden(), true);
    assert.equal(await key('drawing').evaluate((e) => e === document.activeElement), true);
  },
  async 'a page is made'() {
    const download = page.waitForEvent('download');
    await key('page').focus();
    await page.keyboard.press('Enter');
    assert.equal((await download).suggestedFilename(), 'schooling-lesson.pdf');
    await page.locator('.lesson [role=status]', { hasText: 'made `schooling-lesson.pdf`' }).waitFor();
    assert.deepEqual(page.complaints, []);
  },
});
await end();
