// What a screen reader is told while somebody types, and what the window is called.
// node --test site/test/page-heard.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { begin, kept } from './jobs.mjs';
import { field, fill, go, press, type, word } from './reader.mjs';
import { plain } from './winding.mjs';

useBrowser();

// listening keeps what live regions say from now on, each change as one text. Whether the page works offline has been said by then.
const listening = async (page) => {
  await page.waitForSelector('#offline:not([data-state="wait"])');
  await page.evaluate(() => {
    globalThis.spoken = [];
    const text = (e) => [...(e.children.length > 0 ? e.children : [e])].map((part) => part.textContent).join(' | ');
    for (const region of document.querySelectorAll('[role="status"], [role="alert"], [aria-live]:not([aria-live="off"])')) {
      new MutationObserver(() => region.textContent && globalThis.spoken.push(text(region))).observe(region, {
        ...{ childList: true, subtree: true, characterData: true },
      });
    }
  });
};

// spoken waits until what was typed has settled, and returns what was said since it was asked last.
const spoken = async (page) => {
  await page.waitForTimeout(1600);
  return page.evaluate(() => globalThis.spoken.splice(0));
};

const head = (page) =>
  page.$$eval('main > section:not([hidden]) .verdict-text > *', (all) => all.map((part) => part.textContent).join(' '));

scene('a reading that is typed is told once, when it has settled, with the verdict', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  await type(page, 'winding', 'reading', '12.2');
  await page.waitForTimeout(1600);
  await listening(page);
  await type(page, 'winding', 'reading', '13.05');
  const said = await spoken(page);
  assert.equal(said.length, 1, `one thing should be said of five keys, and is: ${said.join(' / ')}`);
  const echo = await page.textContent('[id="winding-reading-echo"]');
  assert.equal(said[0], [echo, await head(page)].filter(Boolean).join(' | '), 'the reading as it was understood, and the verdict');
  assert.deepEqual(await spoken(page), [], 'nothing is said twice');
  await type(page, 'winding', 'reading', '13.05');
  assert.deepEqual(await spoken(page), [], 'the same reading typed again says nothing new');
});

scene('an error is told once, with its field where the reader is elsewhere', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  await page.waitForTimeout(1200);
  await listening(page);
  await type(page, 'winding', 'reading', 'abc');
  const note = await page.textContent('[id="winding-reading-note"]');
  assert.ok(note, 'winding, field reading: a fault should stand beside it');
  const said = await spoken(page);
  assert.equal(said.length, 1, `one thing should be said, and is: ${said.join(' / ')}`);
  assert.ok(said[0].includes(note) && said[0].includes(await head(page)), said[0]);
  const label = await page.textContent('label[for="winding-reading"]');
  assert.ok(!said[0].includes(`${label} |`), 'who is in the field knows its name');
  await type(page, 'winding', 'at', '20');
  assert.deepEqual(await spoken(page), [], 'the fault is not told again');
});

scene('what is pressed is told once', { at: '#/winding' }, async (page) => {
  await listening(page);
  await press(page, 'demo');
  const said = await spoken(page);
  assert.deepEqual(said, [await word(page, 'example'), await head(page)], 'what was done, and the verdict');
  await press(page, 'undo');
  assert.deepEqual(await spoken(page), [await word(page, 'undone')], 'an empty form has nothing to say');
});

scene('a job that is saved at each key says so to the eye alone', {}, async (page) => {
  await begin(page);
  await page.waitForTimeout(300);
  await listening(page);
  await page.locator('#job-complaint').pressSequentially('Harsh shift');
  await kept(page);
  assert.deepEqual(await spoken(page), []);
});

scene('that nothing can be kept is told', { fresh: true, at: '#/winding' }, async (page) => {
  await listening(page);
  await page.evaluate(() => {
    Storage.prototype.setItem = () => {
      throw new DOMException('full', 'QuotaExceededError');
    };
  });
  await type(page, 'winding', 'reading', '13');
  const said = await spoken(page);
  assert.equal(said.filter((text) => text.includes('Not saved')).length, 1, said.join(' / '));
});

scene('the window is called by verdict, tool, job and program', { fresh: true }, async (page) => {
  const titled = (title) => page.waitForFunction((title) => document.title === title, title);
  const program = await page.getAttribute('#home-name', 'data-name');
  const tool = async () => page.textContent('main > section:not([hidden]) h1');
  const first = await page.title();
  assert.ok(first.includes(program), first);
  await go(page, '#/winding');
  await page.waitForSelector(field('winding', 'reading'));
  await titled(`${await tool()} – ${program}`);
  await fill(page, 'winding', plain);
  await type(page, 'winding', 'reading', '13');
  const verdict = () => page.textContent('#winding .verdict .word');
  const within = await verdict();
  await titled(`${within} – ${await tool()} – ${program}`);
  await type(page, 'winding', 'reading', '19');
  assert.notEqual(await verdict(), within);
  await titled(`${await verdict()} – ${await tool()} – ${program}`);
  await go(page, '#/');
  await titled(first);
  await begin(page, 'Tarn 24');
  await titled(`${await tool()} – Tarn 24 – ${program}`);
  await go(page, '#/torque');
  await page.waitForSelector(field('torque', 'torque'));
  await titled(`${await tool()} – Tarn 24 – ${program}`);
  await go(page, '#/');
  await titled(`Tarn 24 – ${program}`);
});
