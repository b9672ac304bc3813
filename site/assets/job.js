// The document of one job, as core/job describes it, and how it changes: pure functions, tested without a browser.
//
// Whatever happens to a job is a change: {when, tool, own, facts, by, from, parted, entries, archived}. own is what changed in the
// tool's part of its form and facts what changed in the facts, both as diff makes them (see facts.js); from names the facts that were
// entered, in the tool that by names, and parted those that come from nowhere else any more; entries are put behind the others.
// Two windows may change one job: each change is made on whatever is kept by then.
import { isNothing, patch, settleSpec } from './facts.js';
import { emptyForm, readForm, texts } from './state.js';

export const VERSION = 1;
export const MOST_BYTES = 8 << 20; // of a file
const MOST_ENTRIES = 2000;

const ID = /^[a-z0-9]{10,40}$/;

// newId returns the id of a new job.
export const newId = () => [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => (byte % 36).toString(36)).join('');

// now returns the time as a job has it.
export const now = () => new Date().toISOString();

// onTheClock returns a time of a job as the clock on the wall showed it here, with how far that clock was ahead of UTC then: the two
// differ over the year where clocks are changed. 2026-11-23T08:02:00Z is 2026-11-23T04:32:00-03:30.
export function onTheClock(when) {
  const at = new Date(when);
  const ahead = -at.getTimezoneOffset();
  if (Number.isNaN(ahead)) return when;
  const two = (n) => String(Math.trunc(n)).padStart(2, '0');
  const clock = new Date(at.getTime() + ahead * 60_000).toISOString().slice(0, 19);
  return `${clock}${ahead < 0 ? '-' : '+'}${two(Math.abs(ahead) / 60)}:${two(Math.abs(ahead) % 60)}`;
}

export const newJob = (id, when) => ({
  ohmwright: 'job',
  v: VERSION,
  id,
  made: when,
  changed: when,
  archived: false,
  facts: { given: {}, units: {}, rows: {}, from: {} },
  forms: {},
  entries: [],
  photos: [],
});

const isRecord = (o) => typeof o === 'object' && o !== null && !Array.isArray(o);

// readJob reads what this page kept. It returns {job} or {fault: "damaged" | "newer"} and never throws. What comes from elsewhere is
// read by the core too, which is stricter.
export function readJob(text) {
  try {
    const o = JSON.parse(text);
    if (!isRecord(o) || o.ohmwright !== 'job' || !Number.isInteger(o.v) || o.v < 1) return { fault: 'damaged' };
    if (o.v > VERSION) return { fault: 'newer' };
    const facts = readFacts(o.facts);
    if (!ID.test(o.id) || !facts || !isRecord(o.forms) || !Array.isArray(o.entries)) return { fault: 'damaged' };
    const forms = {};
    for (const [tool, form] of Object.entries(o.forms)) {
      const read = readForm(JSON.stringify(form));
      if (read.fault || !/^[a-z][a-z_]{0,39}$/.test(tool)) return { fault: read.fault ?? 'damaged' };
      forms[tool] = read.form;
    }
    const job = newJob(o.id, String(o.made));
    const photos = Array.isArray(o.photos) ? o.photos : [];
    return { job: { ...job, changed: String(o.changed), archived: o.archived === true, facts, forms, entries: o.entries, photos } };
  } catch {
    return { fault: 'damaged' };
  }
}

function readFacts(o) {
  if (!isRecord(o)) return null;
  const [given, units, from] = [texts(o.given), texts(o.units ?? {}), texts(o.from ?? {})];
  const { form } = readForm(JSON.stringify({ ...emptyForm(), rows: o.rows ?? {} }));
  return given && units && from && form ? { given, units, rows: form.rows, from } : null;
}

// applied returns a job with a change made.
export function applied(job, change) {
  const out = { ...job, changed: change.when > job.changed ? change.when : job.changed };
  if (change.archived !== undefined) out.archived = change.archived;
  if (change.facts) {
    const before = { ...job.facts };
    const from = { ...before.from };
    for (const name of change.from ?? []) if (change.by) from[name] = change.by;
    for (const name of change.parted ?? []) delete from[name];
    const after = { ...patch(before, change.facts), from };
    out.facts = settleSpec(before, after);
  }
  if (change.own && !isNothing(change.own)) {
    out.forms = { ...job.forms, [change.tool]: patch(job.forms[change.tool] ?? emptyForm(), change.own) };
  }
  if (change.entries?.length > 0) out.entries = withEntries(job.entries, change.entries);
  return out;
}

// withEntries puts entries behind those that are there, numbered anew. One that another window has just added is not added twice.
function withEntries(there, added) {
  const out = [...there];
  const moved = new Map(); // numbers of added entries, before and after
  for (const entry of added) {
    const last = out.findLast((other) => other.kind === entry.kind && other.tool === entry.tool && other.what === entry.what);
    if (last && last.n >= (entry.n ?? Infinity) && bare(last) === bare(entry)) continue;
    if (out.length >= MOST_ENTRIES) break;
    const n = out.length + 1;
    if (entry.n) moved.set(entry.n, n);
    out.push({ ...entry, n, ...(entry.corrects ? { corrects: moved.get(entry.corrects) ?? entry.corrects } : {}) });
  }
  return out;
}

// takenIn returns the tools whose readings stand among entries, each with whether they were taken at a supply. Of a recording the answer
// stands for what was read.
export function takenIn(entries) {
  const gone = new Set(entries.map(({ corrects }) => corrects));
  const tools = new Map();
  for (const { kind, n, tool, supply } of entries) {
    const recorded = kind === 'answer' && tool === 'trace';
    if (recorded || (kind === 'reading' && !gone.has(n))) tools.set(tool, tools.get(tool) || recorded || Boolean(supply));
  }
  return tools;
}

const bare = (entry) => JSON.stringify({ ...entry, n: 0, when: '', corrects: entry.corrects ?? 0 }, Object.keys(entry).sort());

// ---- copies

// What a new job like another one takes along: how the circuit is built and measured. No reading, no code, nothing of the vehicle that
// is another one's.
const ALIKE = ['side', 'return', 'specs', 'spec', 'meter', 'clamp', 'material', 'driver', 'costs', 'minutes', 'inner_harness', 'who'];

export function likeJob(job, id, when) {
  const keep = (o) => Object.fromEntries(Object.entries(o).filter(([key]) => ALIKE.includes(key.split('.')[0])));
  const { given, units, rows, from } = job.facts;
  return { ...newJob(id, when), facts: { given: keep(given), units: keep(units), rows: keep(rows), from: keep(from) } };
}

// sameJob reports whether two jobs say the same, whatever the order of their keys. A copy has another id than its original, but was made
// and changed last when that was.
export function sameJob(a, b) {
  if (a?.made !== b.made || a.changed !== b.changed) return false;
  const plain = (o) => (typeof o !== 'object' || o === null ? o : Array.isArray(o) ? o.map(plain) : sorted(o));
  const sorted = (o) => Object.fromEntries(Object.keys(o).sort().map((key) => [key, plain(o[key])]));
  const said = (job) => JSON.stringify(plain({ facts: job.facts, entries: job.entries }));
  return said(a) === said(b);
}

// nameOf returns what a job is called: its vehicle and tag; "" if it has neither.
export const nameOf = ({ facts: { given } }) => [given.vehicle, given.tag].filter(Boolean).join(', ');

// lastVerdict returns the last answer among a job's entries.
export const lastVerdict = (job) => job.entries.findLast((entry) => entry.kind === 'answer');

// found reports whether a job has each word of what is searched for somewhere in its facts.
export function found(job, text) {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  const all = Object.values(job.facts.given).join('\n').toLowerCase() + (lastVerdict(job)?.said ?? '').toLowerCase();
  return words.every((word) => all.includes(word));
}
