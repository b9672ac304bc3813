// What axe finds in every state of the page.
// node --test site/test/page-axe.test.mjs
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { laptop, phone, scene, useBrowser } from './browser.mjs';
import { look, looks, states } from './states.mjs';

useBrowser();

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

// color-contrast-enhanced asks for more than color-contrast of the same texts, so that one of the two says all.
const everything = {
  runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
  rules: { 'color-contrast': { enabled: false }, 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } },
  resultTypes: ['violations'],
};
// The rules that a colour can break.
const colours = {
  runOnly: { type: 'rule', values: ['color-contrast-enhanced', 'link-in-text-block'] },
  resultTypes: ['violations'],
};

const check = (page, options) =>
  page.evaluate(async (options) => {
    const { violations } = await globalThis.axe.run(document, options);
    const where = (v) => v.nodes.map((n) => n.target.join(' ')).slice(0, 5);
    return violations.map((v) => `${v.id}: ${where(v).join(', ')}`);
  }, options);

// shape is where everything stands and whether it is seen. Two looks of one shape differ in colours alone.
const shape = (page) =>
  page.evaluate(() => {
    const places = [...document.querySelectorAll('body *')].map((e) => {
      const r = e.getBoundingClientRect();
      return [e.checkVisibility({ visibilityProperty: true, opacityProperty: true }), r.x, r.y, r.width, r.height].join(' ');
    });
    return places.join('\n');
  });

// The states are gone through on one page: a page for each would take longer to start than to look at. In a look of a shape that was
// looked at already, only what a colour can break is looked for. On a wide page one look will do: page-contrast holds the colours of
// all looks to more than axe asks for.
for (const [sizeName, size, shownIn] of [
  ['360x740', phone, looks],
  ['1280x800', laptop, ['light']],
]) {
  scene(`axe finds nothing in any state, ${sizeName}, in ${shownIn.join(', ')}`, { size, timeout: 300_000 }, async (page) => {
    await page.evaluate(axe);
    for (const [name, reach] of Object.entries(states)) {
      await reach(page);
      const seen = new Set();
      for (const l of shownIn) {
        await look(page, l);
        const now = await shape(page);
        assert.deepEqual(await check(page, seen.has(now) ? colours : everything), [], `${name}, ${l}: axe should find nothing`);
        seen.add(now);
      }
    }
  });
}
