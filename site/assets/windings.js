// One circuit's form for several windings, as pure functions of its state (see state.js). The text "winding" says whose circuit it is; a
// row of "readings" with "aside" was read on the winding named there, and "others" has the specified limits and the code of those. A
// circuit of which nobody has said whose it is has no name.
import { behindHeld, heldRows, removeRow, rowOf } from './rows.js';

const NAMELESS = '#0'; // stands for no name, where a name has to stand
const LIMITS = ['min', 'max', 'at'];
const ROW_APPLIES = 'row_applies'; // a reading of the row of the specification, rather than of the winding

const row = (n, rest) => `readings.${n}.${rest}`;

// put writes a text with its unit; undefined takes it away.
function put(state, key, text, unit) {
  if (text === undefined || text === '') delete state.given[key];
  else state.given[key] = text;
  if (text && unit) state.units[key] = unit;
  else delete state.units[key];
}

const numberOf = (text) => Number(text.replace(',', '.'));
const sameText = (a, b) => a === b || numberOf(a) === numberOf(b);

// sameLimits reports whether two states have the same row of the specification.
function sameLimits(a, b) {
  const usual = { min: '', max: '', at: '20' };
  const text = ({ given }, name) => given[`spec.${name}`] ?? usual[name];
  const unit = ({ units }, name) => units[`spec.${name}`] ?? (name === 'at' ? 'degC' : 'ohm');
  return LIMITS.every((name) => sameText(text(a, name), text(b, name)) && (name === 'max' || unit(a, name) === unit(b, name)));
}

// copyLimits copies limits from one prefix to another.
const copyLimits = (state, from, to) =>
  LIMITS.forEach((name) => put(state, to + name, state.given[from + name], state.units[from + name]));

const isCurrent = (state) => (n) => !state.given[row(n, 'aside')];
const currentRows = (state) => [...heldRows(state, 'readings')].filter(isCurrent(state)).sort((a, b) => a - b);
const rowsOf = (state, name) => [...heldRows(state, 'readings')].filter((n) => state.given[row(n, 'aside')] === name);

// otherOf returns the row of "others" for a name; the first free one if it has none.
function otherOf(state, name) {
  const found = [...heldRows(state, 'others')].find((n) => state.given[`others.${n}.name`] === name);
  return found ?? behindHeld(state, 'others');
}

// isAnother reports whether a circuit without a name is surely another one than the winding that is taken over: the same was read on it,
// and was something else.
function isAnother(state, fields) {
  const read = currentRows(state).map((n) => [state.given[row(n, 'test')], state.given[row(n, 'value')]]);
  return Object.entries(fields).some(([key, { text }]) => {
    const at = rowOf(key);
    const value = at?.rest === 'test' && fields[row(at.row, 'value')]?.text;
    return value && read.some(([test, had]) => test === text && had && !sameText(had, value));
  });
}

// putAside keeps the readings of the winding that the circuit is of, each with the supply and temperature that it was taken at, and its
// limits and code. What the row of the specification says stays where the next winding has the same.
function putAside(state, name, sameRow) {
  const gone = currentRows(state).filter((n) => !(sameRow && state.given[row(n, 'test')] === ROW_APPLIES));
  for (const n of gone) {
    put(state, row(n, 'aside'), name);
    for (const [own, from] of [['supply', 'supply'], ['at', 'winding_temperature']]) {
      if (!state.given[row(n, own)] && state.given[from]) put(state, row(n, own), state.given[from], state.units[from]);
    }
  }
  if (gone.length === 0) return false;
  const to = otherOf(state, name);
  put(state, `others.${to}.name`, name);
  copyLimits(state, 'spec.', `others.${to}.`);
  put(state, `others.${to}.code_kind`, state.given.code_kind);
  state.rows.others = Math.max(state.rows.others ?? 0, to + 1);
  return true;
}

// takeUp brings the readings of a winding back. It reports whether there were any.
function takeUp(state, name) {
  const come = rowsOf(state, name);
  for (const n of come) {
    put(state, row(n, 'aside'));
    for (const [own, from] of [['supply', 'supply'], ['at', 'winding_temperature']]) {
      const same = state.given[row(n, own)] === state.given[from] && state.units[row(n, own)] === state.units[from];
      if (same) put(state, row(n, own));
    }
  }
  return come.length > 0;
}

const copied = (state) => ({ ...state, given: { ...state.given }, units: { ...state.units }, rows: { ...state.rows } });

// withoutAsking returns the fields, {key: {text, unit}}, that another form may pass on to a state where nobody has asked for it: none of
// another winding, and no name to readings that have none.
export function withoutAsking(state, fields) {
  const { winding: own, ...rest } = fields;
  const { winding } = state.given;
  if (!own || own.text === winding) return fields;
  if (winding) return {};
  return currentRows(state).length > 0 ? rest : fields;
}

// nameOf returns what a winding is called; word gives the page's words.
export function nameOf(name, word) {
  if (name === NAMELESS) return word('several.none');
  return /^#\d+$/.test(name) ? word('several.row', name.slice(1)) : name;
}

// turned returns a circuit's state turned to the winding that fields are of, without its readings: {state, from, to}. from is the winding
// whose readings were put aside, undefined if none were.
export function turned(state, fields) {
  const to = fields.winding.text;
  const is = state.given.winding ?? NAMELESS;
  if (to === is) return { state, to };
  let out = copied(state);
  for (const n of currentRows(state).reverse()) if (!state.given[row(n, 'value')]) out = copied(removeRow(out, 'readings', n));
  const known = rowsOf(out, to).length > 0;
  const next = copied(out);
  for (const name of LIMITS) {
    const field = fields[`spec.${name}`];
    if (field) put(next, `spec.${name}`, field.text, field.unit);
  }
  const other = otherOf(out, to);
  const code = out.given[`others.${other}.code_kind`];
  if (known && !fields['spec.min'] && !fields['spec.max']) copyLimits(next, `others.${other}.`, 'spec.');
  let from;
  if (is !== NAMELESS || known || isAnother(out, fields)) {
    if (putAside(out, is, sameLimits(out, next))) from = is;
  }
  if (from || code) put(out, 'code_kind', code); // it names one circuit
  LIMITS.forEach((name) => put(out, `spec.${name}`, next.given[`spec.${name}`], next.units[`spec.${name}`]));
  if (takeUp(out, to) && out.given[`others.${otherOf(out, to)}.name`]) out = copied(removeRow(out, 'others', otherOf(out, to)));
  put(out, 'winding', to === NAMELESS ? undefined : to);
  return { state: out, from, to };
}
