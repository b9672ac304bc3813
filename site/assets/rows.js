// Rows of lists, edited as pure functions of a form's state (see state.js): each returns a new state or a figure, and changes
// nothing that it is given. Row 2 of the list "specs" has the keys "specs.2.min", "specs.2.max" and so on. A row is held when
// something was entered in it, which is when the state has a text under one of its keys.
import { MOST_ROWS } from './state.js';

// rowOf takes the key of something in a row apart: {list: "specs", row: 2, rest: "min"}. It returns null for any other key.
export function rowOf(key) {
  const [list, row, ...rest] = key.split('.');
  return rest.length > 0 && /^\d+$/.test(row) ? { list, row: Number(row), rest: rest.join('.') } : null;
}

const keyOf = (list, row, rest) => `${list}.${row}.${rest}`;

// rekeyed copies texts under other keys: rekey(key, row) returns the new key, or null to leave the text out; row is rowOf(key).
function rekeyed(texts, rekey) {
  const out = {};
  for (const [key, text] of Object.entries(texts)) {
    const to = rekey(key, rowOf(key));
    if (to !== null) out[to] = text;
  }
  return out;
}

// heldRows returns the numbers of the rows that are held.
export function heldRows({ given }, list) {
  const held = new Set();
  for (const key in given) {
    const at = rowOf(key);
    if (at?.list === list) held.add(at.row);
  }
  return held;
}

// behindHeld returns the number of the row behind the last one that is held.
export const behindHeld = (state, list) => Math.max(-1, ...heldRows(state, list)) + 1;

// freeRow returns the number of the first row that is not held.
export function freeRow(state, list) {
  const held = heldRows(state, list);
  let row = 0;
  while (held.has(row)) row++;
  return row;
}

// countRows returns how many rows a list has: as many as the state says, or more where it has texts for more, up to the limit.
export const countRows = (state, list) => Math.max(state.rows[list] ?? 0, Math.min(behindHeld(state, list), MOST_ROWS));

// addRow adds an empty row behind the others. It returns null if the list is full.
export function addRow(state, list) {
  const count = countRows(state, list);
  return count < MOST_ROWS ? { ...state, rows: { ...state.rows, [list]: count + 1 } } : null;
}

// removeRow takes a row out; the rows behind it move up by one.
export function removeRow(state, list, gone) {
  const rekey = (key, at) => {
    if (at?.list !== list || at.row < gone) return key;
    return at.row === gone ? null : keyOf(list, at.row - 1, at.rest);
  };
  const rows = { ...state.rows, [list]: countRows(state, list) - 1 };
  return { ...state, given: rekeyed(state.given, rekey), units: rekeyed(state.units, rekey), rows };
}

// cutRow copies what a row holds, to be kept for later: {given: {min: "5"}, units: {}}.
export function cutRow(state, list, row) {
  const rekey = (key, at) => (at?.list === list && at.row === row ? at.rest : null);
  return { given: rekeyed(state.given, rekey), units: rekeyed(state.units, rekey) };
}

// putRow writes what cutRow returned into a row, in place of what was there: a unit that was chosen there must not stay beside
// another number.
export function putRow(state, list, row, kept) {
  const others = (texts) => rekeyed(texts, (key, at) => (at?.list === list && at.row === row ? null : key));
  const own = (texts) => rekeyed(texts, (rest) => keyOf(list, row, rest));
  return {
    ...state,
    given: { ...others(state.given), ...own(kept.given) },
    units: { ...others(state.units), ...own(kept.units) },
    rows: { ...state.rows, [list]: Math.max(countRows(state, list), row + 1) },
  };
}

// addFields adds a link's fields, {key: {text, unit}}, to what is there: its rows go behind the rows that are held, those beyond
// the limit are left out; any other field takes the link's text. lists are the names of the form's lists.
export function addFields(state, lists, fields) {
  const out = { ...state, given: { ...state.given }, units: { ...state.units }, rows: { ...state.rows } };
  const behind = Object.fromEntries(lists.map((list) => [list, behindHeld(state, list)]));
  for (const [key, { text, unit }] of Object.entries(fields)) {
    const at = rowOf(key);
    let to = key;
    if (at && at.list in behind) {
      const row = behind[at.list] + at.row;
      if (row >= MOST_ROWS) continue;
      to = keyOf(at.list, row, at.rest);
      out.rows[at.list] = Math.max(out.rows[at.list] ?? 0, row + 1);
    }
    out.given[to] = text;
    if (unit) out.units[to] = unit;
    else delete out.units[to];
  }
  return out;
}

// newRows leaves out of a link's fields the rows that are there already, word for word: what was carried over once is not doubled.
export function newRows(state, fields) {
  const all = Object.entries(fields);
  const inRow = (key) => {
    const { list, row } = rowOf(key);
    return all.map(([k, field]) => ({ ...rowOf(k), ...field })).filter((at) => at.list === list && at.row === row);
  };
  const holds = (list, row) => ({ rest, text, unit }) => {
    const key = keyOf(list, row, rest);
    return state.given[key] === text && (state.units[key] ?? '') === (unit ?? '');
  };
  const there = (key) => [...heldRows(state, rowOf(key).list)].some((row) => inRow(key).every(holds(rowOf(key).list, row)));
  return Object.fromEntries(all.filter(([key]) => !rowOf(key) || !there(key)));
}

// cleared empties fields, groups and lists: all that is under the names given.
export function cleared(state, names) {
  const given = rekeyed(state.given, (key) => (names.includes(key.split('.')[0]) ? null : key));
  const rows = { ...state.rows };
  for (const name of names) if (name in rows) rows[name] = 0;
  return { ...state, given, rows };
}

// passedOn returns a state with what another tool's answer passes on, {key: {text, unit}}: a reading where the list has none of its
// kind yet, any other text where the field is empty. What the tool passed on before, and nobody changed since, follows it: mine(key)
// says so, with "readings.KIND" for a reading; an empty text takes it away again. by is the name of the choice that tells the list's
// rows apart; rows that are put aside (see windings.js) are left alone. It returns {state, kinds}.
export function passedOn(state, list, by, fields, mine) {
  const out = { ...state, given: { ...state.given }, units: { ...state.units }, rows: { ...state.rows } };
  const put = (key, { text, unit }) => {
    out.given[key] = text;
    if (text === '') delete out.given[key];
    if (unit) out.units[key] = unit;
    else delete out.units[key];
  };
  const news = (key, text) => (out.given[key] === undefined ? text !== '' : mine(key) && out.given[key] !== text);
  const isOf = (kind) => (row) => out.given[keyOf(list, row, by)] === kind && !out.given[keyOf(list, row, 'aside')];
  const rowFor = (kind) => [...heldRows(out, list)].find(isOf(kind));
  const kinds = [];
  const readings = {};
  for (const [key, field] of Object.entries(fields)) {
    const at = rowOf(key);
    if (at?.list === list) (readings[at.row] ??= {})[at.rest] = field;
    else if (!at && news(key, field.text)) put(key, field);
  }
  for (const reading of Object.values(readings)) {
    const kind = reading[by]?.text;
    const there = rowFor(kind);
    if (there !== undefined && out.given[keyOf(list, there, 'value')] && !mine(`${list}.${kind}`)) continue;
    const row = there ?? behindHeld(out, list);
    if (kind === undefined || row >= MOST_ROWS) continue;
    const before = JSON.stringify([out.given, out.units]);
    for (const [rest, field] of Object.entries(reading)) put(keyOf(list, row, rest), field);
    out.rows[list] = Math.max(countRows(out, list), row + 1);
    if (JSON.stringify([out.given, out.units]) !== before) kinds.push(kind);
  }
  return { state: out, kinds };
}
