// A recording of a switch-on, and the ways by which it gets into the page.
import assert from 'node:assert/strict';
import { answered, expected, field, stored } from './reader.mjs';

// ramp is a recording of a switch-on: 1.95 A through 7.07 Ω, time constant 1.5 ms, no plunger; so many samples, every line of so
// many bytes at least.
export function ramp(samples, digits = 5) {
  const lines = ['time (s),current (A)'];
  for (let k = 0; k < samples; k++) {
    const t = (k * 25e-3) / samples;
    const i = t < 2e-3 ? 0 : 1.95 * (1 - Math.exp(-(t - 2e-3) / 1.5e-3));
    const chance = (Math.sin(k + 1) * 43758.5453) % 1; // the same each time
    lines.push(`${t.toFixed(9)},${(i + 0.002 * chance).toFixed(digits)}`);
  }
  return `${lines.join('\n')}\n`;
}

export const short = ramp(250);
export const long = ramp(20_000);
export const SUPPLY = '#/trace?v=1&supply=13.8V';
export const asked = (recording, more = {}) => ({ recording, supply: '13.8 V', ...more });
export const csv = (text, name = 'run 3.csv') => ({ name, mimeType: 'text/csv', buffer: Buffer.from(text) });
export const pick = (page, file) => page.setInputFiles(field('trace', 'recording'), file);
export const read = (page, name) =>
  page.waitForFunction(
    (name) => document.querySelector('#trace .file-name').textContent === name && !document.querySelector('#trace .file').hidden,
    name,
  );
export const unnamed = (page) => page.getAttribute('#trace .file-name', 'data-unnamed');
export const kept = (page) => stored(page, 'trace.file.recording');
export const undo = (page) => page.click('#trace .undo');
export const gone = (page) => page.waitForFunction(() => document.querySelector('#trace .file').hidden);

// answers checks that the page shows what the core says to a recording.
export async function answers(page, recording, more) {
  const want = (await expected(page, 'trace', asked(recording, more))).head;
  await page.waitForFunction((want) => document.querySelector('#trace .head').textContent === want, want);
  assert.equal(await answered(page), true);
}

// drop drags a file over an element and lets it go there, and says what was marked and whether the browser was kept from opening it.
export const drop = (page, selector, file) =>
  page.evaluate(
    ([selector, { name, text }]) => {
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File([text], name, { type: 'text/csv' }));
      const at = document.querySelector(selector);
      const send = (type) => !at.dispatchEvent(new DragEvent(type, { dataTransfer, bubbles: true, cancelable: true }));
      send('dragenter');
      const over = send('dragover');
      const marked = document.querySelector('#trace').classList.contains('dropping');
      return { taken: send('drop') && over, marked, after: document.querySelector('#trace').classList.contains('dropping') };
    },
    [selector, file],
  );
