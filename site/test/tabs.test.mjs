// Windows on one form whose words to each other come late, without a browser: node --test site/test/tabs.test.mjs
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { diff, isNothing, merged, patch } from '../assets/facts.js';
import { Keep } from '../assets/keep.js';
import { emptyForm, readForm, Store } from '../assets/state.js';
import { Tabs } from '../assets/tabs.js';
import { chance } from './chance.mjs';

const LATE = 3000; // milliseconds at most until a window hears of another
const TOOL = 'winding';

// World has what windows share: a storage, and what is on its way from one to another, each in the order in which it was sent.
class World {
  constructor(draw) {
    Object.assign(this, { draw, kept: new Map(), windows: [], ears: [], writes: 0 });
    this.storage = { getItem: (key) => this.kept.get(key) ?? null, setItem: (key, text) => this.put(key, text) };
    globalThis.document = { body: { dataset: {} } };
  }
  put(key, text) {
    this.writes++;
    this.kept.set(key, text);
    for (const { own, tell } of this.windows) if (own !== this.acting) this.later(own, 'storage', () => tell({ key }));
  }
  // later does something after a while, and not before what was to be done there in the same way earlier.
  later(own, kind, act) {
    const due = Math.max(Date.now() + this.draw.below(LATE), (own.due[kind] ?? 0) + 1);
    own.due[kind] = due;
    setTimeout(() => this.as(own, act), due - Date.now());
  }
  as(own, act) {
    const before = this.acting;
    this.acting = own;
    act();
    this.acting = before;
  }
  open() {
    const world = this;
    const own = { due: {}, said: [] };
    globalThis.window = { addEventListener: (name, tell) => world.windows.push({ own, tell }) };
    globalThis.BroadcastChannel = class {
      addEventListener(name, tell) {
        world.ears.push({ own, tell });
      }
      postMessage(data) {
        for (const ear of world.ears) if (ear.own !== own) world.later(ear.own, 'word', () => ear.tell({ data }));
      }
    };
    this.as(own, () => (own.form = formIn(this, own)));
    return own;
  }
}

// visited has windows that came and went before: each typed something, and is known from what is kept alone.
function visited(world, count, pass) {
  for (let visit = 0; visit < count; visit++) {
    world.open().form.type('earlier', String(visit));
    pass(1000);
    world.windows = [];
    world.ears = [];
  }
  return count > 0 ? { earlier: String(count - 1) } : {};
}

// formIn is a form as Tabs sees it: it holds a state, which is kept and taken in as form.js does.
function formIn(world, own) {
  const store = new Store(() => world.storage);
  const keep = new Keep(store, () => {}, () => {});
  const form = { tool: TOOL, fields: { files: () => [], at: () => undefined }, settle() {} };
  const say = (text) => own.said.push(text);
  const word = (...words) => words.join(' ');
  const hooks = { store, keep, say, tell: say, word, jobs: { holds: () => false }, shelves: { read: () => false } };
  const tabs = new Tabs({ ...hooks, formMade: () => form });
  const save = (before) => (tabs.tell(form, before), tabs.save(form, []));
  form.last = keep.loadForm(TOOL, []);
  form.saveAgain = () => save(form.last);
  form.takeIn = (before, after) => {
    const { state, both, gone } = merged(form.last, before, after);
    form.last = state;
    return { both, gone };
  };
  form.type = (key, text) => {
    const before = form.last;
    form.last = patch(before, { given: { [key]: text } });
    world.as(own, () => save(before));
  };
  return form;
}

const RUNS = 300;
const seed = 1 + Math.floor(Math.random() * 1e6);

test(`what each types in places of its own is everywhere in the end: ${RUNS} runs, seed ${seed}`, (t) => {
  t.mock.timers.enable({ apis: ['setTimeout', 'Date'] });
  const draw = chance(seed);
  const pass = (time) => {
    for (let gone = 0; gone < time; gone += 25) t.mock.timers.tick(Math.min(25, time - gone)); // what is begun in a step begins at its end
  };
  const oneIn = (n) => draw.below(n) === 0;
  for (let run = 0; run < RUNS; run++) {
    const world = new World(draw);
    const typed = visited(world, [0, 12, 50][run % 3], pass);
    const all = [world.open()];
    for (let step = 0; step < 40; step++) {
      if (all.length < 3 && oneIn(10)) all.push(world.open());
      const of = draw.below(all.length);
      const key = `own_${'abc'[of]}.${draw.below(3)}`;
      const was = all[of].form.last.given[key] ?? '';
      typed[key] = was.length > 3 && oneIn(3) ? was.slice(0, -1) : was + draw.below(10);
      all[of].form.type(key, typed[key]);
      pass(1);
      if (oneIn(5)) all[of].form.type('shared', String(draw.below(100)));
      pass(1 + draw.below(oneIn(5) ? 2 * LATE : 200));
    }
    pass(20 * LATE);
    const last = world.writes;
    pass(2 * LATE);
    assert.equal(world.writes, last, `run ${run}: it comes to rest`);
    const what = `run ${run}, ${all.length} windows`;
    const wrong = all.flatMap(({ said }) => said).filter((text) => /^tabs.both/.test(text) && !/^tabs.both shared /.test(text));
    assert.deepEqual(wrong, [], `what both are said to have typed, ${what}`);
    const own = ({ given: { shared, ...rest } }) => rest;
    for (const { form } of all) assert.deepEqual(own(form.last), typed, what);
    const kept = readForm(world.storage.getItem(`ohmwright/${TOOL}`)).form;
    assert.deepEqual(own(kept), typed, `kept, ${what}`);
    assert.ok(all.some(({ form }) => isNothing(diff({ ...emptyForm(), ...kept }, form.last))), `what is kept is what one shows, ${what}`);
  }
});
