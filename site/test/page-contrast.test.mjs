// The contrast of what is read, in each look: of verdicts here, of every text in every state in page-axe.test.mjs.
// node --test site/test/page-contrast.test.mjs
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { scene, useBrowser, visit } from './browser.mjs';
import { measured } from './contrast.mjs';
import { fill, type, verdict } from './reader.mjs';
import { look, looks } from './states.mjs';
import { plain } from './winding.mjs';

useBrowser();

test('the contrast reckoned is right where it is known', async () => {
  const page = await visit({});
  await page.evaluate(() => {
    document.body.replaceChildren();
    for (const [ink, ground] of [
      ['#000000', '#ffffff'],
      ['#767676', '#ffffff'],
      ['#595959', '#ffffff'],
      ['rgba(0, 0, 0, 0.5)', '#ffffff'],
    ]) {
      const p = document.createElement('p');
      p.textContent = 'text';
      p.style.color = ink;
      p.style.background = ground;
      document.body.append(p);
    }
  });
  const got = (await measured(page)).map((m) => m.ratio);
  await page.context().close();
  // 21 by definition; #767676 and #595959 on white are the well-known first greys above 4.5 and 7; half black is #808080, 3.95
  // (rounded to 8 bits).
  assert.ok(
    Math.abs(got[0] - 21) < 1e-9 && Math.abs(got[1] - 4.54) < 0.01 && Math.abs(got[2] - 7.0) < 0.01 && Math.abs(got[3] - 3.98) < 0.06,
    JSON.stringify(got),
  );
});

scene('the verdicts of each kind have a contrast of 7:1, and differ without colour', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  const shapes = new Map();
  const low = [];
  for (const reading of ['13', '9', '19', '12.2', 'OL', '', 'abc']) {
    await type(page, 'winding', 'reading', reading);
    const kind = await verdict(page);
    shapes.set(
      kind,
      await page.evaluate(() => {
        const head = document.querySelector('#winding .head');
        return { word: head.querySelector('strong').textContent, drawing: head.querySelector('svg').innerHTML };
      }),
    );
    for (const l of looks) {
      await look(page, l);
      for (const m of await measured(page)) if (m.ratio < 7) low.push(`${l}, ${kind}: ${m.what}: ${m.ratio.toFixed(2)}`);
    }
  }
  assert.deepEqual([...new Set(low)], []);
  assert.ok(shapes.size >= 6, `winding: six kinds of verdict should have been seen, not ${[...shapes.keys()]}`);
  assert.equal(new Set([...shapes.values()].map((s) => s.drawing)).size, shapes.size);
  assert.equal(new Set([...shapes.values()].map((s) => s.word)).size, shapes.size);
});

scene('“as device” follows the device', { colorScheme: 'dark' }, async (page) => {
  const ground = () => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
  const dark = await ground();
  await page.emulateMedia({ colorScheme: 'light' });
  assert.notEqual(await ground(), dark);
  await look(page, 'dark');
  assert.equal(await ground(), dark);
});
