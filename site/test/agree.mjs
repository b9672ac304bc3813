// The same requests through every way in: command line, HTTP, the module of the page, and a link that the module opens. Words must be
// the same, numbers to 1e-12. node site/test/agree.mjs [REQUESTS [SEED]] draws so many over all tools; 20000 if not given.
import { webcrypto } from 'node:crypto';
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { chance } from './chance.mjs';
import { cli, program, repository, runLines } from './program.mjs';
import { same } from './same.mjs';
import { serve } from './browser.mjs';
import { unfolded } from './unpacked.mjs';

globalThis.crypto ??= webcrypto; // Node.js 18 has it, under another name

const MOST = 64 << 10; // bytes of a request, and of a refusal
const AT_ONCE = 100; // requests that the program gets in one run

// startModule starts the page's module as it is delivered.
export async function startModule() {
  program(); // makes the module too, where nothing was made yet
  const built = (name) => join(repository, 'site', 'built', name);
  globalThis.ohmwrightWords = execFileSync(program(), ['words', 'en', '--compiled'], { encoding: 'utf8' });
  await import(pathToFileURL(built('wasm_exec.js')));
  const go = new Go();
  const { instance } = await WebAssembly.instantiate(unfolded(readFileSync(built('ohmwright.packed'))), go.importObject);
  return new Promise((resolve, reject) => {
    globalThis.ohmwrightReady = resolve;
    go.run(instance).then(() => reject(new Error('the module ended')), reject);
  });
}

// vectors are the check values of the tools: [id, tool, request as text].
export function vectors() {
  const directory = join(repository, 'testdata');
  return readdirSync(directory)
    .filter((name) => name.endsWith('.json'))
    .flatMap((name) => JSON.parse(readFileSync(join(directory, name), 'utf8')).vectors)
    .filter((vector) => vector.in.tool)
    .map(({ id, in: { tool, request, text, repeat = [] } }) => {
      let asked = text ?? JSON.stringify(request);
      for (const { mark, piece, join = '', times } of repeat) asked = asked.replace(mark, () => Array(times).fill(piece).join(join));
      return [id, tool, asked];
    });
}

// ---- drawing requests

const isObject = (v) => typeof v === 'object' && v !== null && !Array.isArray(v);

// A Draw draws requests of one tool: its example and check values, changed, and requests made from its schema alone.
class Draw {
  constructor(r, { example, request }, seeds) {
    Object.assign(this, { r, schema: request, seeds: [example, ...seeds] });
  }

  request() {
    const { r } = this;
    const drawn = r.below(8) ? structuredClone(r.of(this.seeds)) : this.value(this.schema);
    for (let n = r.below(5); n > 0; n--) this.change(drawn, this.schema);
    return drawn;
  }

  // change changes one thing in an object of a schema.
  change(o, schema) {
    const { r } = this;
    const names = Object.keys(schema?.properties ?? {});
    const given = Object.keys(o);
    const name = r.below(4) && given.length ? r.of(given) : names.length ? r.of(names) : 'new';
    const inner = schema?.properties?.[name];
    const at = o[name];
    switch (r.below(40)) {
      case 0:
        o[r.of(['odd', 'Reading', ' at', 'specs', 'v', 'x.y', ''])] = structuredClone(r.of(wrong));
        return;
      case 1:
        o[name] = structuredClone(r.of(wrong));
        return;
      case 2:
      case 3:
        delete o[name];
        return;
      case 4: {
        const other = r.of(this.seeds);
        if (isObject(other) && name in other) o[name] = structuredClone(other[name]);
        return;
      }
      default:
        if (isObject(at) && r.below(8)) return this.change(at, inner?.anyOf?.[1] ?? inner);
        if (Array.isArray(at) && at.length && r.below(8)) return this.changeRow(at, inner?.items);
        o[name] = inner && r.below(3) === 0 ? this.value(inner) : this.near(at, inner);
    }
  }

  changeRow(rows, items) {
    const { r } = this;
    const row = r.below(rows.length);
    if (r.below(8) === 0) rows.splice(row, 1);
    else if (r.below(6) === 0) rows.push(structuredClone(rows[row]));
    else if (isObject(rows[row])) this.change(rows[row], items);
  }

  // near returns a value close to another: another number in the same unit, or the same in another one.
  near(v, schema) {
    const { r } = this;
    if (typeof v === 'number') return this.number(v);
    const parts = typeof v === 'string' && /^([-−]?[\d.]+)(\s*)(\D.*)?$/.exec(v);
    if (!parts) return v === undefined && schema ? this.value(schema) : v;
    const unit = schema?.units && r.below(6) === 0 ? r.of(schema.units) : (parts[3] ?? '');
    return `${this.number(Number(parts[1].replace('−', '-')))}${parts[2] || (unit && ' ')}${unit}`;
  }

  number(n) {
    const { r } = this;
    const factor = r.of([0, 0.5, 0.9, 0.99, 1, 1.01, 1.1, 2, 10, -1]);
    return Number((n * factor + (r.below(3) ? 0 : r.below(100) / 100)).toPrecision(1 + r.below(7)));
  }

  // value makes a value from a schema.
  value(s) {
    const { r } = this;
    if (s.anyOf) return this.value(r.of(s.anyOf));
    if (s.enum) return r.of(s.enum);
    const type = Array.isArray(s.type) ? r.of(s.type) : s.type;
    if (type === 'array') return Array.from({ length: r.below(4) }, () => this.value(s.items));
    if (type === 'object') return this.object(s);
    if (type === 'integer') return r.below(Math.min(40, (s.maximum ?? 40) + 1));
    if (type === 'number') return this.number(r.of([s.minimum ?? 0, 1, 5, Math.min(100, s.maximum ?? 100)]));
    if (s.words && r.below(3) === 0) return r.of([...s.words, 'OL']);
    if (s.units) return `${this.number(r.of([1, 5, 12, 20, 45, 88, 300]))} ${r.of(s.units)}`;
    if (s.minimum !== undefined) return String(this.number(r.of([s.minimum, 1, 5])));
    return r.of(s.examples ?? ['a', 'left & right', 'ä b=c?d#e', '5', 'P0750', 'bench 4', '100 %']);
  }

  object(s) {
    const { r } = this;
    const names = Object.keys(s.properties);
    if (s.maxProperties === 1) return this.only(s, [r.of(names)]);
    const rare = 1 + r.below(6);
    return this.only(s, names.filter((name) => s.required.includes(name) || r.below(rare) === 0));
  }

  only(s, names) {
    return Object.fromEntries(names.map((name) => [name, this.value(s.properties[name])]));
  }
}

const wrong = ['', 'x', '5', '5 q', '1,250 ohm', '1e999 ohm', 'OL', 'NaN', '-5 ohm', 7, -1, 0.5, 1e30, true, null, [], {}, [5], { a: 1 }];

// texts returns requests of a tool as texts; now and then one is damaged.
function* texts(r, draw) {
  for (;;) {
    const text = JSON.stringify(draw.request());
    if (text.length > MOST) continue;
    yield r.below(60) ? text : text.slice(0, 1 + r.below(text.length)) + r.of(['', '}', '"', ',', '{"a":']); // an empty line is no request
  }
}

// ---- a request as a link

// flat returns a request as texts under flat keys. It returns null if a link cannot say it: what is no object, holds other than texts and
// numbers, has a list or an object with nothing in it, or a field called v, which in a link is its version.
export function flat(request) {
  const out = [];
  const put = (path, v) => {
    if (typeof v === 'string') out.push([path, v]);
    else if (typeof v === 'number') out.push([path, String(v)]);
    else if (isObject(v) || (Array.isArray(v) && v.every(isObject))) {
      const inside = Object.entries(v);
      if (inside.length === 0 && path !== '') return false;
      return inside.every(([name, w]) => name !== '' && !name.includes('.') && put(path ? `${path}.${name}` : name, w));
    } else return false;
    return true;
  };
  return isObject(request) && !('v' in request) && put('', request) ? out : null;
}

export const linkOf = (tool, pairs) =>
  `#/${tool}?v=1${pairs.map((pair) => `&${pair.map((text) => encodeURIComponent(text.toWellFormed())).join('=')}`).join('')}`;

// nested puts the texts of a form, {key: {text, unit}}, into a request again.
function nested(fields) {
  const root = {};
  for (const [key, { text, unit }] of Object.entries(fields)) {
    const path = key.split('.');
    let at = root;
    for (const name of path.slice(0, -1)) at = at[name] ??= {};
    at[path.at(-1)] = unit ? `${text} ${unit}` : text;
  }
  const listed = (o) => {
    if (!isObject(o)) return o;
    const names = Object.keys(o);
    for (const name of names) o[name] = listed(o[name]);
    return names.length && names.every((name) => /^\d+$/.test(name)) ? names.map(Number).sort((a, b) => a - b).map((n) => o[n]) : o;
  };
  return listed(root);
}

// ---- comparing

const outcomes = ['answered', 'refused', 'by link'];

// A Comparison asks every way in and counts what it saw.
export class Comparison {
  constructor(module, base) {
    Object.assign(this, { module, base, seen: Object.fromEntries(outcomes.map((key) => [key, 0])), faults: [] });
  }

  count() {
    return this.seen.answered + this.seen.refused;
  }

  async compare(tool, requests) {
    const wanted = runLines(tool, requests);
    for (const [i, request] of requests.entries()) {
      try {
        await this.one(tool, request, wanted[i]);
      } catch (e) {
        this.faults.push({ tool, request, said: e.message.split('\n').slice(0, 12).join(' ') });
      }
    }
  }

  async one(tool, request, want) {
    this.seen[want.ok ? 'answered' : 'refused']++;
    assert.notEqual(want.errors?.[0].code, 'program', `${tool}: ${want.errors?.[0].message}`);
    const there = this.module.run(tool, request);
    same(JSON.parse(there), want, `module: ${tool}`);
    const response = await fetch(`${this.base}v1/${tool}`, { method: 'POST', body: request });
    assert.equal(response.status, want.ok ? 200 : 422, 'HTTP: status');
    const body = await response.text();
    same(JSON.parse(body), want, `HTTP: ${tool}`);
    if (!want.ok) assert.ok(Math.max(Buffer.byteLength(there), Buffer.byteLength(body)) <= MOST, `a refusal of ${there.length}`);
    this.byLink(tool, request, want);
  }

  // byLink opens a request's link and asks with what the link says, which is texts: a field for a text takes them, where the command line
  // refuses a number. So a refusal is compared with that of the same request in texts. It must stay one, or something be noted.
  byLink(tool, request, want) {
    const pairs = flat(parsed(request));
    if (!pairs) return;
    // A link to an exercise or a worksheet says how it draws by a name, as each does that is written now: one without is from before there
    // were two ways.
    if ((tool === 'exercise' || tool === 'worksheet') && !pairs.some(([key]) => key === 'drawing')) pairs.push(['drawing', '2']);
    const opened = JSON.parse(this.module.open(linkOf(tool, pairs), 'en', 'en'));
    assert.equal(opened.tool, tool, 'link: the tool');
    const got = JSON.parse(this.module.run(tool, JSON.stringify(nested(opened.fields))));
    if (want.ok) {
      this.seen['by link']++;
      assert.deepEqual(opened.notes, [], 'link: notes');
      same(got, want, `link: ${tool}`);
    } else if (got.ok && opened.notes.length === 0) {
      const texts = nested(Object.fromEntries(pairs.map(([key, text]) => [key, { text }])));
      same(got, JSON.parse(this.module.run(tool, JSON.stringify(texts))), `link: ${tool}, refused elsewhere, and nothing said of it`);
    }
  }
}

// compareAll draws requests over all tools and compares the ways in; said is told how far it is.
export async function compareAll(count, seed, said = () => {}) {
  const module = await startModule();
  const server = await serve();
  const r = chance(seed);
  const comparison = new Comparison(module, server.base);
  const tools = cli('tools').map(({ tool }) => tool);
  try {
    for (const [i, tool] of tools.entries()) {
      const seeds = vectors().map(([, of, text]) => (of === tool && text.length < MOST / 4 ? parsed(text) : null)).filter(isObject);
      const requests = texts(r, new Draw(r, cli('describe', tool), seeds));
      const began = performance.now();
      for (let left = Math.ceil((count - comparison.count()) / (tools.length - i)); left > 0; left -= AT_ONCE) {
        await comparison.compare(tool, Array.from({ length: Math.min(left, AT_ONCE) }, () => requests.next().value));
      }
      const differ = comparison.faults.filter((fault) => fault.tool === tool).length;
      said(`${tool}: ${((performance.now() - began) / 1000).toFixed(0)} s, ${differ} differ`);
    }
  } finally {
    await server.stop();
  }
  return comparison;
}

function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [count = 20_000, seed = 20261127] = process.argv.slice(2).map(Number);
  const { seen, faults } = await compareAll(count, seed, console.log);
  for (const { tool, request, said } of faults.slice(0, 400)) console.log(`DIFFERS ${tool} ${said}\n  ${request.slice(0, 600)}`);
  const goal = `${count} requests, seed ${seed}, the same through command line, HTTP, module and link to 1e-12`;
  console.log(`${JSON.stringify(seen)}\n${faults.length ? 'NOT MET' : 'met'} ${goal}: ${faults.length} differ`);
  process.exit(faults.length ? 1 : 0);
}
