// The whole site as one file in Debian's Firefox, opened from a directory: no server, no network.
// node --test site/test/page-single-firefox.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { explained } from './explain.mjs';
import { startFirefox } from './firefox.mjs';
import { inside } from './jobs.mjs';
import { fromCodeToHandover, goesThroughFile, ready, stepping, whole } from './mainjob.mjs';
import { program } from './program.mjs';
import { go, says } from './reader.mjs';

const phone = { width: 360, height: 740 };

test('one file: the main job, reload, export and import, kept wherever the file lies', { timeout: 300_000 }, async (t) => {
  const stick = mkdtempSync(join(tmpdir(), 'ohmwright a stick '));
  const [file, moved] = [join(stick, 'ohmwright.html'), join(stick, 'elsewhere', 'tools.html')];
  execFileSync(program(), ['build', '--single', file]);
  mkdirSync(join(stick, 'elsewhere'));
  let page = await startFirefox(phone);
  t.after(async () => {
    await page.stop();
    rmSync(stick, { recursive: true });
  });
  const step = (...args) => stepping(page, t)(...args);
  const [base, there] = [file, moved].map((path) => pathToFileURL(path).href);
  const complains = async (of) => assert.deepEqual(await page.complaints(of), [], 'the page should write no errors or warnings');
  try {
    await fromCodeToHandover(page, { base }, step);
    await says(page, 'offline', 'offline.inside');
    const entered = await whole(page);
    await complains(base);
    renameSync(file, moved);
    await step('moved, in a new Firefox', async () => {
      await page.stop({ keeps: true });
      page = await startFirefox(phone, page.directory);
      await page.goto(there);
      await ready(page);
      assert.deepEqual(await whole(page), entered, 'all that was entered and answered stands there');
    });
    await go(page, '#/jobs');
    await page.tap('#job-head [data-job="close"]');
    await step('export and import', () => goesThroughFile(page));
    assert.equal((await inside(page)).length, 2, 'the job, and the one from the file');
    await complains(there);
  } catch (e) {
    page.faults = await page.complaints('file:').catch(() => []);
    throw await explained(e, page);
  }
});
