// Waits for the core, shows the place that the address names, and does what belongs to no single form.
import { keepAwake } from './awake.js';
import { Form } from './form.js';
import { keepOffline } from './offline.js';
import { setText } from './paint.js';
import { Store, emptyForm, randomText, readForm, readRows, writeForm, writeRows } from './state.js';

const words = JSON.parse(document.getElementById('words').textContent);
const store = new Store(() => localStorage);
const locale = navigator.language || 'en';
const said = document.getElementById('said');
let core = null;
const shelves = { rows: [], vehicles: [] }; // what is kept for later: rows of lists, and what holds for a vehicle

// ---- the core

globalThis.addEventListener('ohmwright-ended', () => {
  core = null;
  tell('lost', true);
});

// ask calls the core and reads its answer. If the module has died, that is said and null returned; nothing typed is lost.
function ask(call) {
  try {
    return JSON.parse(call());
  } catch {
    tell('lost', true);
    return null;
  }
}

// ---- words

let quiet;

// say shows a message until it is tapped, or for some seconds: stays is false.
function say(text, key, stays = true) {
  said.textContent = text;
  said.dataset.said = key;
  said.dataset.passing = stays ? '' : 'yes';
  clearTimeout(quiet);
  if (!stays) quiet = setTimeout(() => say('', ''), 6000);
}
const tell = (key, stays = false) => say(words[key], key, stays);

// hush takes a message away that would soon go by itself, as it is in the way.
const hush = () => said.dataset.passing && say('', '');

said.addEventListener('click', (e) => {
  if (e.target === said) say('', '');
});

// ---- storage

const savedAt = document.getElementById('saved');

// save keeps a text on the device and says whether that worked. It returns what went wrong: "", "full" or "forbidden".
function save(key, text) {
  const fault = held.get(key) ?? store.write(key, text);
  setText(savedAt, words[fault ? `unsaved.${fault}` : 'saved']);
  savedAt.dataset.state = fault || 'saved';
  savedAt.classList.toggle('bad', fault !== '');
  return fault;
}

// held has the keys under which something unreadable lies that could not be set aside, and why: it is never overwritten.
const held = new Map();

// load reads what was kept under a key. What cannot be read is set aside and shown.
function load(key, read) {
  const text = store.read(key);
  const result = read(text);
  if (!result.fault) return result;
  const fault = store.write(`${key}.aside.${Date.now()}`, text);
  if (fault) held.set(key, fault);
  else store.remove(key);
  showAside(result.fault, text);
  return read(null);
}

// showAside says that something was set aside, and shows it on a tap.
function showAside(fault, text) {
  const details = document.createElement('details');
  details.className = 'aside';
  details.dataset.aside = fault;
  const summary = document.createElement('summary');
  summary.textContent = words[fault];
  const pre = document.createElement('pre');
  pre.tabIndex = 0;
  pre.textContent = text;
  details.append(summary, pre);
  document.getElementById('main').prepend(details);
}

// ---- forms

// number writes a number as the reader does, without the invisible marks for the direction of a text.
const writers = new Map();
function number(value, options) {
  const key = JSON.stringify(options);
  if (!writers.has(key)) writers.set(key, new Intl.NumberFormat(locale, { useGrouping: false, numberingSystem: 'latn', ...options }));
  return writers.get(key).format(value).replace(/[\u200e\u200f\u061c]/g, '');
}

// localise writes the numbers that empty fields show as the reader does.
function localise(root) {
  for (const input of root.querySelectorAll('input[type="text"][data-default]')) {
    const n = Number(input.dataset.default);
    input.placeholder = Number.isFinite(n) ? number(n, { maximumSignificantDigits: 15 }) : input.dataset.default;
  }
}

const texts = new Map(); // by key: the text that was kept last, and what went wrong

// saveForm saves a form. The texts of its files may be long: they are saved apart from it, and only when they change. It returns
// the files that could not be saved.
function saveForm(tool, state, files) {
  const given = { ...state.given };
  for (const path of files) delete given[path];
  save(tool, writeForm({ ...state, given }));
  return files.filter((path) => {
    const key = fileKey(tool, path);
    const text = state.given[path];
    if (texts.get(key)?.text === text) return Boolean(texts.get(key)?.fault);
    const fault = text === undefined ? '' : store.write(key, text);
    if (text === undefined || fault) store.remove(key); // what was there before is not what is here now
    texts.set(key, { text, fault });
    return fault;
  });
}

const fileKey = (tool, path) => `${tool}.file.${path}`;

// loadFiles puts the texts of its files into a state that was loaded.
function loadFiles(tool, state, files) {
  for (const path of files) {
    const text = store.read(fileKey(tool, path));
    if (text === null) continue;
    state.given[path] = text;
    texts.set(fileKey(tool, path), { text, fault: '' });
  }
}

const forms = new Map(); // by tool: a form is made from its template when it is first shown
const templates = new Map([...document.querySelectorAll('template.tool-form')].map((t) => [t.content.firstElementChild.dataset.tool, t]));

// formOf returns a tool's form, or undefined if there is no such tool.
function formOf(tool) {
  if (!templates.has(tool) || forms.has(tool)) return forms.get(tool);
  const section = templates.get(tool).content.firstElementChild;
  const form = new Form(section, {
    core: () => core,
    ask,
    say: (text, key) => say(text, key, false),
    locale,
    localise,
    tell,
    hush,
    word: (key, ...args) => words[key].replace(/\{(\d)\}/g, (_, i) => args[i]),
    number,
    save: saveForm,
    shelf: (name) => shelves[name],
    changeShelf,
    command,
    carry,
    aloneChanged,
  });
  localise(section);
  forms.set(tool, form);
  const { form: state } = load(tool, readForm);
  loadFiles(tool, state, form.fields.files().map((f) => f.path));
  if (Object.keys(state.rows).length === 0) state.rows = form.fields.begun();
  form.restore(state);
  // An exercise is there at once.
  const fresh = form.fields.fresh();
  if (fresh && Object.keys(state.given).length === 0) fresh.field.input.value = randomText();
  form.last = form.snapshot();
  for (const name in shelves) form.shelf.show(name, shelves[name]);
  document.getElementById('main').append(section);
  return form;
}

// changeShelf keeps other entries for later; key is that of the message, if there is one.
function changeShelf(name, entries, key) {
  shelves[name] = entries;
  save(name, writeRows(entries));
  for (const form of forms.values()) form.shelf.show(name, entries);
  if (key) tell(key);
}

// command does what a button says that is no single form's: see acts in taps.js.
async function command(name, form) {
  switch (name) {
    case 'undo':
      tell(form.undo() ? 'undone' : 'nothing');
      break;
    case 'clear':
      form.replace({ ...emptyForm(), rows: form.fields.begun() });
      tell('cleared');
      form.section.scrollIntoView();
      break;
    case 'demo':
      openLink(form.section.dataset.demo, 'example');
      break;
    case 'print':
      window.print();
      break;
    case 'share':
      await share(form);
      break;
  }
}

// share hands out a form's link. An exercise is to be worked on by others: its link leaves out what was done so far, which are the
// fields that its random text clears.
async function share(form) {
  const bare = form.fields.fresh()?.clears.reduce((link, name) => link.replaceAll(new RegExp(`&${name}[.=][^&]*`, 'g'), ''), form.link);
  const without = form.left.length > 0 ? ['left'] : [];
  const url = new URL(bare ?? form.link, location.href.split('#')[0]).href;
  try {
    if (navigator.share && matchMedia('(pointer: coarse)').matches) {
      await navigator.share({ url });
      without.forEach((key) => tell(key));
    } else {
      await navigator.clipboard.writeText(url);
      say([bare === undefined ? 'copied' : 'copied.bare', ...without].map((key) => words[key]).join(' '), 'copied', false);
    }
  } catch (e) {
    if (e.name === 'AbortError') return;
    // No clipboard here: show the link, to be copied by hand.
    say([...without, 'copy'].map((key) => words[key]).join(' '), 'copy');
    const field = Object.assign(document.createElement('input'), { value: url, readOnly: true, className: 'link' });
    field.setAttribute('aria-label', words.copy);
    said.append(field);
    field.select();
  }
}

// ---- places

// readLink asks the core what a link says.
const readLink = (link) => ask(() => core.open(link, document.documentElement.lang, locale));

// openLink puts a link into its form, as one step of undo.
function openLink(link, key) {
  const opened = readLink(link);
  if (!opened) return;
  const notes = (opened.notes ?? opened.errors ?? []).map((n) => n.text ?? n.message);
  const form = formOf(opened.tool);
  if (!form) {
    history.replaceState(null, '', '#/');
    place();
    say(notes.join(' '), 'link');
    return;
  }
  form.open(opened.fields, notes);
  if (key) tell(key);
}

// carry takes readings over to another tool's form, beside what is there; but an exercise begins anew.
function carry(tool, given) {
  const form = formOf(tool);
  const fresh = form.fields.fresh()?.field.path;
  if (fresh) {
    openLink(`#/${tool}?${new URLSearchParams({ ...given, [fresh]: randomText() })}`, 'hidden');
  } else {
    const opened = readLink(`#/${tool}?${new URLSearchParams(given)}`);
    if (!opened?.fields) return;
    form.add(opened.fields);
    tell('carried');
  }
  location.hash = `#/${tool}`;
}

// place shows what the address names.
function place() {
  const [path, query] = location.hash.replace(/^#\/?/, '').split('?');
  const form = show(path);
  if (query === undefined && (form || path === '')) form?.answer();
  else if (core) {
    history.replaceState(null, '', `#/${path}`);
    openLink(`#/${path}?${query ?? ''}`, 'opened');
  }
}

// aloneChanged keeps the screen on while a part of an answer is shown alone, and no longer.
function aloneChanged() {
  keepAwake(document.querySelector('main > .alone:not([hidden])') !== null);
}

// show brings a tool to the front, or the first screen. It returns the tool's form.
function show(path) {
  const form = formOf(path);
  const here = form ? path : 'start';
  for (const section of document.querySelectorAll('main > section')) section.hidden = section.id !== here;
  document.body.dataset.place = here;
  aloneChanged();
  return form;
}

window.addEventListener('hashchange', () => {
  place();
  window.scrollTo(0, 0); // not at the start: who has scrolled before the core came stays there
  // The focus goes to the title of the place, as the tile that was tapped is gone.
  document.querySelector('main > section:not([hidden]) h1').focus({ preventScroll: true });
});

for (const tile of document.querySelectorAll('[data-demo].tile')) {
  const open = () => openLink(formOf(tile.dataset.demo).section.dataset.demo, 'example');
  tile.addEventListener('click', () => globalThis.ohmwright.then(open));
}

// If nothing takes a file that is dropped, the browser would open it in place of the page.
for (const name of ['dragover', 'drop']) {
  window.addEventListener(name, (e) => e.dataTransfer?.types.includes('Files') && e.preventDefault());
}

// ---- look

for (const radio of document.querySelectorAll('input[name="look"]')) {
  radio.checked = radio.value === document.documentElement.dataset.look;
  radio.addEventListener('change', () => {
    document.documentElement.dataset.look = radio.value;
    save('look', radio.value);
  });
}

// Paper shows everything: what is folded is opened for printing, and folded again after it.
let folded = [];
let focus = null;
window.addEventListener('beforeprint', () => {
  focus = document.activeElement;
  forms.get(document.body.dataset.place)?.print(true);
  const filled = '.entry > :is(input, .lines):not(:placeholder-shown)';
  folded = [...document.querySelectorAll('main > section:not([hidden]) details:not([open])')];
  folded = folded.filter((details) => details.closest('.body') || details.querySelector(filled));
  for (const d of folded) d.open = true;
});
window.addEventListener('afterprint', () => {
  for (const d of folded) d.open = false;
  forms.get(document.body.dataset.place)?.print(false);
  focus?.focus({ preventScroll: true });
});

// ---- go

for (const name in shelves) shelves[name] = load(name, readRows).rows;
place();
if (store.write('look', document.documentElement.dataset.look)) save('look', document.documentElement.dataset.look); // tells what is wrong

globalThis.ohmwright.then(
  (object) => {
    core = object;
    place();
    document.documentElement.dataset.ready = 'yes';
  },
  () => tell('failed', true),
);

const offlineAt = document.getElementById('offline');
const banner = document.getElementById('update');
// If core.js never arrives, nothing else says so.
const given = () => globalThis.Go || globalThis.ohmwrightFailed(new Error('core.js did not arrive'));
if (document.readyState === 'complete') given();
else addEventListener('load', given);
// The service worker starts only when the page answers, so that it does not delay the first answer.
globalThis.ohmwright.finally(() =>
  keepOffline(
    (complete) => {
      offlineAt.textContent = words[complete ? 'offline' : 'offline.not'];
      offlineAt.dataset.state = complete ? 'yes' : 'no';
    },
    (change) => {
      banner.textContent = words.update;
      banner.hidden = false;
      banner.onclick = change;
    },
  ),
);
