// A hand on links of jobs, and the documents of the test set.
import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { inside, kept } from './jobs.mjs';
import { go } from './reader.mjs';

const documents = new URL('../../testdata/jobs/', import.meta.url);
export const read = (name) => readFileSync(new URL(name, documents), 'utf8');
export const named = (folder) => readdirSync(new URL(folder, documents)).filter((name) => name.endsWith('.json'));
export const lines = read('links.txt').trim().split('\n').map((line) => line.split(' '));

// What somebody could put into every text of a job, hoping that it is run.
export const evil = '<img src=x onerror="globalThis.ran=1"><script>globalThis.ran=1</script>';
const rows = [0, 1].flatMap((row) => ['name', 'min', 'max', 'source'].map((name) => `specs.${row}.${name}`));
const facts = ['vehicle', 'tag', 'odometer', 'complaint', 'who', 'code', 'supply', 'winding_temperature', 'spec.min', 'spec.max'];
export const evilFacts = Object.fromEntries([...facts, ...rows].map((key) => [key, evil]));

const saidKey = (page) => page.evaluate(() => document.getElementById('said').dataset.said ?? '');
export const hush = (page) => page.evaluate(() => (document.getElementById('said').dataset.said = ''));

// saidBy waits for one of the messages whose keys begin with a text, and returns its key.
export const saidBy = async (page, prefix) => {
  await page.waitForFunction((prefix) => document.getElementById('said').dataset.said?.startsWith(prefix), prefix);
  return saidKey(page);
};

// open opens a link while the page is shown, and returns the key of what is said of it.
export async function open(page, link) {
  await hush(page);
  await go(page, link);
  return saidBy(page, 'job.link.');
}

// recorded leaves the form that is shown, and waits until the record of the open job has its reading.
export async function recorded(page) {
  await go(page, '#/jobs');
  await page.waitForSelector('#jobs:not([hidden])');
  await page.waitForTimeout(200);
  await kept(page);
  assert.ok((await inside(page)).some(({ job }) => job.entries.length > 0));
}
