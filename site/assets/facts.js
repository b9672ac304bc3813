// The facts of a job and the fields of the forms, as pure functions: nothing here touches the page or the device.
//
// A form's state (see state.js) is taken apart: what is a fact of the job goes to the job's facts, the rest stays with the form. A
// use says which fact a field, group or list of a form is:
//   {path: "at", fact: "winding_temperature", takes: false, units: {"": {usual: "degC", offered: ["degC", "degF"]}}}
// units has the units of each field in it by the rest of its key, with # for the number of a row. A field that takes a fact and never
// gives it back keeps what is entered there with the form, and follows the fact until then; one that yields is not filled in while
// the field named is.
import { heldRows } from './rows.js';
import { joined } from './state.js';

const MAPS = ['given', 'units', 'names', 'rows'];

// diff returns what changed between two states: {given: {key: text or null}, units, names, rows, open}; only what did.
export function diff(before, after) {
  const change = {};
  for (const map of MAPS) {
    const part = {};
    for (const key of Object.keys({ ...before[map], ...after[map] })) {
      if (before[map]?.[key] !== after[map]?.[key]) part[key] = after[map]?.[key] ?? null;
    }
    if (Object.keys(part).length > 0) change[map] = part;
  }
  if (JSON.stringify(before.open) !== JSON.stringify(after.open)) change.open = after.open;
  return change;
}

// patch returns a state, or facts, with a change made.
export function patch(state, change) {
  const out = { ...state };
  for (const [map, part] of Object.entries(change)) {
    if (map === 'open') {
      out.open = part;
      continue;
    }
    out[map] = { ...out[map], ...part };
    for (const key in part) if (part[key] === null) delete out[map][key];
  }
  return out;
}

// merged puts into a state what changed elsewhere from before to after. What was changed here as well stays as it is here: a text with
// its unit is one thing. It returns {state, both, gone}: both has the keys that stayed, gone those whose text gave way to another.
export function merged(state, before, after) {
  const change = diff(before, after);
  delete change.open;
  const both = [];
  const gone = [];
  const of = (from, maps, key) => JSON.stringify(maps.map((map) => from[map]?.[key] ?? null));
  for (const maps of [['given', 'units', 'names'], ['rows']]) {
    for (const key of Object.keys(Object.assign({}, ...maps.map((map) => change[map])))) {
      const own = of(state, maps, key);
      if (own !== of(after, maps, key) && own !== of(before, maps, key)) {
        for (const map of maps) delete change[map]?.[key];
        if (maps.length > 1) both.push(key);
      } else if (state.given[key] !== undefined && state.given[key] !== after.given?.[key] && maps.length > 1) gone.push(key);
    }
  }
  return { state: patch(state, change), both, gone };
}

export const isNothing = (change) => Object.keys(change).length === 0;

// restOf returns what is left of a key below a name: "" for the name itself, ".min" for what is in it, null for any other key.
const restOf = (key, name) => (key === name ? '' : key.startsWith(`${name}.`) ? key.slice(name.length) : null);
export const isIn = (key, name) => restOf(key, name) !== null;

// hasAny reports whether texts by key have one under a name.
export const hasAny = (texts, name) => Object.keys(texts).some((key) => isIn(key, name));

const unitsOf = (use, rest) => use.units?.[rest.replace(/^\./, '').replace(/\b\d+\b/g, '#')];

// What a reading is taken at. A form that has readings keeps it for them when another form says something else: see keptAt.
const TAKEN_AT = ['supply', 'supply_within', 'winding_temperature', 'winding_temperature_within'];
export const isTakenAt = ({ fact }) => TAKEN_AT.includes(fact);

// isApart reports whether a form keeps a fact for itself where it differs: it only takes it, it may have readings that were taken at
// something else, or its circuit is that of one of several windings, which has limits of its own.
const isApart = (use, { winding }) => use.takes || isTakenAt(use) || (use.fact === 'spec' && Boolean(winding));

// assemble returns the state of a form in a job: its own part with the facts put in.
export function assemble(uses, facts, own) {
  const state = { ...own };
  for (const map of MAPS) state[map] = { ...own[map] };
  for (const use of uses) {
    if (use.yields && own.given[use.yields]) continue; // something else stands there in its place
    const apart = isApart(use, own.given);
    for (const factKey of Object.keys({ ...facts.given, ...facts.units })) {
      const rest = restOf(factKey, use.fact);
      if (rest === null || (apart && use.path + rest in own.given)) continue;
      put(state, use, rest, facts.given[factKey], facts.units[factKey]);
    }
    if (use.fact in facts.rows) state.rows[use.path] = facts.rows[use.fact];
    for (const key in state.given) if (apart && isIn(key, use.path) && state.given[key] === '') delete state.given[key];
  }
  return state;
}

// put writes a fact into a state. A unit that the form does not offer stays with the text.
function put(state, use, rest, text, unit) {
  const key = use.path + rest;
  const units = unitsOf(use, rest);
  const offered = unit === undefined || (units?.offered.includes(unit) ?? false);
  if (text !== undefined) state.given[key] = offered ? text : joined(text, unit);
  delete state.units[key];
  if (offered && unit !== undefined && unit !== units.usual) state.units[key] = unit;
}

// route sorts what changed in a form: {facts, own, from}. after is the form's state with the change made, facts those of the job
// before it, own what the form itself kept of them; from names the facts that changed.
export function route(uses, change, after, facts, own = {}) {
  const out = { facts: {}, own: {}, from: [] };
  const add = (part, map, key, to) => ((part[map] ??= {})[key] = to);
  const turns = 'winding' in (change.given ?? {});
  for (const map of MAPS) {
    for (const [key, to] of Object.entries(change[map] ?? {})) {
      const use = uses.find(({ path }) => isIn(key, path));
      if (!use || map === 'names' || (use.yields && after.given[use.yields])) {
        add(out.own, map, key, to);
        continue;
      }
      const held = use.fact === 'spec' && (turns || hasAny(facts.given, use.fact));
      const apart = isApart(use, after.given) && (use.takes || key in own || held);
      if (apart) {
        keepOwn(use, key, after, facts, (in_, value) => add(out.own, in_, key, value));
        continue;
      }
      const rest = restOf(key, use.path);
      const factKey = use.fact + rest;
      if (key in own) for (const part of ['given', 'units']) add(out.own, part, key, null);
      if (!out.from.includes(use.fact)) out.from.push(use.fact);
      if (map === 'rows') {
        add(out.facts, map, factKey, to);
        continue;
      }
      add(out.facts, 'given', factKey, after.given[key] ?? null);
      const usual = after.given[key] === undefined ? null : (unitsOf(use, rest)?.usual ?? null);
      add(out.facts, 'units', factKey, after.units[key] ?? usual);
    }
  }
  if (change.open) out.own.open = change.open;
  return out;
}

// keepOwn writes what was entered in a field that only takes a fact. Where it is what the fact says, the field follows it again; ""
// stands for a field that was emptied.
function keepOwn(use, key, after, facts, write) {
  const followed = assemble([use], facts, { given: {}, units: {}, names: {}, rows: {}, open: [] });
  const same = followed.given[key] === after.given[key] && followed.units[key] === after.units[key];
  const has = key in followed.given || key in followed.units;
  write('given', same ? null : (after.given[key] ?? (has ? '' : null)));
  write('units', same ? null : (after.units[key] ?? null));
}

// keptAt returns what a form has to keep for its readings before the facts change: what they were taken at until then, with "" for what
// nobody had said. driven: they were taken at a supply. null: nothing.
export function keptAt(uses, facts, change, driven, own = {}) {
  const kept = { given: {}, units: {} };
  for (const use of uses.filter((one) => isTakenAt(one) && !one.takes && one.fact in (change.given ?? {}) && !(one.path in own))) {
    if (!driven && use.fact.startsWith('supply')) continue;
    kept.given[use.path] = '';
    put(kept, use, '', facts.given[use.fact], facts.units[use.fact]);
  }
  return isNothing(kept.given) ? null : kept;
}

// ---- the rows of a specification, and the one that applies

const LIMITS = ['min', 'max', 'at'];

// limitsAt returns what stands under a prefix, as the facts "spec" hold it: {given: {"spec.min": "5.0"}, units}.
function limitsAt(facts, prefix) {
  const out = { given: {}, units: {} };
  for (const name of LIMITS) {
    const key = `${prefix}.${name}`;
    if (facts.given[key] !== undefined) out.given[`spec.${name}`] = facts.given[key];
    if (facts.given[key] !== undefined && facts.units[key] !== undefined) out.units[`spec.${name}`] = facts.units[key];
  }
  return out;
}

const plainNumber = (text) => (/^\s*\d+([.,]\d+)?\s*$/.test(text ?? '') ? Number(text.replace(',', '.')) : NaN);

// limitsOf returns the limits of a row: as they stand, or from a nominal figure with a tolerance in per cent.
function limitsOf(facts, row) {
  const at = `specs.${row}`;
  const limits = limitsAt(facts, at);
  const nominal = plainNumber(facts.given[`${at}.nominal`]);
  const share = (facts.units[`${at}.tolerance`] ?? '%') === '%' ? plainNumber(facts.given[`${at}.tolerance`]) / 100 : NaN;
  if (limits.given['spec.min'] || limits.given['spec.max'] || !(nominal > 0) || !(share >= 0)) return limits;
  const text = (n) => String(Number(n.toPrecision(6)));
  limits.given['spec.min'] = text(nominal * (1 - share));
  limits.given['spec.max'] = text(nominal * (1 + share));
  limits.units['spec.min'] = facts.units[`${at}.nominal`] ?? 'ohm';
  return limits;
}

// asKey returns the same for limits that are the same: a temperature that was left out is 20 °C.
function asKey({ given, units }) {
  if (!given['spec.min'] && !given['spec.max'] && !given['spec.at']) return '';
  const at = given['spec.at'] ? [given['spec.at'], units['spec.at']] : ['20', 'degC'];
  return JSON.stringify([given['spec.min'] ?? '', given['spec.max'] ?? '', units['spec.min'], ...at]);
}

const isEmpty = (limits) => Object.keys(limits.given).length === 0;

// specRows returns the rows that can apply, [{row, name, limits, applies}]: those with both limits, which hold at one temperature.
export function specRows(facts) {
  const spec = asKey(limitsAt(facts, 'spec'));
  const rows = [...heldRows(facts, 'specs')].sort((a, b) => a - b).map((row) => ({ row, name: facts.given[`specs.${row}.name`] ?? '' }));
  return rows
    .map(({ row, name }) => ({ row, name, limits: limitsOf(facts, row) }))
    .filter(({ limits }) => limits.given['spec.min'] && limits.given['spec.max'])
    .filter(({ row }) => !facts.given[`specs.${row}.valid_from`] && !facts.given[`specs.${row}.valid_to`])
    .map((one) => ({ ...one, applies: asKey(one.limits) === spec }));
}

// setLimits returns facts with other limits under a prefix.
function setLimits(facts, prefix, limits) {
  const change = { given: {}, units: {} };
  for (const name of LIMITS) {
    change.given[`${prefix}.${name}`] = limits.given[`spec.${name}`] ?? null;
    change.units[`${prefix}.${name}`] = limits.units[`spec.${name}`] ?? null;
  }
  return patch(facts, change);
}

const NONE = { given: {}, units: {} };

// settleSpec keeps the rows and the row that applies together, after a change. A single row applies by itself; a row that applies and
// is edited still does; a second row beside one that was taken by itself asks which. Limits that are entered where there is no other
// row are that row.
export function settleSpec(before, after) {
  const was = limitsAt(before, 'spec');
  const is = limitsAt(after, 'spec');
  const held = [...heldRows(after, 'specs')];
  if (asKey(was) !== asKey(is)) {
    const alone = held.length === 0 || (held.length === 1 && held[0] === 0 && asKey(limitsOf(before, 0)) === asKey(was));
    if (!alone) return after;
    const out = setLimits(after, 'specs.0', is);
    const from = after.from.specs ?? after.from.spec;
    return from ? { ...out, from: { ...out.from, specs: from } } : out;
  }
  const mirrored = [...heldRows(before, 'specs')].find((row) => asKey(limitsOf(before, row)) === asKey(was));
  const takeRow = (row) => {
    const out = setLimits(after, 'spec', row === undefined ? NONE : limitsOf(after, row));
    const { spec, ...others } = out.from;
    return { ...out, from: row === undefined ? others : { ...others, spec: out.from.specs ?? spec } };
  };
  if (held.length === 1 && (isEmpty(was) || mirrored !== undefined)) {
    return asKey(limitsOf(after, held[0])) === asKey(is) ? after : takeRow(held[0]);
  }
  if (isEmpty(was) || mirrored === undefined) return after;
  if (specRows(after).length > 1 && specRows(before).length <= 1 && before.from.spec === before.from.specs) return takeRow();
  return asKey(limitsOf(after, mirrored)) === asKey(is) || held.some((row) => asKey(limitsOf(after, row)) === asKey(is))
    ? after
    : takeRow(held.includes(mirrored) ? mirrored : undefined);
}

// partedIn returns the marks of readings that were handed on by another tool, and are changed here by hand.
export function partedIn(job, change, before, after) {
  const parted = [];
  for (const key of Object.keys(change.given ?? {})) {
    const [list, row, name] = key.split('.');
    if (list !== 'readings' || name !== 'value') continue;
    for (const state of [before, after]) {
      const mark = `readings.${state.given[`readings.${row}.test`]}`;
      if (mark in job.facts.from && !parted.includes(mark)) parted.push(mark);
    }
  }
  return parted;
}
