// A hand on jobs, and what the device keeps of them.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { field, go, unfold } from './reader.mjs';

// begin opens a new job from the first screen and names its vehicle.
export async function begin(page, vehicle = 'Tarn 24') {
  await go(page, '#/');
  await page.tap('#start [data-job="new"]');
  await page.fill('#job-vehicle', vehicle);
  await kept(page);
}

// kept waits until all that was entered is on the device.
export const kept = (page) => page.waitForFunction(() => document.getElementById('saved').dataset.state === 'saved');

// put fills fields by one event each, as a paste does.
export async function put(page, tool, texts) {
  for (const [path, text] of Object.entries(texts)) {
    await unfold(page, field(tool, path));
    await page.fill(field(tool, path), text);
  }
  await kept(page);
}

export const valueOf = (page, tool, path) => page.inputValue(field(tool, path));

// inside returns the records of the database, each with its document.
export const inside = (page) =>
  page.evaluate(async () => {
    const database = await new Promise((resolve, reject) => {
      const request = indexedDB.open(location.protocol === 'file:' ? 'ohmwright/one-file/' : 'ohmwright');
      request.onsuccess = () => resolve(request.result);
      request.onerror = reject;
    });
    const all = await new Promise((resolve) => {
      const request = database.transaction('jobs').objectStore('jobs').getAll();
      request.onsuccess = () => resolve(request.result);
    });
    database.close();
    return all.map((record) => ({ ...record, job: JSON.parse(record.text) }));
  });

// theJob returns the only job's document.
export async function theJob(page) {
  const all = await inside(page);
  assert.equal(all.length, 1, 'how many jobs are kept');
  return all[0].job;
}

// offer gives the page a file to open as a job.
export const offer = (page, text, name = 'job.json') =>
  page.setInputFiles('#job-file', { name, mimeType: 'application/json', buffer: Buffer.from(text) });

// entered returns what a tool's inputs hold, by path.
export const entered = (page, tool) =>
  page.evaluate((tool) => {
    const inputs = [...document.querySelectorAll(`#${tool} form .entry > :is(input, textarea)`)].filter((input) => input.value);
    return Object.fromEntries(inputs.map((input) => [input.id, input.value]));
  }, tool);

// exported saves the open job as a file: {name, text}.
export async function exported(page) {
  await go(page, '#/jobs');
  await page.waitForSelector('#jobs:not([hidden]) #job-head:not([hidden])');
  const [download] = await Promise.all([page.waitForEvent('download'), page.tap('#job-head [data-job="export"]')]);
  return { name: download.suggestedFilename(), text: readFileSync(await download.path(), 'utf8') };
}
