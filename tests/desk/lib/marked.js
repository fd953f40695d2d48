// The clip with everything marked and its page open, for tests of what only the real program says.

import * as acts from './acts.js';
import { desk, launch, openPage } from './browser.js';

/** On the folder's page, with nothing marked on the clip but what the acts mark. */
export async function onlyMarked(page, at, list) {
  await page.goto(at.url);
  await page.locator('.card').first().waitFor();
  await acts.empty(page, at.clip);
  return acts.post(page, at.clip, list);
}

/** Ends the script where there is only the mock, and says what that lacks. */
export async function openMarked(lack) {
  if (!process.env.DESK_URL) {
    console.log(`skipped: ${lack}; DESK_URL names a real desk`);
    process.exit(0);
  }
  const browser = await launch();
  const at = await desk();
  const page = await openPage(browser);
  await onlyMarked(page, at, acts.everything);
  await page.goto(`${new URL('/', at.url)}#clip/${encodeURIComponent(at.clip)}`);
  const end = async () => {
    await acts.empty(page, at.clip);
    await browser.close();
    await at.end();
  };
  return { page, end };
}
