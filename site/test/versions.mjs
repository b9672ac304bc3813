// Versions of the site for tests of installing and updating: as "ohmwright build" writes it, and another with one rule of style more,
// stamped as build does it.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { appendFileSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { program } from './program.mjs';

// make writes the site into a directory.
export function make(directory, ...options) {
  execFileSync(program(), ['build', directory, ...options]);
  return directory;
}

export const versionIn = (directory) => /const VERSION = "(\w+)"/.exec(readFileSync(join(directory, 'sw.js'), 'utf8'))[1];

// listed returns what a service worker lists: {file: hash}.
export const listed = (worker) => JSON.parse(/const FILES = (\{.*?\});/.exec(worker)[1]);

// keptBy returns what a service worker keeps for an English reader: all but the files that are another language's alone.
export function keptBy(worker) {
  const others = JSON.parse(/const LANGUAGES = (\[.*?\]);/.exec(worker)[1]).slice(1);
  const apart = new Set(others.flatMap(([, ...files]) => files));
  return Object.fromEntries(Object.entries(listed(worker)).filter(([name]) => !apart.has(name)));
}

const hash = (bytes) => `sha256-${createHash('sha256').update(bytes).digest('base64')}`;

// next makes another version of a site in its directory: the style sheet says --next, a file of each kind has a byte more, and with
// them version and hashes change.
export function next(directory) {
  const old = versionIn(directory);
  appendFileSync(join(directory, 'style.css'), '\n:root { --next: "yes" }\n');
  for (const name of ['icon-512.png', 'icon.svg', 'manifest.webmanifest', 'ohmwright.packed']) appendFileSync(join(directory, name), ' ');
  const now = createHash('sha256').update(old).digest('hex').slice(0, 16);
  const packed = readFileSync(join(directory, 'ohmwright.packed'));
  stampAs(directory, now, packed);
  assert.equal(versionIn(directory), now);
}

// stampAs stamps the files of a site with a version, as site/stamp.go does.
export function stampAs(directory, version, packed) {
  const old = versionIn(directory);
  const before = listed(readFileSync(join(directory, 'sw.js'), 'utf8'));
  const replace = (name, pairs) => {
    const file = join(directory, name);
    let text = readFileSync(file, 'utf8');
    for (const [from, to] of pairs) text = text.replaceAll(from, to);
    writeFileSync(file, text);
  };
  for (const name of readdirSync(directory).filter((name) => /\.(js|html)$/.test(name))) replace(name, [[old, version]]);
  replace('core.js', [
    [before['ohmwright.packed'], hash(packed)],
    [/("address":"ohmwright\.packed\?\w+","size":)\d+/g, `$1${packed.length}`],
  ]);
  const changes = () => Object.keys(before).map((name) => [before[name], hash(readFileSync(join(directory, name)))]);
  for (const name of readdirSync(directory).filter((name) => name.endsWith('.html'))) replace(name, changes());
  replace('sw.js', changes());
  for (const [name, sum] of Object.entries(listed(readFileSync(join(directory, 'sw.js'), 'utf8'))))
    assert.equal(sum, hash(readFileSync(join(directory, name))), name);
}

// isNext reports whether a page is of the version that next made.
export const isNext = (page) =>
  page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue('--next').includes('yes'));
