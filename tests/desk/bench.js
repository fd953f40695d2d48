// How soon the next, the previous and a far frame stand on the page, measured in the browser.
//   DESK_URL=http://127.0.0.1:PORT/?key=TOKEN node bench.js CLIP [CLIP …]

import { desk, launch, openPage } from './lib/browser.js';

const STEPS = 80;
const browser = await launch();
const at = await desk();

/** Time from the key to the picture of the wanted frame, for each step. */
const steps = (page, key, by, count) => page.evaluate(async ([name, step, n]) => {
  const stage = document.querySelector('.stage');
  const times = [];
  for (let i = 0; i < n; i += 1) {
    const wanted = String(Number(stage.dataset.frame) + step);
    const began = performance.now();
    document.dispatchEvent(new KeyboardEvent('keydown', { key: name, bubbles: true }));
    document.dispatchEvent(new KeyboardEvent('keyup', { key: name, bubbles: true }));
    while (stage.dataset.frame !== wanted && performance.now() - began < 5000) await new Promise(requestAnimationFrame);
    times.push(performance.now() - began);
    // A person looks at each frame.
    await new Promise((done) => { setTimeout(done, 30); });
  }
  return times;
}, [key, by, count]);

const jumps = (page, frames) => page.evaluate(async (wanted) => {
  const stage = document.querySelector('.stage');
  const slider = document.querySelector('.slider');
  const times = [];
  for (const frame of wanted) {
    const began = performance.now();
    slider.value = String(frame);
    slider.dispatchEvent(new Event('input', { bubbles: true }));
    while (stage.dataset.frame !== String(frame) && performance.now() - began < 10000) await new Promise(requestAnimationFrame);
    times.push(performance.now() - began);
  }
  return times;
}, frames);

const said = (times) => {
  const sorted = [...times].sort((a, b) => a - b);
  const part = (share) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))].toFixed(0);
  return `median ${part(0.5)} ms, 95 % within ${part(0.95)} ms, longest ${sorted.at(-1).toFixed(0)} ms`;
};

for (const clip of process.argv.slice(2)) {
  const page = await openPage(browser);
  await page.goto(at.url);
  const link = page.locator(`a[href="#clip/${encodeURIComponent(clip)}"]`);
  await link.waitFor();
  await page.waitForTimeout(1500);
  const began = Date.now();
  await link.click();
  await page.locator('.stage[data-frame="0"]').waitFor();
  const first = Date.now() - began;
  const last = Number(await page.locator('.slider').getAttribute('max'));
  await page.locator('.stage').focus();
  const middle = Math.floor(last / 2);
  await jumps(page, [middle]);
  console.log(`${clip}, ${last + 1} frames`);
  console.log(`  first picture   ${first} ms after the click on its card`);
  console.log(`  next frame      ${said(await steps(page, '.', 1, STEPS))}`);
  console.log(`  previous frame  ${said(await steps(page, ',', -1, STEPS))}`);
  const far = Array.from({ length: 20 }, (_, i) => (i * 7919) % last);
  console.log(`  anywhere        ${said(await jumps(page, far))}`);
  await page.context().close();
}
await browser.close();
await at.end();
