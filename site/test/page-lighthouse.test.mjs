// Lighthouse finds nothing wrong with the page: accessibility, best practices and SEO. How quick it is, "make bench" measures.
// node --test site/test/page-lighthouse.test.mjs
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { serve } from './browser.mjs';
import { faults, judged, PLACES, QUICK, scoreOf, startChromium } from './lighthouse.mjs';

let browser, server;
before(async () => ([browser, server] = await Promise.all([startChromium(), serve()])), { timeout: 180_000 });
after(() => Promise.all([browser?.stop(), server?.stop()]));

for (const [name, at] of Object.entries({ ...PLACES, 'a page about a tool': 'winding.html' })) {
  test(`${name} has 100 of 100`, { timeout: 120_000 }, async () => {
    const report = await judged(browser, server.base + at, QUICK);
    for (const id of QUICK) {
      assert.equal(scoreOf(report, id), 100, `${id}: ${faults(report, id).join('; ')}`);
      const counted = report.categories[id].auditRefs.filter((one) => one.weight > 0 && report.audits[one.id].score !== null);
      assert.ok(counted.length > 3, `${id}: only ${counted.length} audits took part`);
    }
    assert.ok(report.finalDisplayedUrl.startsWith(server.base + at.split('&')[0]), `judged was ${report.finalDisplayedUrl}`);
  });
}
