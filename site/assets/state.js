// What is kept on the device, and how it is read back. Nothing here touches the page: it is tested without a browser.
//
// A form: {"v": 1, "given": {"reading": "6.9"}, "units": {"reading": "ohm"}, "names": {}, "rows": {"specs": 2}, "open": ["fine"]}.
// Keys are the flat keys of a request; texts are as typed. names are those of files, whose texts are kept apart from the form.

export const VERSION = 1;
const MOST_KEYS = 8000; // as core/job has it: more than any form has with all its rows filled
export const MOST_ROWS = 200;
const KEY = /^[a-z_]+(\.[a-z0-9_]+){0,5}$/;

export const emptyForm = () => ({ v: VERSION, given: {}, units: {}, names: {}, rows: {}, open: [] });

const isRecord = (o) => typeof o === 'object' && o !== null && !Array.isArray(o);

// texts copies an object of texts under well-formed keys. It returns null if anything else is in it.
export function texts(o) {
  if (!isRecord(o)) return null;
  const keys = Object.keys(o);
  if (keys.length > MOST_KEYS) return null;
  const out = {};
  for (const k of keys) {
    if (!KEY.test(k) || typeof o[k] !== 'string') return null;
    out[k] = o[k];
  }
  return out;
}

// readForm reads a form that was kept. It returns {form} or {fault: "damaged" | "newer"}, and never throws.
export function readForm(text) {
  if (text === null || text === undefined) return { form: emptyForm() };
  let o;
  try {
    o = JSON.parse(text);
  } catch {
    return { fault: 'damaged' };
  }
  if (!isRecord(o) || !Number.isInteger(o.v) || o.v < 1) return { fault: 'damaged' };
  if (o.v > VERSION) return { fault: 'newer' };
  const given = texts(o.given);
  const units = texts(o.units);
  const names = texts(o.names ?? {});
  if (!given || !units || !names || !isRecord(o.rows) || !Array.isArray(o.open)) return { fault: 'damaged' };
  const rows = {};
  for (const [k, n] of Object.entries(o.rows)) {
    if (!KEY.test(k) || !Number.isInteger(n) || n < 0 || n > MOST_ROWS) return { fault: 'damaged' };
    rows[k] = n;
  }
  return { form: { v: VERSION, given, units, names, rows, open: o.open.filter((k) => typeof k === 'string') } };
}

export const writeForm = (form) => JSON.stringify(form);

// readRows reads rows that were kept: {"v": 1, "rows": [{"given": {"name": "…"}, "units": {}}]}.
export function readRows(text) {
  if (text === null || text === undefined) return { rows: [] };
  try {
    const o = JSON.parse(text);
    if (isRecord(o) && o.v > VERSION) return { fault: 'newer' };
    const rows = o.rows.map((r) => ({ given: texts(r.given), units: texts(r.units) }));
    if (o.v === VERSION && rows.every((r) => r.given && r.units)) return { rows };
  } catch {
    // told below
  }
  return { fault: 'damaged' };
}

export const writeRows = (rows) => JSON.stringify({ v: VERSION, rows });

// A Store is the device's storage. write returns what went wrong instead of throwing: "", "full" or "forbidden".
export class Store {
  constructor(storage, prefix = 'ohmwright/') {
    this.storage = storage; // a function, as even looking at it may be forbidden
    this.prefix = prefix; // of all its keys
  }
  read(key) {
    try {
      return this.storage().getItem(this.prefix + key);
    } catch {
      return null;
    }
  }
  write(key, text) {
    try {
      this.storage().setItem(this.prefix + key, text);
      return '';
    } catch (e) {
      return e && (e.name === 'QuotaExceededError' || e.name === 'NS_ERROR_DOM_QUOTA_REACHED') ? 'full' : 'forbidden';
    }
  }
  remove(key) {
    try {
      this.storage().removeItem(this.prefix + key);
    } catch {
      // it was never there
    }
  }
  // keys returns all keys under which something is kept.
  keys() {
    try {
      return Object.keys(this.storage()).flatMap((full) => this.keyOf(full) ?? []);
    } catch {
      return [];
    }
  }
  // keyOf returns the key that stands for a name in the storage, or undefined if that is not one of this page's.
  keyOf(name) {
    return name?.startsWith(this.prefix) ? name.slice(this.prefix.length) : undefined;
  }
}

// joined returns a field's text with its unit, as a request wants it: the unit is added if the text ends like a number.
export function joined(text, unit) {
  return unit && /[\d.,]\s*$/.test(text) ? `${text.trim()} ${unit}` : text.trim();
}

// randomText returns a number of five digits as a text. Chance comes in here alone; the core has none.
export const randomText = () => String(10000 + (crypto.getRandomValues(new Uint32Array(1))[0] % 90000));
