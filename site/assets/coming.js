// Says in the header that the computing part is still coming, where that takes long: what is typed meanwhile is answered then.
import { number } from './numbers.js';

const SLOW = 1000; // ms

const words = JSON.parse(document.getElementById('words').textContent);
const at = document.getElementById('coming');
let text = words.coming;
let shown = false;

const kB = (bytes) => number(Math.round(bytes / 1000), { useGrouping: true });
const show = () => {
  if (shown) at.textContent = text;
};
addEventListener('ohmwright-coming', ({ detail: [got, all] }) => {
  text = words['coming.of'].replace('{0}', kB(got)).replace('{1}', kB(all));
  show();
});
const timer = setTimeout(() => {
  shown = true;
  show();
  document.getElementById('heard').textContent = words.coming; // once, without the kB
}, SLOW);
const done = () => {
  clearTimeout(timer);
  shown = false;
  at.textContent = '';
};
globalThis.ohmwright.then(done, done);
