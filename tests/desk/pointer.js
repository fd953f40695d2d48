// Pointer, wheel and fingers: what is clicked is what is marked, at every zoom; marks are dragged,
// rings accepted, limbs chosen; a folder is searched, clips are dropped into it.

import assert from 'node:assert/strict';
import { desk, launch, openPage, run } from './lib/browser.js';
import * as acts from './lib/acts.js';
import { Hand, drawn } from './lib/hand.js';
import { onlyMarked } from './lib/marked.js';
import { POLES } from './lib/schooling.js';

const browser = await launch();
const at = await desk();
const round = (page) => page.evaluate(async (clip) => (await fetch(`/api/rounds/${encodeURIComponent(clip)}`)).json(), at.clip);
const near = (m, x, y, reach = 0.6) => assert.ok(Math.hypot(m.x - x, m.y - y) < reach, `${m.x}, ${m.y} instead of ${x}, ${y}`);

async function open(options) {
  const page = await openPage(browser, options);
  const hand = new Hand(page);
  await hand.open(at.url, at.clip);
  return { page, hand };
}

/** Takes everything back, so that each test begins with nothing. */
async function empty() {
  const page = await openPage(browser);
  await onlyMarked(page, at, acts.poles);
  await page.context().close();
}

await run({
  async 'enlarged by the wheel, moved by dragging: a click still marks what is under it'() {
    await empty();
    const { page, hand } = await open();
    const [, , x, y] = POLES[0];
    // On whole pixels of the display: a wheel knows no finer ones.
    const exact = await hand.at(x, y);
    const p = { x: Math.round(exact.x), y: Math.round(exact.y) };
    const stage = await page.locator('.stage').boundingBox();
    const whole = Math.min(stage.width / 1920, stage.height / 1080);
    const under = { x: x + (p.x - exact.x) / whole, y: y + (p.y - exact.y) / whole };
    await page.mouse.move(p.x, p.y);
    for (let i = 0; i < 6; i += 1) await page.mouse.wheel(0, -240);
    await drawn(page);
    // The point under the pointer stayed there. The program may draw the end to its edges, so Alt: as clicked.
    await page.keyboard.down('Alt');
    await page.mouse.click(p.x, p.y);
    await page.keyboard.up('Alt');
    await hand.saved();
    near((await round(page)).marks[0], under.x, under.y, 0.2);
    // Drag the picture by a hundred pixels: nothing is placed, and the next click is where it should be.
    const free = { x: p.x - 150, y: p.y + 60 };
    await page.mouse.move(free.x, free.y);
    await page.mouse.down();
    await page.mouse.move(free.x + 60, free.y + 40, { steps: 5 });
    await page.mouse.up();
    await drawn(page);
    assert.equal((await round(page)).marks.length, 1, 'a drag places nothing');
    await page.keyboard.press('0');
    await page.context().close();
  },

  async 'a mark is dragged by as much as the pointer goes, and one step takes it back'() {
    await empty();
    const { page, hand } = await open();
    await acts.post(page, at.clip, acts.ends.slice(0, 1));
    await page.reload();
    await page.locator('.stage[data-frame="0"]').waitFor();
    await page.locator('.marks .mark').waitFor();
    const [, , x, y] = POLES[0];
    const p = await hand.at(x, y);
    await page.mouse.move(p.x + 2, p.y + 1);
    await page.mouse.down();
    await page.mouse.move(p.x + 42, p.y + 21, { steps: 6 });
    await page.mouse.up();
    await hand.saved();
    const box = await page.locator('.stage').boundingBox();
    const scale = Math.min(box.width / 1920, box.height / 1080);
    near((await round(page)).marks[0], x + 40 / scale, y + 20 / scale, 1.2);
    await page.keyboard.press('Control+z');
    await hand.saved();
    near((await round(page)).marks[0], x, y);
    await page.context().close();
  },

  async 'a ring that is clicked is the end that is meant'() {
    await empty();
    const { page, hand } = await open();
    await acts.post(page, at.clip, acts.ends.slice(0, 4));
    await page.reload();
    await page.locator('.marks .expected').nth(3).waitFor();
    const [, , x, y] = POLES[7];
    await hand.click(x, y);
    await hand.saved();
    const placed = (await round(page)).marks.find((m) => m.spot.of === 'pole_end' && m.spot.pole === 4);
    assert.equal(placed?.spot.end, 'right');
    await page.context().close();
  },

  async 'all four limbs are proposed in the order of the canter'() {
    await empty();
    const { page, hand } = await open();
    await page.keyboard.press('o');
    await page.keyboard.press('a');
    const labels = [];
    for (const [frame, x] of [[43, 101], [51, 156], [51, 207], [60, 269], [79, 305]]) {
      await hand.frame(frame);
      await drawn(page);
      labels.push(await page.locator('.next strong').innerText());
      await hand.click(x, 631);
      await hand.saved();
    }
    assert.deepEqual(labels, ['trailing hind', 'leading hind', 'trailing fore', 'leading fore', 'trailing hind']);
    await page.keyboard.press('h');
    await hand.frame(87);
    await hand.click(363, 629);
    await hand.saved();
    const last = (await round(page)).marks.find((m) => m.frame === 87);
    assert.equal(last.hidden, true, 'a hoof out of sight');
    await page.context().close();
  },

  async 'fingers: one aims and places as it is lifted, two enlarge and move'() {
    await empty();
    const { page, hand } = await open({ viewport: { width: 1024, height: 768 }, hasTouch: true, isMobile: true });
    const touch = await page.context().newCDPSession(page);
    const send = (type, points) => touch.send('Input.dispatchTouchEvent', { type, touchPoints: points.map((q, id) => ({ x: q.x, y: q.y, id })) });
    const [, , x, y] = POLES[0];
    const p = await hand.at(x, y);
    await send('touchStart', [{ x: p.x - 50, y: p.y + 30 }]);
    for (let i = 1; i <= 5; i += 1) await send('touchMove', [{ x: p.x - 50 + 10 * i, y: p.y + 30 - 6 * i }]);
    await page.locator('.loupe').waitFor();
    assert.equal((await round(page)).marks.length, 0, 'nothing before the finger is lifted');
    await send('touchEnd', []);
    await hand.saved();
    near((await round(page)).marks[0], x, y, 4);
    const width = () => page.locator('.overlay').evaluate((e) => e.style.width);
    const before = parseFloat(await width());
    await send('touchStart', [{ x: p.x - 40, y: p.y }, { x: p.x + 40, y: p.y }]);
    for (let i = 1; i <= 6; i += 1) await send('touchMove', [{ x: p.x - 40 - 15 * i, y: p.y }, { x: p.x + 40 + 15 * i, y: p.y }]);
    await send('touchEnd', []);
    await drawn(page);
    assert.ok(parseFloat(await width()) > 2 * before, 'two fingers enlarge');
    assert.equal((await round(page)).marks.length, 1, 'and place nothing');
    await page.context().close();
  },

  async 'the folder is searched, and clips are dropped into it'() {
    const page = await openPage(browser);
    await page.goto(at.url);
    await page.locator('.card').first().waitFor();
    const all = await page.locator('.card').count();
    await page.locator('.search').fill('schooling');
    assert.ok(await page.locator('.card').count() < all);
    await page.locator('.search').fill('');
    const drop = (name, size) => page.evaluate(([n, bytes]) => {
      const data = new DataTransfer();
      data.items.add(new File([new Uint8Array(bytes)], n, { type: 'video/mp4' }));
      document.querySelector('main').dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
    }, [name, size]);
    await drop('notes.txt', 10);
    await page.locator('.copying .wrong').waitFor();
    console.log(`      says: ${await page.locator('.copying .wrong').innerText()}`);
    await page.getByRole('button', { name: 'Put away' }).click();
    if (at.mock) {
      await drop('new.mp4', 5000);
      await page.locator('.card', { hasText: 'new.mp4' }).waitFor();
      await drop('new.mp4', 5000);
      await page.locator('.copying .wrong', { hasText: 'already' }).waitFor();
    }
    await page.context().close();
  },
});

await browser.close();
await at.end();
