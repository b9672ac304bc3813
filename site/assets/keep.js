// What the tools keep on the device while no job is open: a form under its tool's name, the texts of its files apart from it, its
// steps of undo, and what is kept for later. What cannot be read is set aside and shown, never overwritten.
import { diff, patch } from './facts.js';
import { readForm, writeForm } from './state.js';

const MOST_STEPS = 60; // of undo that survive a reload
const MOST_PAST = 100_000; // characters of them

export class Keep {
  // store is the Store; said(fault) is called after each attempt, and aside(fault, text) for what was set aside.
  constructor(store, said, aside) {
    this.store = store;
    this.said = said;
    this.aside = aside;
    this.held = new Map(); // keys under which something unreadable lies that could not be set aside, and why
    this.texts = new Map(); // by key: the text that was kept last, and what went wrong
    this.known = new Map(); // by key: what lay there when it was last looked at; what lies there now may be another window's
  }

  // save keeps a text and says whether that worked. It returns what went wrong: "", "full" or "forbidden".
  save(key, text) {
    const fault = this.held.get(key) ?? this.store.write(key, text);
    this.known.set(key, fault ? this.store.read(key) : text);
    this.said(fault);
    return fault;
  }

  // load reads what was kept under a key.
  load(key, read) {
    const text = this.store.read(key);
    this.known.set(key, text);
    const result = read(text);
    if (!result.fault) return result;
    const fault = this.store.write(`${key}.aside.${Date.now()}`, text);
    if (fault) this.held.set(key, fault);
    else this.store.remove(key);
    this.aside(result.fault, text);
    return read(null);
  }

  // elsewhere returns what another window has kept under a key; null for nothing new.
  elsewhere(key) {
    const text = this.store.read(key);
    if (text === this.known.get(key)) return null;
    this.known.set(key, text);
    return text;
  }

  // saveForm saves a form; work names whose it is, for another window. The texts of its files may be long: they are saved apart from it,
  // and only when they change. It returns the files that could not be saved.
  saveForm(tool, state, files, work) {
    const given = { ...state.given };
    for (const path of files) delete given[path];
    this.save(tool, writeForm({ ...state, given, work }));
    return files.filter((path) => {
      const key = fileKey(tool, path);
      const text = state.given[path];
      if (this.texts.get(key)?.text === text) return Boolean(this.texts.get(key)?.fault);
      const fault = text === undefined ? '' : this.store.write(key, text);
      if (text === undefined || fault) this.store.remove(key); // what was there before is not what is here now
      this.texts.set(key, { text, fault });
      return fault;
    });
  }

  // loadForm reads a form with its files.
  loadForm(tool, files) {
    const { form: state } = this.load(tool, readForm);
    for (const path of files) {
      const text = this.store.read(fileKey(tool, path));
      if (text === null) continue;
      state.given[path] = text;
      this.texts.set(fileKey(tool, path), { text, fault: '' });
    }
    return state;
  }

  savePast(tool, text) {
    this.store.write(pastKey(tool), text);
  }

  loadPast(tool) {
    return this.store.read(pastKey(tool));
  }
}

const fileKey = (tool, path) => `${tool}.file.${path}`;
const pastKey = (tool) => `${tool}.past`;

// writePast writes the last steps of undo as a text.
export function writePast(steps) {
  const kept = [];
  let length = 0;
  for (const step of steps.slice(-MOST_STEPS).reverse()) {
    length += JSON.stringify(step).length;
    if (length > MOST_PAST) break;
    kept.unshift(step);
  }
  return JSON.stringify({ v: 1, steps: kept });
}

// readPast reads steps of undo again. was is the state that they lead back from, as a text: what has changed since then, in another
// window or tool, undo does not take back.
export function readPast(text, was, state) {
  try {
    const { v, steps } = JSON.parse(text);
    if (v !== 1 || !Array.isArray(steps)) return [];
    const { form } = readForm(was ?? JSON.stringify(state));
    return rebased(steps.map(readStep).filter(Boolean), form ? diff(form, state) : {});
  } catch {
    return [];
  }
}

// readStep reads a step; those of the shelves are not kept, since the shelves are shared.
function readStep(step) {
  const { form } = readForm(JSON.stringify(step?.form ?? null));
  return form && { form, stray: Array.isArray(step.stray) ? step.stray.map(String) : [] };
}

// rebased returns steps of undo with a change that was made elsewhere: undo takes back what was done in this form, and nothing else.
export function rebased(steps, { open, ...change }) {
  return steps.map((step) => (step.form ? { ...step, form: patch(step.form, change) } : step));
}
