// Pictures of the page at three sizes, light and dark, to be looked at. Not a test.
//   node shots.js [part of a name]

import { desk, launch, openPage, OUT } from './lib/browser.js';
import * as acts from './lib/acts.js';
import { Hand } from './lib/hand.js';

const SIZES = [[1280, 720, false], [1920, 1080, false], [1024, 768, true]];
const only = process.argv[2] ?? '';
const browser = await launch();
const at = await desk();

const CLIPS = { hooves: 'schooling.mp4', poles: 'third-week.mp4', empty: 'second-week.mp4' };
const first = await openPage(browser);
await first.goto(at.url);
await acts.post(first, CLIPS.hooves, [...acts.everything, { act: 'set_stride_note', approach: process.env.DESK_URL ? 'fence-1' : 'A-1', stride: -1, text: 'a little close' },
  { act: 'move', spot: { of: 'pole_end', pole: 4, end: 'right' }, at: { frame: 0, x: 1383, y: 629 } }]);
await acts.post(first, CLIPS.poles, [...acts.poles, ...acts.ends.slice(0, 4)]);

for (const [width, height, hasTouch] of SIZES) {
  for (const colorScheme of ['light', 'dark']) {
    const page = await openPage(browser, { viewport: { width, height }, hasTouch, isMobile: hasTouch, colorScheme });
    const shot = async (name) => {
      const path = `${OUT}/${width}-${colorScheme}-${name}.png`;
      if (path.includes(only)) await page.screenshot({ path });
    };
    const hand = new Hand(page);
    await page.goto(at.url);
    await page.locator('.card').first().waitFor();
    await page.waitForTimeout(300);
    await shot('folder');
    await page.goto(`${new URL('/', at.url)}#clip/${CLIPS.hooves}`);
    await page.locator('.stage[data-frame="0"]').waitFor();
    await hand.frame(232);
    await page.waitForTimeout(500);
    await shot('numbers');
    await page.getByRole('button', { name: 'Round', exact: true }).click();
    await page.getByRole('button', { name: 'Hand out' }).click();
    await page.getByRole('button', { name: 'Sheet (PDF)' }).click();
    await page.waitForTimeout(500);
    await shot('hand-out');
    await page.keyboard.press('?');
    await shot('help');
    await page.keyboard.press('?');
    await page.goto(`${new URL('/', at.url)}#clip/${CLIPS.poles}`);
    await page.locator('.target-line strong', { hasText: 'pole 3' }).waitFor();
    await page.waitForTimeout(500);
    const p = await hand.at(1165, 618);
    await page.mouse.move(p.x, p.y);
    await page.waitForTimeout(200);
    await shot('placing');
    await page.goto(`${new URL('/', at.url)}#clip/${CLIPS.empty}`);
    await page.locator('.stage[data-frame="0"]').waitFor();
    await page.waitForTimeout(300);
    await shot('empty');
    if (page.complaints.length) console.log(page.complaints);
    await page.context().close();
  }
}
await browser.close();
await at.end();
