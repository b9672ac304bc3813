// What the tools keep on the device while no job is open: a form under its tool's name, the texts of its files apart from it, its
// steps of undo, and what is kept for later. What cannot be read is set aside and shown, never overwritten.
import { diff, isNothing, patch } from './facts.js';
import { readForm, writeForm } from './state.js';

const MOST_STEPS = 60; // of undo that survive a reload
const MOST_PAST = 1_200_000; // characters of them: a recording that was replaced is among them
export const FEW_PAST = 100_000; // where there is no room for so many, and in a job

export class Keep {
  // store is the Store; said(fault) is called after each attempt, and aside(fault, text, key) for what was set aside under a key.
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
    const to = `${key}.aside.${Date.now()}.${result.fault}`;
    const fault = this.store.write(to, text);
    if (fault) this.held.set(key, fault);
    else this.store.remove(key);
    this.aside(result.fault, text, fault ? '' : to);
    return read(null);
  }

  // elsewhere returns what another window has kept under a key; null for nothing new.
  elsewhere(key) {
    const text = this.store.read(key);
    if (text === this.known.get(key)) return null;
    this.known.set(key, text);
    return text;
  }

  // saveForm saves a form, with what is beside it for other windows: whose work it is, which changes it has. The texts
  // of its files may be long: they are saved apart from it, and only when they change. It returns the files that could not be saved.
  saveForm(tool, state, files, beside) {
    const given = { ...state.given };
    for (const path of files) delete given[path];
    this.save(tool, writeForm({ ...state, given, ...beside }));
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
    this.known.set(tool, this.store.read(tool));
    for (const path of files) {
      const text = this.store.read(fileKey(tool, path));
      if (text === null) continue;
      state.given[path] = text;
      this.texts.set(fileKey(tool, path), { text, fault: '' });
    }
    return state;
  }

  // others returns what another window changed in a form since it was read or written here, {before, after, text}, text being what lies
  // there; null for nothing.
  others(tool) {
    const now = this.store.read(tool);
    if (now === null || now === this.known.get(tool)) return null;
    if (readForm(now).fault) {
      this.load(tool, readForm); // a newer version of the page wrote it: it is set aside, never overwritten
      return null;
    }
    const [before, after] = [this.known.get(tool), now].map((text) => readForm(text).form);
    this.known.set(tool, now);
    return before && after ? { before, after, text: now } : null;
  }

  // lacks reports whether what lies here of a form is not what the form holds; what is unfolded is each window's own.
  lacks({ tool, last, fields }) {
    const now = this.store.read(tool);
    this.known.set(tool, now);
    const { form } = readForm(now);
    const given = { ...last.given };
    for (const { path } of fields.files()) delete given[path];
    return form !== undefined && !isNothing(diff({ ...form, open: last.open }, { ...last, given }));
  }

  // fileIs is told that another window kept a file's text.
  fileIs(tool, path, text) {
    this.texts.set(fileKey(tool, path), { text: text ?? undefined, fault: '' });
  }

  savePast(tool, steps, files) {
    const write = (most) => this.store.write(pastKey(tool), writePast(steps, most, files));
    if (write(MOST_PAST)) write(FEW_PAST);
  }

  loadPast(tool) {
    return this.store.read(pastKey(tool));
  }
}

const fileKey = (tool, path) => `${tool}.file.${path}`;
const pastKey = (tool) => `${tool}.past`;

// writePast writes the last steps of undo as a text: the last one whole, of each before it what is other than in the next. The last one
// lacks the files, {path: text}, that are kept beside the form and are the same in it.
export function writePast(steps, most = MOST_PAST, files = {}) {
  const kept = [];
  let length = 0;
  let next = null;
  for (const step of steps.slice(-MOST_STEPS).reverse()) {
    const written = JSON.stringify(next ? { change: diff(next.form, step.form), stray: step.stray } : without(step, files));
    length += written.length;
    if (next && length > most) break;
    kept.unshift(written);
    next = step;
  }
  return `{"v":2,"steps":[${kept.join()}]}`;
}

function without({ form, stray }, files) {
  const same = Object.keys(files).filter((path) => form.given[path] === files[path]);
  const given = { ...form.given };
  for (const path of same) delete given[path];
  return { form: { ...form, given }, stray, files: same };
}

// wholeSteps returns the steps of a text that writePast wrote, each whole; state has the files. Version 1 has them so.
function wholeSteps({ v, steps }, state) {
  if (!Array.isArray(steps) || (v !== 1 && v !== 2)) return [];
  let next = null;
  const whole = steps.toReversed().map((step) => {
    next = { form: step.change ? patch(next.form, step.change) : step.form, stray: step.stray };
    for (const path of step.files ?? []) next.form.given[path] = state.given[path];
    return next;
  });
  return whole.toReversed();
}

// readPast reads steps of undo again. was is the state that they lead back from, as a text: what has changed since then, in another
// window or tool, undo does not take back.
export function readPast(text, was, state) {
  try {
    const steps = wholeSteps(JSON.parse(text), state);
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
