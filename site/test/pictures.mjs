// Takes the pictures of the page: those that a browser shows when it offers to install it, narrow and wide in each language
// (site/pictures), and that of the README (site/picture.png). All show the one invented example. After a change of what is to be seen:
//   make pictures
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { flags, ready, serve } from './browser.mjs';
import { repository } from './program.mjs';
import { quiet } from './reader.mjs';

const MOST = 40_000; // bytes of a picture for installing
const narrow = { viewport: { width: 360, height: 740 }, isMobile: true, hasTouch: true };
const wide = { viewport: { width: 1024, height: 576 } };
const SHOWN = { narrow: [narrow, 'winding'], wide: [wide, 'circuit'] };
const TAGS = ['en', 'de', 'es', 'fr'];

const server = await serve();
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: flags });

// open opens the page as somebody sees it who has it offline, at a tool's example, or at the first screen.
async function open(options, locale, tool = '') {
  const context = await browser.newContext({ colorScheme: 'light', ...options, locale });
  const page = await context.newPage();
  await page.goto(server.base);
  await ready(page);
  await page.waitForFunction(() => document.getElementById('offline').dataset.state === 'yes', undefined, { timeout: 60_000 });
  await page.evaluate((tool) => (location.hash = tool && `#/${tool}`), tool);
  if (!tool) return page;
  await page.waitForSelector(`#${tool}:not([hidden])`);
  await page.evaluate((tool) => (location.hash = document.getElementById(tool).dataset.demo), tool);
  await page.waitForFunction((tool) => document.getElementById(tool).dataset.answered === 'yes', tool);
  await quiet(page);
  await page.waitForFunction((tool) => !document.querySelector(`#${tool} [data-late]`), tool);
  return page;
}

// small is what is in the window as WebP, at the best quality with which it is small enough.
async function small(page) {
  const session = await page.context().newCDPSession(page);
  for (let quality = 85; quality >= 15; quality -= 5) {
    const { data } = await session.send('Page.captureScreenshot', { format: 'webp', quality });
    const bytes = Buffer.from(data, 'base64');
    if (bytes.length <= MOST) return bytes;
  }
  throw new Error(`no picture of at most ${MOST} bytes`);
}

async function forInstalling() {
  for (const tag of TAGS) {
    for (const [form, [size, tool]] of Object.entries(SHOWN)) {
      const page = await open(size, tag, tool);
      const bytes = await small(page);
      await page.context().close();
      writeFileSync(join(repository, `site/pictures/${form}-${tag}.webp`), bytes);
      console.log(`${form}-${tag}.webp: ${bytes.length} bytes`);
    }
  }
}

// forReadme puts three windows of a phone beside each other: the first screen, the example, and why it answers as it does.
async function forReadme() {
  const start = await open(narrow, 'en');
  const shots = [await start.screenshot()];
  const page = await open(narrow, 'en', 'winding');
  shots.push(await page.screenshot());
  for (let i = 0; i < 2; i++) { // what comes into view may move what is below it
    await page.evaluate(() => {
      const { top } = document.querySelector('#winding-answer svg').getBoundingClientRect();
      scrollBy({ top: top - 572, behavior: 'instant' }); // the warnings are above it
    });
    await page.waitForTimeout(300);
  }
  shots.push(await page.screenshot());
  const all = await browser.newPage({ viewport: { width: 1086, height: 742 } });
  const pictures = shots.map((png) => `<img src="data:image/png;base64,${png.toString('base64')}">`).join('');
  const look = 'body{margin:0;display:flex;gap:2px;background:#777;padding:1px}';
  await all.setContent(`<!doctype html><style>${look}</style>${pictures}`);
  await all.waitForFunction(() => [...document.images].every((image) => image.complete));
  await all.screenshot({ path: join(repository, 'site/picture.png') });
  console.log('site/picture.png');
}

try {
  await forInstalling();
  await forReadme();
} finally {
  await browser.close();
  await server.stop();
}
