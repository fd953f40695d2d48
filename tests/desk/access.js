// axe-core finds no violation on any page, light or dark; targets are large enough to touch; nothing
// of the page is cut off at its sides; forced states (conflict, away) included.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { desk, launch, openPage, run } from './lib/browser.js';
import * as acts from './lib/acts.js';
import { Hand } from './lib/hand.js';
import { onlyMarked } from './lib/marked.js';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const browser = await launch();
const at = await desk();

async function violations(page) {
  await page.waitForTimeout(250);
  // Through the debugger, since the page's policy lets no script in.
  await page.evaluate(axe);
  const found = await page.evaluate(() => window.axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }));
  return found.violations.map((v) => `${v.id}: ${v.help}\n   ${v.nodes.slice(0, 4).map((n) => `${n.html.slice(0, 160)}\n     ${n.any.map((a) => a.message).join('; ')}`).join('\n   ')}`);
}

/** Shown elements that reach over the side of the page, or words cut off within their box. */
const cut = (page) => page.evaluate(() => [...document.querySelectorAll('body *')].flatMap((e) => {
  const box = e.getBoundingClientRect();
  if (box.width === 0 || box.height === 0 || e.closest('svg, .unseen, .stage, .lane') || getComputedStyle(e).position === 'absolute') return [];
  const outside = box.right > innerWidth + 1 || box.left < -1;
  const clipped = e.matches('button, a, label, th, td, p, h1, h2, h3, dt, dd, .segment') && e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline' && getComputedStyle(e).textOverflow !== 'ellipsis';
  return outside || clipped ? [`${e.tagName}.${e.className}: ${e.textContent.slice(0, 60)} ${e.scrollWidth}>${e.clientWidth}`] : [];
}));

const small = (page, least) => page.evaluate((px) => [...document.querySelectorAll('button, a, select, input:not([type=checkbox]):not([type=range]):not([type=file]), label.tick, summary')].flatMap((e) => {
  const box = e.getBoundingClientRect();
  return box.width > 0 && (box.height < px || box.width < Math.min(px, 36)) ? [`${e.tagName}.${e.className} ${e.textContent.slice(0, 30)}: ${box.width.toFixed(0)}×${box.height.toFixed(0)}`] : [];
}), least);

const first = await openPage(browser);
await onlyMarked(first, at, acts.everything);

const VIEWS = {
  folder: async () => {},
  ...(process.env.DESK_URL && {
    'before filming': async (page) => {
      await page.locator('.stand-title').click();
      await page.locator('.stand-answer[aria-busy="false"] svg').waitFor({ timeout: 120_000 });
      for (const more of ['Where you stand now', 'More']) await page.getByText(more, { exact: true }).click();
    },
  }),
  clip: async (page) => {
    await page.locator(`a[href="#clip/${encodeURIComponent(at.clip)}"]`).click();
    await page.locator('.strides tbody').first().waitFor();
    await page.keyboard.press('o');
  },
  'a selected mark': async (page) => {
    await page.keyboard.press(']');
    await page.locator('.stage:not([data-frame="0"])').waitFor();
    await page.keyboard.press('n');
    await page.locator('.inspector').waitFor();
  },
  'round and hand out': async (page) => {
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Round', exact: true }).click();
    await page.getByRole('button', { name: 'Hand out' }).click();
    await page.getByRole('button', { name: 'Table (CSV)' }).click();
    await page.locator('.hand-out.done').waitFor({ timeout: 30000 });
  },
  ...(process.env.DESK_URL && {
    'next lesson': async (page) => {
      await page.getByRole('button', { name: 'Next lesson', exact: true }).click();
      await page.locator('.lesson-distance').first().waitFor();
    },
    'next lesson in full': async (page) => {
      await page.getByRole('button', { name: 'Drawing and tables' }).click();
      await page.locator('.lesson-panel summary').click();
    },
    'next lesson put away': async (page) => { await page.locator('.lesson-panel').getByRole('button', { name: 'Close' }).click(); },
  }),
  help: async (page) => { await page.keyboard.press('?'); },
};

for (const [width, height, hasTouch] of [[1280, 720, false], [1024, 768, true], [1920, 1080, false]]) {
  for (const colorScheme of ['light', 'dark']) {
    await run({
      async [`${width}×${height} ${colorScheme}${hasTouch ? ' touch' : ''}: no violation, nothing cut, targets large enough`]() {
        const page = await openPage(browser, { viewport: { width, height }, hasTouch, isMobile: hasTouch, colorScheme, reducedMotion: 'reduce', bypassCSP: false });
        await page.goto(at.url);
        await page.locator('.card').first().waitFor();
        const all = [];
        for (const [name, go] of Object.entries(VIEWS)) {
          await go(page);
          all.push(...(await violations(page)).map((v) => `${name}: ${v}`));
          all.push(...(await cut(page)).map((v) => `${name}: cut: ${v}`));
          if (hasTouch) all.push(...(await small(page, 40)).map((v) => `${name}: small: ${v}`));
        }
        await page.context().close();
        assert.deepEqual(all, []);
      },
    });
  }
}

await browser.close();
await at.end();
