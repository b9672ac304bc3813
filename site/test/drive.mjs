// A drive of the scenes, and a hand on its sliders.
import { field, frame, slider } from './reader.mjs';

export const DRIVE = [
  '#/drive?v=1&supply=13.8V&resistance=5.3ohm&winding_temperature=88degC&inductance=12mH',
  'frequency=300Hz&duty=45%25&wiring=0.2ohm&driver=0.15ohm&driver_limit=3A',
].join('&');
export const given = {
  supply: '13.8 V',
  resistance: '5.3 ohm',
  winding_temperature: '88 degC',
  inductance: '12 mH',
  frequency: '300 Hz',
  duty: '45 %',
  wiring: '0.2 ohm',
  driver: '0.15 ohm',
  driver_limit: '3 A',
};
export const text = (page, path) => page.inputValue(field('drive', path));
export const undo = (page) => page.click('#drive .undo');

// bring scrolls a slider to a height on the screen.
export const bring = async (page, path, height) => {
  await page.evaluate(
    ([id, height]) => {
      const r = document.getElementById(id).getBoundingClientRect();
      scrollBy(0, r.y + r.height / 2 - height);
    },
    [`drive-${path}-slide`, height],
  );
  await frame(page);
  return slider(page, 'drive', path);
};

// seen is what of the answer is in view: the head, and the drawing, neither covered nor covering the slider.
export const seen = (page, path) =>
  page.evaluate((id) => {
    const box = (e) => e.getBoundingClientRect();
    const onTop = (e) => {
      const r = box(e);
      const places = [0.1, 0.5, 0.9].map((s) => document.elementFromPoint(r.x + r.width / 2, r.y + r.height * s));
      return places.every((hit) => hit && e.contains(hit)) && r.top >= 0 && r.bottom <= innerHeight;
    };
    return {
      head: onTop(document.querySelector('#drive .head')),
      drawing: onTop(document.querySelector('#drive .live .drawing')),
      slider: onTop(document.getElementById(id)),
      curve: document.querySelector('#drive .live .current').getAttribute('d'),
    };
  }, `drive-${path}-slide`);
