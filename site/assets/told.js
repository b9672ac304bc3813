// Which changes of a form a window has, its own and others'. Each window counts its changes. What is kept of a form says up to which of
// each window's it has them, and which of them was the last in each place: so a change that another window had not heard of when it kept
// the form is not taken for one that it took back, however late word comes.
import { diff } from './facts.js';

const MOST_WINDOWS = 40; // that are kept: those heard of last. A window forgets none that it has heard of.
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
  // me names this window, by a text that is no number; the rest is what toldIn read from what the form was filled with. upTo has by window
  // up to which change they are here, those heard of last at the end.
  constructor(me, { upTo, by } = { upTo: new Map(), by: new Map() }) {
    Object.assign(this, { me, upTo, by, live: new Set() }); // live are the windows that were heard since, and this one
  }

  // made counts a change of this window's and returns its number.
  made(change) {
    const number = (this.upTo.get(this.me) ?? 0) + 1;
    this.note(this.me, number);
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
    this.note(...stamp);
    for (const part of partsOf(change)) {
      const key = keyOf(part);
      const isSo = (map) => !(key in (change[map] ?? {})) || change[map][key] === (state[map][key] ?? null);
      if (mapsOf(part).every(isSo)) this.setBy(part, stamp);
    }
  }

  // isAhead reports whether something was heard here that who kept a form had not heard of. What was kept before tells nothing: windows of
  // long ago are left out of it.
  isAhead({ upTo }) {
    return [...this.live].some((window) => !has(upTo, window, this.upTo.get(window)));
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
    this.join(upTo);
    return { state, both };
  }

  // join takes down what another window knows of. What is new here keeps its place beside the others: it may be of long ago.
  join(upTo) {
    const order = [...this.upTo.keys()];
    let before;
    for (const [window] of upTo) {
      if (!this.upTo.has(window)) order.splice(order.indexOf(before) + 1, 0, window);
      before = window;
    }
    this.upTo = new Map(order.map((window) => [window, Math.max(this.upTo.get(window) ?? 0, upTo.get(window) ?? 0)]));
  }

  // note takes down up to which change of a window they are here.
  note(window, number) {
    this.upTo.delete(window); // the latest come last
    this.upTo.set(window, number);
    this.live.add(window);
  }

  setBy(part, stamp) {
    this.by.delete(part);
    this.by.set(part, stamp);
    if (this.by.size > MOST_PARTS) this.by.delete(this.by.keys().next().value);
  }

  // toKeep returns what toldIn reads again.
  toKeep() {
    return { upTo: Object.fromEntries([...this.upTo].slice(-MOST_WINDOWS)), by: Object.fromEntries(this.by) };
  }
}

const has = (upTo, window, number) => number <= (upTo.get(window) ?? 0);

// toldIn reads which changes a form has from the text that was kept of it; undefined for one that does not say.
export function toldIn(text) {
  try {
    const { upTo, by } = JSON.parse(text).told;
    const isStamp = (stamp) => Array.isArray(stamp) && stamp.length === 2 && Number.isSafeInteger(stamp[1]);
    return {
      upTo: new Map(Object.entries(upTo).filter(isStamp).slice(-MOST_WINDOWS)), // numbers, as windows were once called, come first
      by: new Map(Object.entries(by).filter(([, stamp]) => isStamp(stamp)).slice(-MOST_PARTS)),
    };
  } catch {
    return undefined;
  }
}
