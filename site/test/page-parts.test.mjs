// What comes packed is used part by part: the form is there before the module's words, and wrong words are never used.
// node --test site/test/page-parts.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { ready, useBrowser, visit } from './browser.mjs';
import { explained } from './explain.mjs';
import { startHost } from './host.mjs';
import { field, verdict } from './reader.mjs';
import { make } from './versions.mjs';

useBrowser({ desktop: true });

const LINK = '#/winding?reading=13ohm&at=24degC&specs.0.min=12ohm';

test('the form is seen before the words of the module have come', { timeout: 120_000 }, async (t) => {
  const directory = mkdtempSync(join(tmpdir(), 'ohmwright-parts-'));
  t.after(() => rmSync(directory, { recursive: true, force: true }));
  const host = await startHost(make(join(directory, 'site')));
  t.after(() => host.stop());
  const page = await visit({ base: host.base, at: LINK, expects: /./ });
  try {
    host.spoil('late', 'forms.packed');
    await page.goto(`${host.base}?late${LINK}`, { waitUntil: 'commit' });
    await page.waitForSelector('#winding', { state: 'visible' });
    assert.equal(await page.inputValue(field('winding', 'reading')), '13');
    assert.equal(await page.getAttribute('html', 'data-ready'), null, 'without words there is no answer');
    host.mend(); // the connection breaks off
    await ready(page);
    assert.equal(await verdict(page), 'within', 'the words are asked for again');
    assert.equal(await page.isVisible('#broken'), false);
    host.spoil('wordless', 'forms.packed');
    await page.goto(`${host.base}?wordless${LINK}`, { waitUntil: 'commit' });
    await page.waitForSelector('#broken', { state: 'visible' });
    await page.waitForFunction(() => document.getElementById('said')?.dataset.said === 'failed');
    assert.equal(await page.isVisible('#winding'), true, 'somebody can type there: it does not load anew');
    host.mend();
    await page.reload();
    await ready(page);
    assert.equal(await verdict(page), 'within');
  } catch (e) {
    throw await explained(e, page);
  } finally {
    await page.context().close();
  }
});
