// Versions of the site for tests of installing and updating: as "ohmwright build" writes it, and another with one rule of style more,
// stamped as build does it.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { appendFileSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { program } from './program.mjs';

// make writes the site into a directory.
export function make(directory) {
  execFileSync(program(), ['build', directory]);
  return directory;
}

export const versionIn = (directory) => /const VERSION = "(\w+)"/.exec(readFileSync(join(directory, 'sw.js'), 'utf8'))[1];

// listed returns what a service worker lists: {file: hash}.
export const listed = (worker) => JSON.parse(/const FILES = (\{.*?\});/.exec(worker)[1]);

const hash = (bytes) => `sha256-${createHash('sha256').update(bytes).digest('base64')}`;

// next makes another version of a site in its directory: the style sheet says --next, and with it version and hashes change.
export function next(directory) {
  const old = versionIn(directory);
  const now = createHash('sha256').update(old).digest('hex').slice(0, 16);
  const before = listed(readFileSync(join(directory, 'sw.js'), 'utf8'));
  appendFileSync(join(directory, 'style.css'), '\n:root { --next: "yes" }\n');
  const replace = (name, pairs) => {
    const file = join(directory, name);
    let text = readFileSync(file, 'utf8');
    for (const [from, to] of pairs) text = text.replaceAll(from, to);
    writeFileSync(file, text);
  };
  const texts = readdirSync(directory).filter((name) => /\.(js|html)$/.test(name));
  for (const name of texts) replace(name, [[old, now]]);
  const changes = () => Object.keys(before).map((name) => [before[name], hash(readFileSync(join(directory, name)))]);
  replace('index.html', changes());
  replace('sw.js', changes());
  assert.equal(versionIn(directory), now);
  for (const [name, sum] of Object.entries(listed(readFileSync(join(directory, 'sw.js'), 'utf8'))))
    assert.equal(sum, hash(readFileSync(join(directory, name))), name);
}

// isNext reports whether a page is of the version that next made.
export const isNext = (page) =>
  page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue('--next').includes('yes'));
