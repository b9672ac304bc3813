// Handing out a form's link, also as a code to be read off the screen, and saving a text as a file.

import { addressOf } from './scope.js';

// shareLink hands out a link: by the device's own means on a phone, else to the clipboard; where there is none, to be copied by hand.
// without are the keys of what to say of what the link leaves out; copied is that of the message that it was copied; line stands before it.
export async function shareLink(url, { words, say, said, without, copied, line = '' }) {
  try {
    if (navigator.share && matchMedia('(pointer: coarse)').matches) {
      await navigator.share(line ? { text: line, url } : { url });
      if (without.length > 0) say(without.map((key) => words[key]).join(' '), without[0], false);
    } else {
      await navigator.clipboard.writeText(line ? `${line}\n${url}` : url);
      say([copied, ...without].map((key) => words[key]).join(' '), 'copied', false);
    }
  } catch (e) {
    if (e.name === 'AbortError') return;
    say([...without, 'copy'].map((key) => words[key]).join(' '), 'copy');
    const field = Object.assign(document.createElement('input'), { value: url, readOnly: true, className: 'link' });
    field.setAttribute('aria-label', words.copy);
    said.append(field);
    field.select();
  }
}

// shareForm hands out a form's link. An exercise is to be worked on by others: its link leaves out what was done so far, which are the
// fields that its random text clears.
export async function shareForm(form, hooks) {
  const { url, bare } = linkOf(form);
  const without = form.left.length > 0 ? ['left'] : [];
  await shareLink(url, { ...hooks, without, copied: bare ? 'copied.bare' : 'copied', line: form.line });
}

// codeForm shows the same link as a code for another phone's camera; draw asks the core for it.
export function codeForm(form, { words, tell, draw }) {
  const { url } = linkOf(form);
  const drawn = draw(url);
  if (drawn && !showCode(form.section.querySelector('.code'), url, drawn, words['code.label'])) tell('code.long');
}

function linkOf(form) {
  stampHandedIn(form);
  const bare = form.fields.fresh()?.clears.reduce((link, name) => link.replaceAll(new RegExp(`&${name}[.=][^&]*`, 'g'), ''), form.link);
  return { url: addressOf(bare ?? form.link), bare: bare !== undefined };
}

// stampHandedIn notes in work on what was handed out when it is handed in, by this device's clock.
export function stampHandedIn(form) {
  const handed = `${new Date().toISOString().slice(0, 16)}Z`;
  if (form.of && form.link !== form.of && !form.fields.has('handed', handed)) form.set({ handed });
}

const SVG = 'http://www.w3.org/2000/svg';

// showCode draws a link as a code into its figure, or takes it away if the figure shows that very link. drawn is what the core made of
// it: {size, path}, whose path is empty if the link is too long. It returns false then, and shows nothing.
export function showCode(figure, url, drawn, label) {
  const [picture, caption] = [figure.querySelector('.picture'), figure.querySelector('.address')];
  if (!figure.hidden && caption.textContent === url) {
    figure.hidden = true;
    return true;
  }
  figure.hidden = !drawn.path;
  caption.textContent = url;
  picture.replaceChildren();
  if (figure.hidden) return false;
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('viewBox', `0 0 ${drawn.size} ${drawn.size}`);
  svg.setAttribute('role', 'img');
  svg.setAttribute('aria-label', label);
  const path = document.createElementNS(SVG, 'path');
  path.setAttribute('d', drawn.path);
  svg.append(path);
  picture.append(svg);
  figure.scrollIntoView({ block: 'nearest' });
  return true;
}

// saveFile gives a text to the browser to be saved as a file.
export function saveFile(text, name, type = 'application/json') {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = Object.assign(document.createElement('a'), { href: url, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

// fileName returns a name that every file system takes.
export const fileName = (name) => name.replace(/[^\p{L}\p{N} ._-]+/gu, '-').replace(/^[. -]+|[. -]+$/g, '').slice(0, 60);
