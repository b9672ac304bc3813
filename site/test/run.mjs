// Runs all files of tests here, or those named, and tells at the end which took longest: node site/test/run.mjs [FILE …]
//
// Like "node --test", it gives each file a process of its own. Beyond that, those that take longest come first, and the files share one
// server of the page: a server keeps nothing, but each compresses the module for seconds when it is first asked for it.
import { spawn } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { serve } from './browser.mjs';

const here = fileURLToPath(new URL('.', import.meta.url));
const atOnce = 3; // on two cores: a test waits part of its time
const kinds = ['tests', 'pass', 'fail', 'cancelled', 'skipped', 'todo'];

// Those that take longest, so that none of them is left at the end with a core that has nothing to do.
const long = [
  ...['page-axe', 'page-kept', 'page-job-link', 'page-states'],
  ...['page-job-stories', 'page-jobs', 'page-circuit-world', 'page-circuit', 'page-webkit', 'page-firefox', 'page-single-firefox'],
];
const place = (file) => (long.indexOf(file.replace('.test.mjs', '')) + 1 || long.length + 1);

// runFile runs a file and resolves to what came of it. What it printed is one piece, so that files at once do not mix.
function runFile(file, address) {
  const began = performance.now();
  const env = { ...process.env, OHMWRIGHT_AT: address };
  const child = spawn(process.execPath, ['--test', '--test-reporter=spec', file], { cwd: here, env, stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) stream.setEncoding('utf8').on('data', (text) => (said += text));
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (status) => {
      const summary = /^ℹ (\w+) (\d+(?:\.\d+)?)\n/gm;
      const counts = Object.fromEntries([...said.matchAll(summary)].map(([, kind, n]) => [kind, Number(n)]));
      const passed = status === 0 && counts.tests > 0;
      resolve({ file, passed, counts, said: said.replace(summary, ''), seconds: (performance.now() - began) / 1000 });
    });
  });
}

// runAll runs the files, some at once, and tells of each when it is done.
async function runAll(files, address) {
  const left = [...files];
  const done = [];
  const work = async () => {
    for (let file = left.shift(); file; file = left.shift()) {
      const result = await runFile(file, address);
      done.push(result);
      console.log(`${result.passed ? 'passed' : 'FAILED'}: ${file}, ${result.seconds.toFixed(1)} s\n${result.said}`);
    }
  };
  await Promise.all(Array.from({ length: atOnce }, work));
  return done;
}

function summary(done, seconds) {
  const sum = (kind) => done.reduce((n, { counts }) => n + (counts[kind] ?? 0), 0);
  const slowest = done.toSorted((a, b) => b.seconds - a.seconds).slice(0, 10);
  return [
    `${done.length} files, ${kinds.map((kind) => `${kind} ${sum(kind)}`).join(', ')}; ${seconds.toFixed(0)} s, ${atOnce} files at once`,
    'The slowest:',
    ...slowest.map(({ file, seconds, counts }) => `${seconds.toFixed(1).padStart(7)} s  ${file}, tests ${counts.tests ?? 'unknown'}`),
    ...done.filter(({ passed }) => !passed).map(({ file }) => `FAILED: ${file}`),
  ].join('\n');
}

const named = process.argv.slice(2);
const files = named.length > 0 ? named : readdirSync(here).filter((name) => name.endsWith('.test.mjs'));
const began = performance.now();
const server = await serve();
try {
  const done = await runAll(files.sort((a, b) => place(a) - place(b)), server.base);
  console.log(summary(done, (performance.now() - began) / 1000));
  if (done.length !== files.length || done.some(({ passed }) => !passed)) process.exitCode = 1;
} finally {
  await server.stop();
}
