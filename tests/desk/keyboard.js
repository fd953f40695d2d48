// Everything by keys alone: a clip opened from the folder, poles stated, ends and hooves placed with
// the crosshair, a mark nudged and removed, undone and redone, help read, something handed out.

import assert from 'node:assert/strict';
import { desk, launch, openPage, run } from './lib/browser.js';
import { empty } from './lib/acts.js';
import { drawn } from './lib/hand.js';
import { BASE, POLES, STRIDES } from './lib/schooling.js';

const browser = await launch();
const at = await desk();

/** Tabs until the element that the selector names has the focus. */
async function tabTo(page, selector, most = 80) {
  for (let i = 0; i < most; i += 1) {
    if (await page.evaluate((s) => document.activeElement?.matches(s), selector)) return i;
    await page.keyboard.press('Tab');
  }
  throw new Error(`no way by Tab to ${selector}`);
}

const round = (page) => page.evaluate(async (clip) => (await fetch(`/api/rounds/${encodeURIComponent(clip)}`)).json(), at.clip);
const saved = async (page) => {
  await drawn(page);
  await page.locator('.saved-state[data-state="saved"]').waitFor();
};

/** Moves the crosshair to a point of the frame by arrow keys, and reads where it is from the loupe's owner. */
async function crosshairTo(page, x, y) {
  const stage = await page.locator('.stage').boundingBox();
  const scale = Math.min(stage.width / 1920, stage.height / 1080);
  const where = () => page.evaluate(() => {
    const line = document.querySelector('.marks .cursor .line').getAttribute('d');
    const [, a, b] = /M([\d.-]+) ([\d.-]+)h/.exec(line);
    return { x: Number(a) + 28, y: Number(b) };
  });
  const target = { x: (stage.width - 1920 * scale) / 2 + x * scale, y: (stage.height - 1080 * scale) / 2 + y * scale };
  for (let i = 0; i < 400; i += 1) {
    const p = await where();
    const [dx, dy] = [target.x - p.x, target.y - p.y];
    if (Math.abs(dx) <= 0.6 && Math.abs(dy) <= 0.6) return;
    const far = Math.max(Math.abs(dx), Math.abs(dy)) > 12;
    const key = Math.abs(dx) > Math.abs(dy) ? (dx > 0 ? 'ArrowRight' : 'ArrowLeft') : (dy > 0 ? 'ArrowDown' : 'ArrowUp');
    await page.keyboard.press(far ? `Shift+${key}` : key);
    await page.evaluate(() => new Promise((go) => requestAnimationFrame(() => requestAnimationFrame(go))));
  }
  throw new Error('the crosshair does not arrive');
}

async function toFrame(page, n) {
  for (let i = 0; i < 500; i += 1) {
    const is = Number(await page.locator('.stage').getAttribute('data-frame'));
    if (is === n) return;
    const by = n - is;
    await page.keyboard.press(Math.abs(by) >= 10 ? (by > 0 ? 'Shift+>' : 'Shift+<') : by > 0 ? '.' : ',');
    await page.locator(`.stage[data-frame="${is + (Math.abs(by) >= 10 ? 10 : 1) * Math.sign(by)}"]`).waitFor();
  }
}

await run({
  async 'a clip is marked by keys alone'() {
    const page = await openPage(browser);
    await page.goto(at.url);
    await page.locator('.card a').first().waitFor();
    await empty(page, at.clip);
    await tabTo(page, '.search');
    await page.keyboard.type(at.clip.replace('.mp4', ''));
    await tabTo(page, '.card a');
    await page.keyboard.press('Enter');
    await page.locator('.stage[data-frame="0"]').waitFor();
    await tabTo(page, '[data-key="pole-count"]');
    await page.keyboard.type('4');
    await tabTo(page, '[data-key="pole-spacing"]');
    await page.keyboard.type('3');
    await tabTo(page, '[data-key="pole-length"]');
    await page.keyboard.type('3.5');
    await page.keyboard.press('Enter');
    await saved(page);
    await tabTo(page, '.stage');
    await page.keyboard.press('c');
    for (const [, , x, y] of POLES.slice(0, 4)) {
      await crosshairTo(page, x, y);
      await page.keyboard.press('Enter');
      await saved(page);
    }
    assert.equal((await round(page)).marks.length, 4);
    await page.locator('.marks .expected').first().waitFor();
    await page.keyboard.press('e');
    await saved(page);
    assert.equal((await round(page)).marks.length, 5);
    await page.locator('.marks .expected').nth(2).waitFor();
    await page.keyboard.press('Shift+E');
    await page.waitForFunction(async (clip) => (await (await fetch(`/api/rounds/${clip}`)).json()).marks.length === 8, at.clip);
    await saved(page);
    for (const [, x, y] of BASE) {
      await crosshairTo(page, x, y);
      await page.keyboard.press('Enter');
      await saved(page);
    }
    for (const [frame, x, y] of STRIDES.slice(0, 3)) {
      await toFrame(page, frame);
      await crosshairTo(page, x, y);
      await page.keyboard.press('Enter');
      await saved(page);
    }
    await page.locator('.strides tbody').nth(1).waitFor();
    assert.match(await page.locator('.numbers [role="status"]').innerText(), /stride/i, 'numbers are told to who cannot see them');

    // The last one again: selected, nudged by tenths, one step of undo.
    await page.keyboard.press('Escape');
    await page.keyboard.press('n');
    const find = async () => (await round(page)).marks.find((m) => m.frame === STRIDES[2][0]);
    const before = await find();
    for (let i = 0; i < 3; i += 1) await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowUp');
    await page.waitForTimeout(500);
    await saved(page);
    const after = await find();
    assert.ok(Math.abs(after.x - before.x - 0.3) < 1e-6 && Math.abs(after.y - before.y + 0.1) < 1e-6, `${after.x - before.x}, ${after.y - before.y}`);
    await page.keyboard.press('Control+z');
    await page.waitForTimeout(50);
    await saved(page);
    assert.equal((await find()).x, before.x);
    await page.keyboard.press('n');
    await page.keyboard.press('Delete');
    await saved(page);
    assert.equal(await find(), undefined);
    await page.keyboard.press('Control+z');
    await saved(page);
    assert.ok(await find());
    await page.keyboard.press('Control+Shift+Z');
    await saved(page);
    assert.equal(await find(), undefined);
    await page.keyboard.press('Control+z');
    await saved(page);

    // A note on a stride, the lane, help, a hand-out, the theme: all within reach of Tab.
    await tabTo(page, '.strides .pen button', 120);
    await page.keyboard.press('Enter');
    await page.keyboard.type('a little close');
    await page.keyboard.press('Tab');
    await saved(page);
    assert.ok((await round(page)).approaches[0].stride_notes.some((n) => n.text === 'a little close'));
    await tabTo(page, '.lane-button', 120);
    await page.keyboard.press('Enter');
    await page.locator(`.stage[data-frame="${STRIDES[0][0]}"]`).waitFor();
    await page.keyboard.press('?');
    await page.locator('.help').waitFor();
    await page.keyboard.press('Escape');
    assert.equal(await page.locator('.help').isVisible(), false);
    assert.deepEqual(page.complaints, []);
    await page.context().close();
  },

  async 'no key acts while a note is being written'() {
    const page = await openPage(browser);
    await page.goto(`${new URL('/', at.url)}`);
    await page.goto(at.url);
    await page.locator(`a[href="#clip/${encodeURIComponent(at.clip)}"]`).click();
    await page.locator('.stage[data-frame="0"]').waitFor();
    const before = await round(page);
    await page.getByRole('button', { name: 'Round', exact: true }).click();
    await page.locator('[data-key="about note"]').fill('');
    await page.locator('[data-key="about note"]').pressSequentially('tell her: keep 1 canter, rhythm?');
    assert.equal(await page.locator('.stage').getAttribute('data-frame'), '0');
    await page.keyboard.press('Tab');
    await page.waitForTimeout(100);
    await saved(page);
    const after = await round(page);
    assert.equal(after.about.note, 'tell her: keep 1 canter, rhythm?');
    assert.equal(after.marks.length, before.marks.length);
    await page.context().close();
  },
});

await browser.close();
await at.end();
