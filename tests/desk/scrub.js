// The number shown is that of the picture shown, whatever is stepped, held, dragged or played; and
// pictures are there in time. Needs a clip whose frames can be told apart: every picture that is
// shown is compared with the frame of its number, fetched by itself.

import assert from 'node:assert/strict';
import { desk, launch, openPage, run } from './lib/browser.js';

const browser = await launch();
const at = await desk();

/** The horse is in the picture from here on, so that no frame looks like another. */
const FROM = 100;

async function open() {
  const page = await openPage(browser);
  // Notes what is drawn: the picture's own bytes are hashed small, and the number that is shown then.
  await page.addInitScript(() => {
    window.shownNumbers = [];
    const note = () => {
      const n = document.querySelector('.frame-number')?.textContent;
      if (n && window.shownNumbers.at(-1) !== n) window.shownNumbers.push(n);
      requestAnimationFrame(note);
    };
    requestAnimationFrame(note);
  });
  await page.goto(at.url);
  await page.locator(`a[href="#clip/${encodeURIComponent(at.clip)}"]`).click();
  await page.locator('.stage[data-frame="0"]').waitFor();
  await page.locator('.slider').evaluate((s, to) => { s.value = to; s.dispatchEvent(new Event('input', { bubbles: true })); }, String(FROM));
  await page.locator(`.stage[data-frame="${FROM}"]`).waitFor();
  await page.locator('.stage').focus();
  return page;
}

/** How far the picture on the screen is from a frame of the clip; small for the same one. */
const distance = (page, n) => page.evaluate(async ([clip, frame]) => {
  const blob = await (await fetch(`/api/clips/${clip}/frames/${frame}`)).blob();
  const own = await createImageBitmap(blob);
  const [w, h] = [240, 135];
  const pixels = (draw) => {
    const c = new OffscreenCanvas(w, h).getContext('2d');
    draw(c);
    return c.getImageData(0, 0, w, h).data;
  };
  const canvas = document.querySelector('.stage .frame');
  const scale = Math.min(canvas.width / own.width, canvas.height / own.height);
  const [cw, ch] = [own.width * scale, own.height * scale];
  const seen = pixels((c) => c.drawImage(canvas, (canvas.width - cw) / 2, (canvas.height - ch) / 2, cw, ch, 0, 0, w, h));
  const true_ = pixels((c) => c.drawImage(own, 0, 0, w, h));
  let sum = 0;
  for (let i = 0; i < seen.length; i += 4) sum += Math.abs(seen[i] - true_[i]) + Math.abs(seen[i + 1] - true_[i + 1]);
  return sum / (w * h);
}, [encodeURIComponent(at.clip), n]);

const settled = (page) => page.waitForTimeout(250);
const number = async (page) => Number((await page.locator('.frame-number').innerText()).replace('frame ', ''));

async function agrees(page) {
  await settled(page);
  const n = await number(page);
  const own = await distance(page, n);
  const other = Math.min(await distance(page, Math.max(n - 4, 0)), await distance(page, n + 4));
  assert.ok(own < other, `frame ${n}: ${own} to itself, ${other} to its neighbours`);
  return n;
}

await run({
  async 'stepping, held and let go'() {
    const page = await open();
    for (let i = 0; i < 5; i += 1) await page.keyboard.press('.');
    await page.locator(`.stage[data-frame="${FROM + 5}"]`).waitFor();
    assert.equal(await agrees(page), FROM + 5);
    await page.keyboard.press(',');
    await page.locator(`.stage[data-frame="${FROM + 4}"]`).waitFor();
    assert.equal(await agrees(page), FROM + 4);
    await page.evaluate(() => { window.shownNumbers.length = 0; });
    await page.keyboard.down('.');
    await page.waitForTimeout(1500);
    await page.keyboard.up('.');
    const n = await agrees(page);
    assert.ok(n > FROM + 5, `held for 1.5 s: frame ${n}`);
    const shown = (await page.evaluate(() => window.shownNumbers)).map((t) => Number(t.replace('frame ', '')));
    for (let i = 1; i < shown.length; i += 1) assert.ok(shown[i] > shown[i - 1], `went back: ${shown}`);
    await settled(page);
    assert.equal(await number(page), n, 'it stops when the key is let go');
    await page.context().close();
  },

  async 'dragged over the clip, with answers that come late and out of order'() {
    const page = await open();
    let turn = 0;
    await page.route('**/frames/*', async (r) => {
      turn += 1;
      await new Promise((go) => setTimeout(go, turn % 3 === 0 ? 220 : 10));
      await r.continue().catch(() => {});
    });
    const box = await page.locator('.slider').boundingBox();
    await page.mouse.move(box.x + 10, box.y + box.height / 2);
    await page.mouse.down();
    for (let i = 0; i <= 40; i += 1) {
      await page.mouse.move(box.x + 10 + (box.width - 120) * (i / 40), box.y + box.height / 2);
      await page.waitForTimeout(12);
    }
    await page.mouse.up();
    await page.waitForTimeout(900);
    const n = await agrees(page);
    assert.equal(String(n), await page.locator('.slider').inputValue());
    await page.context().close();
  },

  async 'played at an eighth: frame after frame, at the clip’s own times'() {
    const page = await open();
    await page.getByRole('button', { name: 'an eighth of the speed' }).click();
    await page.evaluate(() => { window.shownNumbers.length = 0; });
    const began = Date.now();
    await page.keyboard.press('Escape');
    await page.locator('.play').click();
    await page.waitForTimeout(2000);
    await page.locator('.play').click();
    const seconds = (Date.now() - began) / 1000;
    const n = await agrees(page);
    assert.ok(Math.abs(n - FROM - (seconds * 60) / 8) < 5, `frame ${n} after ${seconds} s`);
    const shown = (await page.evaluate(() => window.shownNumbers)).map((t) => Number(t.replace('frame ', '')));
    for (let i = 1; i < shown.length; i += 1) assert.equal(shown[i], shown[i - 1] + 1, 'none left out');
    await page.context().close();
  },

  async 'a neighbour is there at once'() {
    const page = await open();
    await settled(page);
    const times = [];
    for (let i = 1; i <= 60; i += 1) {
      times.push(await page.evaluate(async (n) => {
        const began = performance.now();
        document.dispatchEvent(new KeyboardEvent('keydown', { key: '.', bubbles: true }));
        document.dispatchEvent(new KeyboardEvent('keyup', { key: '.', bubbles: true }));
        while (document.querySelector('.stage').dataset.frame !== String(n)) await new Promise(requestAnimationFrame);
        return performance.now() - began;
      }, FROM + i));
      await page.waitForTimeout(60);
    }
    times.sort((a, b) => a - b);
    const p95 = times[Math.floor(times.length * 0.95)];
    console.log(`      next frame: median ${times[30].toFixed(0)} ms, 95 % within ${p95.toFixed(0)} ms`);
    // How fast is a matter for `bench.js`: a busy machine fails no test.
    await page.context().close();
  },
});

await browser.close();
await at.end();
