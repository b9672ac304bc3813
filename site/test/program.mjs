// The command line program as the sources have it now: what the other ways in are compared with, and what serves the page.
//
// Tests must not run what was built from other sources. So before its first use in a process program() compares times; if a source
// is newer than what was built, it has make build it again. Two files of tests run at once: only one of them builds, under a lock.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, statSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const self = fileURLToPath(import.meta.url);
export const repository = fileURLToPath(new URL('../..', import.meta.url));
const here = (path) => join(repository, path);

const module = ['site/built/ohmwright.packed', 'site/built/wasm_exec.js'];
const executable = 'build/ohmwright';

// What is built from what: directories with all below them, and files. The program embeds the module.
const shared = ['core', 'go.mod', 'go.sum', 'Makefile'];
const parts = [
  { built: module, from: [...shared, 'wasm'] },
  { built: [executable], from: [...shared, 'cmd', 'site', ...module] },
];
const apart = new Set(['site/test', 'site/built']); // not sources

// stale says what is not built, or older than a source of it; '' for nothing. A directory counts as a source as well: its time
// tells of a file that is gone.
export function stale(root = repository) {
  for (const { built, from } of parts) {
    for (const path of built) {
      const made = time(join(root, path));
      if (!made) return `${path} is missing`;
      const newer = from.map((source) => newerThan(made, root, source)).find(Boolean);
      if (newer) return `${path} is older than ${newer}`;
    }
  }
  return '';
}

const time = (path) => statSync(path, { throwIfNoEntry: false })?.mtimeMs;

// newerThan finds a file or directory at or below a path that is newer than a time, tests of Go left out.
function newerThan(made, root, path) {
  if (apart.has(path)) return undefined;
  const entry = statSync(join(root, path));
  if (entry.mtimeMs > made && !path.endsWith('_test.go')) return path;
  if (!entry.isDirectory()) return undefined;
  for (const name of readdirSync(join(root, path))) {
    const newer = newerThan(made, root, `${path}/${name}`);
    if (newer) return newer;
  }
  return undefined;
}

// build has make build everything, unless another process has done it meanwhile. What is found up to date keeps its time in make's
// hands; here it gets the time at which the build began.
function build() {
  if (!stale()) return;
  const began = new Date();
  const made = spawnSync('make', ['build'], { cwd: repository, encoding: 'utf8' });
  if (made.status !== 0) {
    process.stderr.write(`${made.stdout}${made.stderr}`);
    process.exit(1);
  }
  for (const path of [...module, executable]) utimesSync(here(path), began, began);
}

let checked = false;

// program is the path of the program, up to date.
export function program() {
  if (!checked) {
    const why = stale();
    if (why) {
      mkdirSync(here('build'), { recursive: true });
      const done = spawnSync('flock', [here('build/lock'), process.execPath, self, 'build'], { encoding: 'utf8' });
      const still = done.error?.message ?? (done.status === 0 ? stale() : done.stderr);
      if (still) throw new Error(`The tests would run an old program: ${why}, and "make build" did not help. Mend this first:\n${still}`);
    }
    checked = true;
  }
  return here(executable);
}

if (process.argv[1] === self && process.argv[2] === 'build') build();

// cli is what the program prints as JSON: its tools, or what one of them takes.
export const cli = (...args) => JSON.parse(execFileSync(program(), args));

// run asks it.
export function run(tool, request, ...flags) {
  const done = spawnSync(program(), ['run', tool, ...flags], { input: request, maxBuffer: 1 << 28 });
  if (done.error) throw done.error;
  return { status: done.status, response: JSON.parse(done.stdout) };
}

// runLines asks it for several requests in one run, each on a line of its own; the responses are in their order.
export function runLines(tool, requests) {
  const input = requests.map((request) => `${request}\n`).join('');
  const done = spawnSync(program(), ['run', tool, '--ndjson'], { input, maxBuffer: 1 << 28 });
  if (done.error) throw done.error;
  const lines = done.stdout.toString().split('\n').slice(0, -1);
  if (lines.length !== requests.length) throw new Error(`run ${tool} --ndjson: ${lines.length} responses to ${requests.length} requests`);
  return lines.map((line) => JSON.parse(line));
}
