import { launch, openPage } from './browser.js';
import { Hand } from './hand.js';
const url = process.env.DESK_URL; const b = await launch();
const page = await openPage(b);
await page.goto(url); await page.locator('.card').first().waitFor();
const t0 = Date.now();
page.on('request', (r) => /frames/.test(r.url()) && console.log(Date.now() - t0, '>', r.url().slice(-30)));
page.on('requestfinished', (r) => /frames/.test(r.url()) && console.log(Date.now() - t0, '<', r.url().slice(-30)));
page.on('requestfailed', (r) => /frames/.test(r.url()) && console.log(Date.now() - t0, 'x', r.url().slice(-30), r.failure()?.errorText));
await page.goto(`${new URL('/', url)}#clip/third-week.mp4`); 
await page.locator('.stage[data-frame]').waitFor({ timeout: 60000 });
const hand = new Hand(page);
for (const f of [60, 196, 190, 300]) { console.log(Date.now() - t0, 'go', f); await hand.frame(f).catch((e) => console.log('TIMEOUT', f)); }
await b.close();
