// A hand on the form of the winding.
import { type } from './reader.mjs';

export const plain = { reading: '13', at: '24', 'specs.0.min': '12', 'specs.0.max': '14.5' };

export const notesOf = (page) => page.$$eval('main > section:not([hidden]) form > ul li', (all) => all.map((li) => li.textContent));
export const holds = (page, path, text) =>
  page.waitForFunction(([id, text]) => document.getElementById(id)?.value === text, [`winding-${path}`, text]);

export const row = async (page, i, min, max) => {
  await type(page, 'winding', `specs.${i}.min`, min);
  await type(page, 'winding', `specs.${i}.max`, max);
};
export const reads = async (page, reading, at = '24') => {
  await type(page, 'winding', 'reading', reading);
  await type(page, 'winding', 'at', at);
};
