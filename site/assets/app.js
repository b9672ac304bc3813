// Waits for the core, shows the place that the address names, and does what belongs to no single form.
import { Address } from './address.js';
import { keepAwake } from './awake.js';
import { isNothing } from './facts.js';
import { Form } from './form.js';
import { takeForms } from './forms.js';
import { InJob } from './injob.js';
import { JobList } from './joblist.js';
import { Jobs } from './jobs.js';
import { Keep } from './keep.js';
import { Keeping } from './keeping.js';
import { showOffline } from './offline.js';
import { setText } from './paint.js';
import { layOutForPaper } from './paper.js';
import { storeHere } from './scope.js';
import { shareLink, showCode, stampHandedIn } from './share.js';
import { emptyForm, randomText, readRows, writeRows } from './state.js';

const words = JSON.parse(document.getElementById('words').textContent);
const store = storeHere();
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

// word returns the words under a key, with texts put in.
const word = (key, ...args) => words[key].replace(/\{(\d)\}/g, (_, i) => args[i]);

// hush takes a message away that would soon go by itself, as it is in the way.
const hush = () => said.dataset.passing && say('', '');

said.addEventListener('click', (e) => {
  if (e.target === said) say('', '');
});

// ---- storage

const savedAt = document.getElementById('saved');

// showSaved says in the header whether what was entered is kept: key is that of the words.
function showSaved(key, state) {
  setText(savedAt, words[key]);
  savedAt.dataset.state = state;
  savedAt.classList.toggle('bad', ['full', 'forbidden'].includes(state));
}

const keep = new Keep(store, (fault) => showSaved(fault ? `unsaved.${fault}` : 'saved', fault || 'saved'), showAside);

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

// ---- jobs

const jobs = new Jobs({
  store,
  waiting: () => showSaved('job.saving', 'saving'),
  said(fault) {
    showSaved(fault ? `job.unsaved.${fault}` : 'job.saved', fault || 'saved');
    list.paper.soon(forms.get(document.body.dataset.place));
  },
  adopted,
  recordOf: (job) => inJob.recordOf(job),
  gone() {
    jobSwitched();
    address.name('');
    place();
    tell('job.gone', true);
  },
  listed: () => list.refresh(),
});
const address = new Address(() => jobs.job?.id ?? '');
const inJob = new InJob(jobs, { core: () => core, ask, word, say, tell, formOf, titleOf, readLink: (link) => readLink(link), locale });
const list = new JobList(jobs, inJob, { word, words, say, tell, said, leave, place, jobSwitched, core: () => core, ask, locale });

const keeping = new Keeping(jobs, keep, (form) => {
  inJob.show(form);
  list.showName();
  list.paper.soon(form);
});

// adopted shows what another window changed in the open job.
function adopted() {
  for (const form of forms.values()) {
    if (!jobs.holds(form)) continue;
    form.adopt(jobs.stateOf(form));
    if (form.tool === document.body.dataset.place) form.answer();
  }
  list.showOpen();
}

// jobSwitched makes the forms anew: another job is open, or none.
function jobSwitched() {
  for (const [tool, form] of forms) {
    if ('jobless' in form.section.dataset) continue;
    form.section.remove();
    forms.delete(tool);
  }
  list.showOpen();
}

// leave does what is due when the form that is shown is left.
function leave() {
  const form = forms.get(document.body.dataset.place);
  form?.settle();
  inJob.left(form);
}

function titleOf(tool) {
  return templates.get(tool)?.content.querySelector('h1').textContent ?? tool;
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

await takeForms();
const forms = new Map(); // by tool: a form is made from its template when it is first shown
const templates = new Map([...document.querySelectorAll('template.tool-form')].map((t) => [t.content.firstElementChild.dataset.tool, t]));

// formOf returns a tool's form, or undefined if there is no such tool.
function formOf(tool) {
  if (!templates.has(tool) || forms.has(tool)) return forms.get(tool);
  const section = templates.get(tool).content.firstElementChild.cloneNode(true);
  const form = new Form(section, {
    core: () => core,
    ask,
    say: (text, key) => say(text, key, false),
    locale,
    localise,
    tell,
    hush,
    word,
    number,
    save: (form, before, files, by) => keeping.save(form, before, files, by),
    savePast: (form) => keeping.savePast(form),
    settled: (form) => inJob.settledSoon(form),
    left: (form) => jobs.holds(form) && form.adopt(jobs.stateOf(form)),
    shelf: (name) => shelves[name],
    changeShelf,
    command,
    carry,
    aloneChanged,
    seen: (form) => address.seen(form),
  });
  localise(section);
  forms.set(tool, form);
  keeping.fill(form);
  for (const name in shelves) form.shelf.show(name, shelves[name]);
  document.getElementById('main').append(section);
  return form;
}

// changeShelf keeps other entries for later; key is that of the message, if there is one.
function changeShelf(name, entries, key) {
  shelves[name] = entries;
  keep.save(name, writeRows(entries));
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
    case 'to-job':
      await list.begun(jobs.begin(jobs.asJob(form)), 'job.made');
      place();
      break;
    case 'print':
      await list.paper.now(form);
      window.print();
      break;
    case 'share':
      await share(form);
      break;
    case 'code':
      code(form);
      break;
  }
}

// share hands out a form's link. An exercise is to be worked on by others: its link leaves out what was done so far, which are the
// fields that its random text clears.
async function share(form) {
  const { url, bare } = linkOf(form);
  const without = form.left.length > 0 ? ['left'] : [];
  await shareLink(url, { words, say, said, without, copied: bare ? 'copied.bare' : 'copied', line: form.line });
}

// code shows the same link as a code for another phone's camera.
function code(form) {
  const { url } = linkOf(form);
  const drawn = core && ask(() => core.code(url));
  if (drawn && !showCode(form.section.querySelector('.code'), url, drawn, words['code.label'])) tell('code.long');
}

function linkOf(form) {
  stampHandedIn(form);
  const bare = form.fields.fresh()?.clears.reduce((link, name) => link.replaceAll(new RegExp(`&${name}[.=][^&]*`, 'g'), ''), form.link);
  return { url: new URL(bare ?? form.link, location.href.split('#')[0]).href, bare: bare !== undefined };
}

// ---- places

// readLink asks the core what a link says.
const readLink = (link) => ask(() => core.open(link, document.documentElement.lang, locale));

// openLink puts a link into its form, as one step of undo. While a job is open the link opens beside it: the job is left as it is.
async function openLink(link, key) {
  const opened = readLink(link);
  if (!opened) return;
  const template = templates.get(opened.tool)?.content.firstElementChild;
  if (jobs.job && template && !('jobless' in template.dataset)) {
    leave();
    await list.putAside();
    if (jobs.job) return place();
    show(opened.tool);
    key &&= 'job.beside';
  }
  const notes = (opened.notes ?? opened.errors ?? []).map((n) => n.text ?? n.message);
  const form = formOf(opened.tool);
  if (!form) {
    address.name('');
    place();
    say(notes.join(' '), 'link');
    return;
  }
  if (form.worksOn(opened.of)) return tell('continued'); // the same sheet: what was done on it stays
  form.open(opened.fields, notes);
  if (key) tell(key);
}

// carry takes readings of the tool "by" over to another tool's form, beside what is there; but an exercise begins anew.
function carry(tool, given, by) {
  const form = formOf(tool);
  const fresh = form.fields.fresh()?.field.path;
  if (fresh) {
    openLink(`#/${tool}?${new URLSearchParams({ ...given, [fresh]: randomText() })}`, 'hidden');
  } else {
    const opened = readLink(`#/${tool}?${new URLSearchParams(given)}`);
    if (!opened?.fields) return;
    if (jobs.holds(form)) inJob.carry(form, opened.fields, by);
    else form.add(opened.fields);
    tell('carried');
  }
  location.hash = `#/${tool}`;
}

// place shows what the address names. What the page wrote there itself is what is kept; only where nothing could be kept is it opened.
function place() {
  const { path, query, own } = address.read();
  const form = show(path);
  const lost = own === '' && !jobs.job && form && isNothing(form.last.given);
  if (query === undefined ? form || path === '' || path === 'jobs' : own !== undefined && form && !lost) form?.answer();
  else if (core) {
    address.name(path === 'job' ? '' : path);
    if (path === 'job') list.openLink(query ?? '');
    else openLink(`#/${path}?${query ?? ''}`, lost ? undefined : 'opened');
  }
}

// aloneChanged keeps the screen on while a part of an answer is shown alone, and no longer.
function aloneChanged() {
  keepAwake(document.querySelector('main > .alone:not([hidden])') !== null);
}

// show brings a tool to the front, or the first screen. It returns the tool's form.
function show(path) {
  const form = formOf(path);
  const here = form || path === 'jobs' ? path : 'start';
  for (const section of document.querySelectorAll('main > section')) section.hidden = section.id !== here;
  document.body.dataset.place = here;
  list.placed(here, form);
  if (form && jobs.holds(form)) form.adopt(jobs.stateOf(form));
  aloneChanged();
  return form;
}

window.addEventListener('hashchange', () => {
  leave();
  place();
  window.scrollTo(0, 0); // not at the start: who has scrolled before the core came stays there
  // The focus goes to the title of the place, as the tile that was tapped is gone.
  document.querySelector('main > section:not([hidden]) h1').focus({ preventScroll: true });
});

for (const tile of document.querySelectorAll('[data-demo].tile')) {
  const open = () => openLink(formOf(tile.dataset.demo).section.dataset.demo, 'example');
  tile.addEventListener('click', () => globalThis.ohmwright.then(open));
}

for (const name of ['pagehide', 'visibilitychange']) {
  document.addEventListener(name, () => document.visibilityState === 'hidden' && leave());
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
    keep.save('look', radio.value);
  });
}

layOutForPaper(() => forms.get(document.body.dataset.place));

// ---- go

for (const name in shelves) shelves[name] = keep.load(name, readRows).rows;
if (store.write('look', document.documentElement.dataset.look)) keep.save('look', 'auto'); // tells what is wrong
const wrong = jobs.remembered() ? await jobs.start() : '';
list.showOpen();
place();
if (wrong) tell(inJob.wordsFor(wrong), true);

globalThis.ohmwright.then(
  (object) => {
    core = object;
    place();
    list.showOpen();
    document.documentElement.dataset.ready = 'yes';
  },
  () => tell('failed', true),
);

// If core.js never arrives, nothing else says so.
const given = () => globalThis.Go || globalThis.ohmwrightFailed(new Error('core.js did not arrive'));
if (document.readyState === 'complete') given();
else addEventListener('load', given);
// The service worker starts only when the page answers, so that it does not delay the first answer.
globalThis.ohmwright.finally(() => showOffline(words));
