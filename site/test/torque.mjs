// A hand on the torque question: its plate, and one step at a time.
import { field, frame } from './reader.mjs';

export const undo = (page) => page.tap('#torque .undo');
export const text = (page, path) => page.inputValue(field('torque', path));


// bring scrolls the plate to where all of it is seen.
export const bring = async (page) => {
  await page.evaluate(() => {
    const r = document.querySelector('#torque [data-plate]').getBoundingClientRect();
    scrollBy(0, r.bottom - innerHeight + 20);
  });
  await frame(page);
};

// on is where a place on the plate is on the screen: its window is what data-window says, with y upwards.
export const on = (page, x, y) =>
  page.evaluate(
    ([x, y]) => {
      const plate = document.querySelector('#torque [data-plate]');
      const numbers = (name) => plate.dataset[name].split(' ').map(Number);
      const [wx0, wy0, wx1, wy1] = numbers('window');
      const [ix0, iy0, ix1, iy1] = numbers('inner');
      const [top, bottom] = [Math.min(iy0, iy1), Math.max(iy0, iy1)];
      const p = new DOMPoint(
        ix0 + ((x - wx0) / (wx1 - wx0)) * (ix1 - ix0),
        bottom - ((y - wy0) / (wy1 - wy0)) * (bottom - top),
      ).matrixTransform(plate.getScreenCTM());
      return [p.x, p.y];
    },
    [x, y],
  );

export const tap = async (page, x, y) => page.touchscreen.tap(...(await on(page, x, y)));

// places are the rows that the form holds, x and y as texts; cards the rows that are seen.
export const places = (page) =>
  page.$$eval('#torque [data-list="bolts"] .card', (all) =>
    all.map((card) => ['x', 'y'].map((axis) => card.querySelector(`[data-path$=".${axis}"] input`).value).join(' ')),
  );
export const cards = (page) =>
  page.$$eval('#torque [data-list="bolts"] .card', (all) =>
    all.filter((card) => card.checkVisibility()).map((card) => Number(card.dataset.row)),
  );

// drawn are the bolts drawn, by their rows: their numbers.
export const drawn = (page) =>
  page.$$eval('#torque [data-plate] [data-bolt]', (all) =>
    all.sort((a, b) => a.dataset.bolt - b.dataset.bolt).map((bolt) => bolt.querySelector('text:not(.len)')?.textContent ?? ''),
  );
export const bolt = (row) => `#torque [data-plate] [data-bolt="${row}"]`;

// middleOf is where a bolt is drawn on the screen.
export const middleOf = async (page, row) => {
  const r = await page.locator(`${bolt(row)} .head-of`).boundingBox();
  return [r.x + r.width / 2, r.y + r.height / 2];
};

// ---- one step at a time

// long is a question that has a long answer.
export const long = [
  '#/torque?v=1&torque=10N.m&printed_as=89lbf.in&adapter.wrench=12in&adapter.extension=3in&wrench.max=150lbf.in',
  'fastener.thread=M6&fastener.class=8.8&fastener.into=aluminium&fastener.engagement=12mm&pattern.count=12',
].join('&');

export const pattern = '#/torque?v=1&torque=10N.m&pattern.count=4';
export const at = (page) => page.getAttribute('#torque .p-step', 'data-at');
export const number = (page) => page.textContent('#torque .p-step .big strong');
export const alone = (page) =>
  page.evaluate(() =>
    ['#torque form', 'header', 'footer', '#torque .p-order', '#torque .plate-figure'].filter((s) =>
      document.querySelector(s)?.checkVisibility(),
    ),
  );
// Where hurried is in the page, taps go by a clock that stands until it is put on: pass puts it on by some milliseconds. rest lets the time
// pass in which a tap counts for the one before it.
export const pass = (page, time) => page.evaluate((time) => void (globalThis.later += time), time);
export const rest = (page) =>
  page.evaluate(() => ('later' in globalThis ? (globalThis.later += 720) : new Promise((resolve) => setTimeout(resolve, 720))));
export const hurried = `
  globalThis.later = 10_000;
  Object.defineProperty(Event.prototype, 'timeStamp', { get: () => later });`;
export const tapAndRest = async (page, what) => {
  await page.tap(`#torque ${what}`);
  await rest(page);
};
export const begin = (page) => tapAndRest(page, '.p-order .go');
export const wrenchSet = (page) => tapAndRest(page, '.p-step .ready');
export const next = (page) => tapAndRest(page, '.p-step .go');
export const box = (page, s) =>
  page.evaluate((s) => {
    const r = document.querySelector(`#torque .p-step ${s}`)?.getBoundingClientRect();
    return r && { x: r.left, y: r.top, right: r.right, bottom: r.bottom, width: r.width, height: r.height };
  }, s);
