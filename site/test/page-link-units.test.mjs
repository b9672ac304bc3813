// Every unit that a request may have opens in the form as what it says, offered there or not.
// node --test site/test/page-link-units.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { told } from './reader.mjs';
import { cli } from './program.mjs';
import { linkOf } from './agree.mjs';

useBrowser();

const MOST = 8; // fields of a link: a longer one would not be in the address bar

// quantities returns the flat keys of a schema's quantities with their units; those of lists and choices are other tests'.
function quantities({ properties }, above = '') {
  return Object.entries(properties).flatMap(([name, schema]) => {
    const path = above + name;
    if (schema.properties) return quantities(schema, `${path}.`);
    return schema.units ? [[path, schema.units]] : [];
  });
}

for (const { tool } of cli('tools')) {
  if (tool === 'worksheet') continue; // its address is that of the sheet, see page-class.test.mjs
  const fields = quantities(cli('describe', tool).request);
  if (fields.length === 0) continue;
  const most = Math.max(...fields.map(([, units]) => units.length));
  scene(`links with any unit open in the form of ${tool} as they are`, { at: `#/${tool}`, timeout: 240_000 }, async (page, t) => {
    let tried = 0;
    for (let j = 0; j < most; j++) {
      for (let from = 0; from < fields.length; from += MOST) {
        const given = fields.slice(from, from + MOST).filter(([, units]) => units[j]);
        const pairs = given.map(([path, units]) => [path, units[j] === '1' ? '0.45' : `0.45${units[j]}`]);
        if (pairs.length === 0) continue;
        tried += pairs.length;
        const [got, want] = await page.evaluate(
          async ([tool, link, form]) => {
            const core = await globalThis.ohmwright;
            location.hash = link;
            const until = performance.now() + 5000;
            while (history.state?.own === undefined && performance.now() < until) await new Promise((done) => setTimeout(done, 20));
            await new Promise((done) => setTimeout(done, 600)); // the address is written once the typing pauses
            return [location.hash, JSON.parse(core.answer(tool, form, 'en', 'en-GB', 'hasty')).seen];
          },
          [tool, linkOf(tool, pairs), told(Object.fromEntries(pairs))],
        );
        // A share in plain figures becomes per cent in the form; what is out of range keeps its space.
        const plain = (link) => link.split('&').sort().join('&').replace(/=0\.45(?=&|$)/g, '=45%25').replaceAll('=0.45+', '=0.45');
        assert.equal(plain(got), plain(want), JSON.stringify(pairs));
      }
    }
    t.diagnostic(`${tool}: ${tried} values`);
  });
}
