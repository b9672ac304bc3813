// What Lighthouse says of the page, as on a phone: the first screen, and a tool's link with figures, on a host that compresses and on one
// that does not. Performance is its simulation of a slow line and a slow phone from what was measured here: it varies, so the median of
// some rounds is told. Exit status 1 if accessibility, best practices or SEO is below 100.
//   node lighthouse.mjs [rounds]
import { execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import lighthouse from 'lighthouse';
import { flags } from './browser.mjs';
import { program } from './program.mjs';
import { serve } from './serve.mjs';

const LINK = [
  '#/winding?v=1&reading=6.90ohm&leads=0.30ohm&at=88degC',
  'meter.resolution=0.01ohm&specs.0.min=5.0ohm&specs.0.max=5.6ohm',
].join('&');
export const PLACES = { 'first screen': '', 'a tool’s link': LINK };
export const QUICK = ['accessibility', 'best-practices', 'seo'];
const GOAL = 95; // for performance of the tool’s link

// startChromium starts the whole Chromium for Lighthouse, which wants a port. Only this device is asked without the proxy, which is none.
export async function startChromium() {
  const directory = mkdtempSync(join(tmpdir(), 'ohmwright-lighthouse-'));
  const args = [...flags, `--user-data-dir=${directory}`, '--remote-debugging-port=0', '--proxy-server=http://127.0.0.1:9', 'about:blank'];
  const child = spawn('/usr/bin/chromium', args, { stdio: ['ignore', 'ignore', 'pipe'] });
  const gone = new Promise((resolve) => child.once('exit', resolve));
  const stop = async () => {
    child.kill();
    await gone;
    // Its children may still write: what cannot be taken away then is left to the system.
    await rm(directory, { recursive: true, force: true, maxRetries: 20, retryDelay: 50 }).catch(() => {});
  };
  const port = await new Promise((resolve, reject) => {
    let said = '';
    child.stderr.setEncoding('utf8').on('data', (text) => {
      said += text;
      const at = /DevTools listening on ws:\/\/127\.0\.0\.1:(\d+)/.exec(said);
      if (at) resolve(Number(at[1]));
    });
    child.once('error', reject).once('exit', (status) => reject(new Error(`chromium ended with status ${status}: ${said}`)));
  });
  return { port, stop };
}

// judged resolves to Lighthouse's report on an address, of some of its categories.
export async function judged({ port }, url, onlyCategories) {
  const { lhr } = await lighthouse(url, { port, onlyCategories, logLevel: 'error', disableFullPageScreenshot: true });
  if (lhr.runtimeError) throw new Error(`Lighthouse on ${url}: ${lhr.runtimeError.message}`);
  return lhr;
}

// scoreOf is that of a category, of 100.
export const scoreOf = ({ categories }, id) => Math.round(categories[id].score * 100);

// faults are the audits that take something from a category's score, each with the first that it complains of.
export const faults = ({ categories, audits }, category) =>
  categories[category].auditRefs
    .filter(({ id, weight }) => weight > 0 && audits[id].score !== null && audits[id].score < 1)
    .map(({ id }) => {
      const { score, displayValue = '', details } = audits[id];
      const [first] = details?.items ?? [];
      const what = first?.node?.snippet ?? first?.description ?? '';
      return `${id} ${Math.round(score * 100)} ${displayValue} ${what}`.trimEnd();
    });

// print tells of a place on a host, and resolves to whether it is as it should be. Each round is a first visit, in a browser of its own.
async function print(name, url, kind, rounds) {
  const all = [];
  for (let i = 0; i < rounds; i++) {
    const browser = await startChromium();
    all.push(await judged(browser, url, ['performance', ...QUICK]).finally(browser.stop));
  }
  all.sort((a, b) => a.categories.performance.score - b.categories.performance.score);
  const lhr = all[rounds >> 1];
  const ids = Object.keys(lhr.categories);
  const list = all.map((one) => scoreOf(one, 'performance')).join(' ');
  const said = ids.map((id) => `${id} ${scoreOf(lhr, id)}`).join(', ');
  const goal = name === 'first screen' ? '' : `goal of performance ${GOAL}; `;
  console.log(`Lighthouse ${lhr.lighthouseVersion}, ${name}, ${kind} host: ${said} (${goal}performance of all rounds ${list})`);
  for (const id of ids) for (const line of faults(lhr, id)) console.log(`  ${line}`);
  return QUICK.every((id) => scoreOf(lhr, id) === 100);
}

async function report(rounds) {
  const directory = mkdtempSync(join(tmpdir(), 'ohmwright-site-'));
  execFileSync(program(), ['build', directory]);
  try {
    for (const kind of ['plain', 'compressing']) {
      const host = await serve(directory, { compresses: kind === 'compressing' });
      for (const [name, at] of Object.entries(PLACES)) {
        if (!(await print(name, host.url + at, kind, rounds))) process.exitCode = 1;
      }
      host.close();
    }
  } finally {
    rmSync(directory, { recursive: true, force: true });
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await report(Number(process.argv[2] ?? 5));
