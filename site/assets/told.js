// Which changes of a form a window has, its own and others'. Each window counts its changes. What is kept of a form says up to which of
// each window's it has them, and which of them was the last in each place: so a change that another window had not heard of when it kept
// the form is not taken for one that it took back, however late word comes.
import { diff } from './facts.js';

const MOST_WINDOWS = 8; // that are remembered
const MOST_PARTS = 300; // of which the last change is remembered; it counts as known to all for others

const MAPS = ['given', 'units', 'names'];

// A part is what changes as one thing: a key, with its text, unit and file's name, or the number of a list's rows, "#" before its name.
const isRows = (part) => part.startsWith('#');
const mapsOf = (part) => (isRows(part) ? ['rows'] : MAPS);
const keyOf = (part) => (isRows(part) ? part.slice(1) : part);
const partsOf = (change) => [
  ...new Set(MAPS.flatMap((map) => Object.keys(change[map] ?? {}))),
  ...Object.keys(change.rows ?? {}).map((name) => `#${name}`),
];

export class Told {
  // me names this window; the rest is what toldIn read from what the form was filled with.
  constructor(me, { upTo, by } = { upTo: {}, by: new Map() }) {
    Object.assign(this, { me, upTo, by });
  }

  // made counts a change of this window's and returns its number.
  made(change) {
    const number = (this.upTo[this.me] ?? 0) + 1;
    this.note({ [this.me]: number });
    for (const part of partsOf(change)) this.setBy(part, [this.me, number]);
    return number;
  }

  has([window, number]) {
    return has(this.upTo, window, number);
  }

  // misses reports whether a change lies between those known here of a window and that one.
  misses([window, number]) {
    return !has(this.upTo, window, number - 1);
  }

  // heard takes down a change that another window told of, and which was taken in as far as the state has it.
  heard(stamp, change, state) {
    this.note(Object.fromEntries([stamp]));
    for (const part of partsOf(change)) {
      const key = keyOf(part);
      const isSo = (map) => !(key in (change[map] ?? {})) || change[map][key] === (state[map][key] ?? null);
      if (mapsOf(part).every(isSo)) this.setBy(part, stamp);
    }
  }

  // isAhead reports whether something is known here that who kept a form had not heard of.
  isAhead({ upTo }) {
    return Object.entries(this.upTo).some(([window, number]) => !has(upTo, window, number));
  }

  // takeIn takes down what another window kept, and returns what this window's state becomes with what is new there: {state, both}. both
  // has the keys that were changed here and there by windows that had not heard of each other; they stay as they are here.
  takeIn(mine, theirs, { upTo, by }) {
    const both = [];
    const state = { ...mine };
    const other = new Set(partsOf(diff(mine, theirs)));
    for (const [part, stamp] of by) if (!other.has(part) && !this.has(stamp)) this.setBy(part, stamp);
    for (const part of other) {
      const [here, there] = [this.by.get(part), by.get(part)];
      if (there && this.has(there)) continue;
      if (here && !has(upTo, ...here)) {
        if (there && !isRows(part)) both.push(part);
        continue;
      }
      const key = keyOf(part);
      for (const map of mapsOf(part)) {
        state[map] = { ...state[map], [key]: theirs[map]?.[key] };
        if (state[map][key] === undefined) delete state[map][key];
      }
      if (there) this.setBy(part, there);
      else this.by.delete(part);
    }
    this.note(Object.fromEntries(Object.entries(upTo).filter((stamp) => !this.has(stamp))));
    return { state, both };
  }

  // note takes down up to which changes of each window they are here.
  note(upTo) {
    for (const window of Object.keys(upTo)) delete this.upTo[window]; // the latest come last
    this.upTo = Object.fromEntries(Object.entries({ ...this.upTo, ...upTo }).slice(-MOST_WINDOWS));
  }

  setBy(part, stamp) {
    this.by.delete(part);
    this.by.set(part, stamp);
    if (this.by.size > MOST_PARTS) this.by.delete(this.by.keys().next().value);
  }

  // toKeep returns what toldIn reads again.
  toKeep() {
    return { upTo: this.upTo, by: Object.fromEntries(this.by) };
  }
}

const has = (upTo, window, number) => number <= (upTo[window] ?? 0);

// toldIn reads which changes a form has from the text that was kept of it; undefined for one that does not say.
export function toldIn(text) {
  try {
    const { upTo, by } = JSON.parse(text).told;
    const isStamp = (stamp) => Array.isArray(stamp) && stamp.length === 2 && Number.isSafeInteger(stamp[1]);
    return {
      upTo: Object.fromEntries(Object.entries(upTo).filter(isStamp).slice(-MOST_WINDOWS)),
      by: new Map(Object.entries(by).filter(([, stamp]) => isStamp(stamp)).slice(-MOST_PARTS)),
    };
  } catch {
    return undefined;
  }
}
