// Waits for the core, shows the place that the address names, and does what belongs to no single form.
import './coming.js'; // first: it tells while the rest is still on its way
import { Address } from './address.js';
import { Aside } from './aside.js';
import { keepAwake } from './awake.js';
import { whenAway } from './away.js';
import { Early } from './early.js';
import { isNothing } from './facts.js';
import { Form } from './form.js';
import { Heard } from './heard.js';
import { InJob } from './injob.js';
import { JobList } from './joblist.js';
import { Jobs } from './jobs.js';
import { Keep } from './keep.js';
import { Keeping } from './keeping.js';
import { offerLanguages } from './language.js';
import { dress, markupsOf } from './markup.js';
import { locale, localise, mark, number } from './numbers.js';
import { showOffline } from './offline.js';
import { setText } from './paint.js';
import { layOutForPaper } from './paper.js';
import { storeHere } from './scope.js';
import { codeForm, shareForm } from './share.js';
import { Shelves } from './shelf.js';
import { emptyForm, randomText } from './state.js';
import { Tabs } from './tabs.js';
import { Works } from './works.js';

const words = JSON.parse(document.getElementById('words').textContent);
const store = storeHere();
const said = document.getElementById('said');
let core = null;

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
  document.documentElement.classList.toggle('saying', text !== '');
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
const heard = new Heard({ word, titleOf: placeName, job: () => jobs.job && document.getElementById('home-name').textContent });

// showSaved says in the header whether what was entered is kept: key is that of the words.
function showSaved(key, state) {
  const bad = ['full', 'forbidden'].includes(state);
  if (bad && savedAt.dataset.state !== state) heard.say(words[key]);
  setText(savedAt, words[key]);
  if (savedAt.dataset.state !== state) savedAt.dataset.state = state;
  savedAt.classList.toggle('bad', bad);
}

const aside = new Aside(store, words);
// Who works on a sheet hands it in while the page is open; anything else goes into a link.
const unsaved = () => (forms.get(document.body.dataset.place)?.of ? 'work.unsaved' : 'unsaved');
const keep = new Keep(store, (fault) => showSaved(fault ? `${unsaved()}.${fault}` : 'saved', fault || 'saved'), aside.show);

// ---- jobs

const jobs = new Jobs({
  store,
  waiting: () => showSaved('job.saving', 'saving'),
  said(fault) {
    showSaved(fault ? `job.unsaved.${fault}` : 'job.saved', fault || 'saved');
    list.paper.soon(forms.get(document.body.dataset.place));
  },
  adopted,
  formOf,
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
const list = new JobList(jobs, inJob, {
  ...{ word, words, say, tell, said, leave, place, jobSwitched, core: () => core, ask, locale },
  named: () => heard.name(),
});

function showKept(form) {
  inJob.show(form);
  list.showName();
  list.paper.soon(form);
}
const keeping = new Keeping(jobs, keep, { show: showKept, tabs: () => tabs, address });

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
function leave(isHidden) {
  const form = forms.get(document.body.dataset.place);
  form?.settle();
  inJob.left(form, isHidden);
}

function titleOf(tool) {
  return markups.get(tool)?.title ?? tool;
}

// placeName is what a place is called: a tool, or the list of jobs; the first screen has no name of its own.
function placeName(place) {
  return markups.get(place)?.title ?? (place === 'jobs' && document.querySelector('#jobs h1').textContent);
}

// ---- forms

const come = await globalThis.ohmwrightForms;
dress(come.style);
const markups = markupsOf(come.forms);
const forms = new Map(); // by tool: a form is made when it is first shown
const shelves = new Shelves(keep, forms, tell);
const tabs = new Tabs({ store, keep, jobs, shelves, formMade: (tool) => forms.get(tool), say, tell, word });
const early = new Early();
const works = new Works({
  shelf: () => shelves.entries.works,
  change: (entries) => shelves.change('works', entries),
  readLink: (link) => readLink(link),
  tell,
});

// formOf returns a tool's form, or undefined if there is no such tool.
function formOf(tool) {
  if (!markups.has(tool) || forms.has(tool)) return forms.get(tool);
  const section = markups.get(tool).made();
  const form = new Form(section, {
    core: () => core,
    ask,
    say: (text, key) => say(text, key, false),
    locale,
    localise,
    tell,
    hush,
    word,
    ...{ mark, number },
    save: (form, before, files, by) => keeping.save(form, before, files, by),
    savePast: (form) => keeping.savePast(form),
    settled(form) {
      works.met(form);
      inJob.settledSoon(form);
    },
    works,
    typing: (form) => inJob.typing(form),
    left: (form) => inJob.fieldLeft(form) || works.left(form),
    shelf: (name) => shelves.entries[name],
    changeShelf: (...it) => shelves.change(...it),
    command,
    carry,
    aloneChanged,
    seen: (form) => address.seen(form),
    answered: (form) => heard.answered(form),
  });
  if (core) localise(section); // else once the first answer is there
  forms.set(tool, form);
  keeping.fill(form);
  shelves.showIn(form);
  document.getElementById('main').append(section);
  return form;
}

// command does what a button says that is no single form's: see acts in taps.js.
async function command(name, form) {
  switch (name) {
    case 'undo':
      tell(form.undo() ? 'undone' : 'nothing');
      works.back(form);
      break;
    case 'clear':
    case 'own-sheet':
      if (works.cleared(form)) break;
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
      await shareForm(form, { words, say, said });
      break;
    case 'code':
      codeForm(form, { words, tell, draw: (url) => core && ask(() => core.code(url)) });
      break;
  }
}

// ---- places

// readLink asks the core what a link says.
const readLink = (link) => ask(() => core.open(link, document.documentElement.lang, locale));

// openLink puts a link into its form, as one step of undo. While a job is open the link opens beside it: the job is left as it is.
async function openLink(link, key) {
  const opened = readLink(link);
  if (!opened) return;
  const markup = markups.get(opened.tool);
  const empty = markup && isNothing(opened.fields);
  if (jobs.job && !empty && markup && !markup.jobless) {
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
  if (works.opened(form, opened, notes, key)) return;
  if (key === 'opened' && !empty && !isNothing(form.last.given)) notes.unshift(words[key]); // stays where it can be read
  form.open(opened.fields, notes);
  if (key && !empty) tell(key);
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
    inJob.carry(form, opened.fields, by);
  }
  location.hash = `#/${tool}`;
}

// place shows what the address names. What the page wrote there itself is what is kept; only where nothing could be kept is it opened.
function place() {
  const { path, query, own } = address.read();
  const form = show(path);
  const lost = own === '' && !jobs.job && form && store.read(path) === null && isNothing(form.last.given);
  const isLink = query !== undefined && (own === undefined || lost);
  if (!core && isLink && form && !jobs.job) return early.show(form, query);
  const typed = early.end(core && isLink && form);
  if (query === undefined ? form || path === '' || path === 'jobs' : own !== undefined && form && !lost) form?.answer();
  else if (core) {
    address.name(path === 'job' ? '' : path);
    if (path === 'job') list.openLink(query ?? '');
    else openLink(`#/${path}?${query ?? ''}`, lost ? undefined : 'opened');
    typed?.();
  }
}

// aloneChanged keeps the screen on while a part of an answer is shown alone, and no longer.
function aloneChanged() {
  const alone = document.querySelector('main > .alone:not([hidden])') !== null;
  keepAwake(alone);
  document.body.classList.toggle('one-part', alone);
}

// show brings a tool to the front, or the first screen. It returns the tool's form.
function show(path) {
  const form = formOf(path);
  const here = form || path === 'jobs' ? path : 'start';
  for (const section of document.querySelectorAll('main > section')) section.hidden = section.id !== here;
  document.body.dataset.place = here;
  list.placed(here, form);
  heard.placed(here, form);
  if (form) inJob.placed(form);
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

whenAway({ leave, jobs, address });

for (const [on, name] of [[window, 'storage'], [document, 'visibilitychange']]) {
  on.addEventListener(name, () => forms.forEach((form) => keeping.refresh(form)));
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

offerLanguages({ save: (name, value) => keep.save(name, value), leave, tell });
layOutForPaper(() => forms.get(document.body.dataset.place));

// ---- go

shelves.load();
const isKept = store.write('look', document.documentElement.dataset.look) === '';
if (!isKept) keep.save('look', 'auto'); // tells what is wrong
const wrong = jobs.opened.id ? await jobs.start() : '';
list.showOpen();
place();
if (wrong) tell(inJob.wordsFor(wrong), true);

globalThis.ohmwright.then(
  async (object) => {
    await new Promise((resolve) => setTimeout(resolve)); // a tap is not to wait for all that the first answer takes
    core = object;
    place();
    list.showOpen();
    setTimeout(() => {
      for (const form of forms.values()) localise(form.section);
      document.documentElement.dataset.ready = 'yes';
    });
  },
  () => tell('failed', true),
);

// The service worker starts only when the page answers, so that it does not delay the first answer.
globalThis.ohmwright.finally(() => showOffline(words, isKept));
