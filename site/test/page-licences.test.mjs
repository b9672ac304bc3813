// The licences, from the foot of the page: node --test site/test/page-licences.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { scene, useBrowser } from './browser.mjs';
import { program } from './program.mjs';

useBrowser();

scene('the licences are one tap away, and nothing fetches them before', { fresh: true }, async (page) => {
  const fetched = await page.evaluate(() => performance.getEntriesByType('resource').map((entry) => entry.name));
  assert.ok(fetched.some((name) => name.includes('style.css')) && !fetched.some((name) => name.includes('licences')), fetched.join(' '));
  const { height } = await page.locator('footer a[href="licences.txt"]').boundingBox();
  assert.ok(height >= 56, `the link has a height of ${height}`);
  await page.tap('footer a[href="licences.txt"]');
  await page.waitForURL('**/licences.txt');
  const shown = await page.evaluate(() => document.body.textContent);
  assert.equal(shown, execFileSync(program(), ['licences'], { encoding: 'utf8' }), 'the same as on the command line');
  await page.goBack();
  await page.waitForSelector('footer a[href="licences.txt"]');
});
