// A technician's steps on a phone, in any language of the site: from the code to the printed record. Fields are found by name, what is
// tapped by the words that stand on it.
import assert from 'node:assert/strict';
import { kept } from './jobs.mjs';
import { paper, tight } from './paper.mjs';
import { field, headText, verdict } from './reader.mjs';

export const home = 'header a:has(#home-name)';

// What a story of one job types into a new one.
export async function begins(thumb, { vehicle, tag, odometer, complaint, who }) {
  await thumb.press('#start', 'page.job.new');
  await thumb.page.waitForFunction(() => document.activeElement?.id === 'job-vehicle');
  for (const [name, text] of Object.entries({ vehicle, tag, odometer, complaint, who })) await thumb.into(`#job-${name}`, text, name);
  await kept(thumb.page);
  await thumb.tap(home);
}

// became waits until the head has a kind of verdict.
async function became(page, kind, why) {
  const has = (kind) => {
    const head = document.querySelector('main > section:not([hidden]) .head').firstElementChild;
    return head && (head.dataset.verdict === kind || head.classList.contains(`v-${kind}`));
  };
  await page.waitForFunction(has, kind).catch(() => {});
  assert.equal(await verdict(page), kind, why);
}

export async function reads(thumb, code, kind) {
  await thumb.press('#start', 'page.door.code');
  await thumb.has('code', 'code', code, 'code');
  await became(thumb.page, kind, `code ${code}: the verdict`);
}

// followed takes the tests that the card asks for, until the page decides. A reading is put in by a key where there is one that says it.
export async function followed(thumb, readings) {
  const { page, speaks } = thumb;
  const taken = [];
  while (['test', 'again'].includes(await verdict(page))) {
    const asked = await page.getAttribute('#circuit .p-next', 'data-test');
    assert.ok(!taken.includes(asked) && taken.length < 12, `the page asks for ${[...taken, asked].join(', ')}`);
    const title = await page.textContent('#circuit .p-next h2');
    assert.ok(title.includes(speaks.say(`circuit.readings.test=${asked}`)), `the card of ${asked} is titled “${title}”`);
    await thumb.tap('#circuit .p-next [data-pick]');
    const path = await page.evaluate(() => document.activeElement.closest('[data-path]')?.dataset.path);
    const key = `#circuit [data-path="${path}"] [data-put="${readings[asked]}"]:visible`;
    const typed = speaks.number(readings[asked]);
    if ((await page.locator(key).count()) > 0) await thumb.tap(key);
    else await thumb.keys(typed, `reading of ${asked}`);
    assert.equal(await page.inputValue(field('circuit', path)), typed, `the reading of ${asked}`);
    taken.push(asked);
  }
  await page.evaluate(() => document.activeElement?.blur());
  return taken;
}

// closed taps, on the handover, that all is done.
export async function closed(thumb) {
  const states = { cleared: 'done', reread: 'clear', relearn: 'not_needed', road_test: 'gone' };
  for (const [name, word] of Object.entries(states)) await thumb.choose(`handover-${name}`, word, `handover.${name}=${word}`);
}

// printed prints the handover on both papers, and checks that it is one page with every reading, name and code.
export async function printed(thumb, texts) {
  const { page, speaks } = thumb;
  await kept(page);
  await page.waitForSelector('#handover-answer .record');
  const cells = '#handover :is(.record :is(th, td), .record-list li)';
  const shown = await page.$$eval(cells, (all) => all.map((e) => e.textContent));
  let raw = '';
  for (const format of ['A4', 'Letter']) {
    const { sheets, text, plain } = await paper(page, format);
    raw += plain;
    assert.equal(sheets, 1, `${format}: pages`);
    for (const one of [...texts, ...shown]) {
      for (const word of one.split(/[\s\u00a0]+/)) assert.ok(text.includes(word), `${format}: “${word}” of “${one}” is not printed`);
    }
    for (const one of texts) assert.ok(text.includes(tight(one)), `${format}: “${one}” is not in one piece`);
    assert.match(text, speaks.pattern('script.job.paper.file'), `${format}: where the job is`);
    assert.match(text, /\w+-\d+\.ohmwright-job\.json/, `${format}: the name of the job’s file`);
    const parts = await page.$$eval('#handover .p-circuit .chain :is(.part-name, .part-chance)', (all) => all.map((e) => e.textContent));
    assert.equal(parts.length, 10, 'the parts of the circuit and their chances');
    for (const one of parts) assert.ok(text.includes(tight(one)), `${format}: the drawing’s ${one} is not printed`);
  }
  return raw;
}

// ---- the whole of story one: code low, a hot reading, two rows, a known good part, a part that costs 700

// condemned goes from the code to the judged winding.
async function condemned(thumb, { readings, rows }) {
  const { page, speaks } = thumb;
  const number = (text) => speaks.number(text);
  await reads(thumb, 'P0962', 'low');
  await thumb.tap(home);
  await thumb.press('#start', 'page.door.reading');
  await thumb.press('#start .choices', 'page.door.winding');
  await thumb.has('winding', 'reading', number(readings.resistance_component), 'reading of resistance_component');
  await thumb.has('winding', 'at', '88', 'temperature');
  await thumb.choose('winding-measured_at', 'component_connector', 'winding.measured_at=component_connector');
  const typed = { '0.name': rows[0], '0.min': '2.4', '0.max': '3.0', '1.name': rows[1], '1.min': '5.0', '1.max': '5.6' };
  for (const [path, text] of Object.entries(typed)) {
    if ((await page.locator(field('winding', `specs.${path}`)).count()) === 0) await thumb.tap('#winding [data-do="add"]:visible');
    await thumb.has('winding', `specs.${path}`, path.endsWith('name') ? text : number(text), `row ${path}`);
  }
  await became(page, 'rows_disagree', 'two rows, two answers');
  assert.ok((await headText(page)).includes(speaks.say('winding.word.rows_disagree')), await headText(page));
  await thumb.has('winding', 'known_good.reading', number('5.3'), 'reading of the good part');
  await thumb.has('winding', 'known_good.at', '22', 'temperature of the good part');
  await kept(page);
}

// decides goes from the judged winding to the decision.
async function decides(thumb, { readings }) {
  const { page, speaks } = thumb;
  const number = (text) => speaks.number(text);
  await thumb.press('#winding', 'sheet.carry');
  await page.waitForSelector('#circuit:not([hidden])');
  await thumb.has('circuit', 'spec.min', number('5.0'), 'row 1.min');
  await thumb.has('circuit', 'spec.max', number('5.6'), 'row 1.max');
  const rows = page.locator('#circuit .spec-rows button');
  assert.deepEqual(await rows.evaluateAll((all) => all.map((b) => b.ariaPressed)), ['false', 'true'], 'the row that the good part settled');
  await thumb.has('circuit', 'winding_temperature', '88', 'temperature');
  await thumb.has('circuit', 'readings.0.value', number(readings.resistance_component), 'reading of resistance_component');
  await thumb.choose('circuit-side', 'high', 'bench.side=high');
  await thumb.choose('circuit-return', 'case', 'circuit.return=case');
  await thumb.has('circuit', 'supply', number('13.8'), 'supply');
  const taken = await followed(thumb, readings);
  await thumb.tap('#circuit .p-repairs [data-go="costs.wrong.component"]');
  await thumb.has('circuit', 'costs.wrong.component', '700', 'price');
  taken.push(...(await followed(thumb, readings)));
  assert.ok(taken.includes('winding_temperature'), `looked at: ${taken.join(', ')}`);
  assert.ok(!taken.includes('row_applies'), 'the good part has settled which row applies');
  const settled = speaks.say('circuit.reading.settled', speaks.say('circuit.readings.test=row_applies'));
  assert.ok((await page.textContent('#circuit-answer')).includes(settled), `the answer says “${settled}”`);
  const said = await headText(page);
  assert.ok(said.startsWith(speaks.say('circuit.do.component')), said);
  return taken;
}

// handsOver goes from the decision by the torque to the handover, and fills in what only its reader knows.
async function handsOver(thumb, { facts, work }) {
  const { page, speaks } = thumb;
  await thumb.press('#circuit', 'circuit.sheet.back');
  await thumb.has('torque', 'torque', '8', 'torque');
  await thumb.press('#torque', 'torque.sheet.handover');
  await page.waitForSelector('#handover:not([hidden])');
  for (const fact of [...Object.keys(facts), 'code', 'supply']) await thumb.has('handover', fact, '', fact);
  await thumb.has('handover', 'torques.0.set', '', 'torque');
  const typed = {
    repair: work.repair,
    'parts.0.name': work.part,
    'bolts.0.length': '20',
    'bolts.0.off': '14',
    'bolts.0.on': '14',
    'torques.0.of': work.bolts,
    'new_part.reading': speaks.number('5.2'),
    'new_part.at': '21',
    fluid: work.fluid,
    date: work.date,
  };
  for (const [path, text] of Object.entries(typed)) await thumb.has('handover', path, text, `handover ${path}`);
  await closed(thumb);
}

// rowsPrinted is what the record says of the specification.
const rowsPrinted = (speaks) => {
  const row = (min, max) => speaks.say('handover.judge.between', `${speaks.number(min)} Ω`, `${speaks.number(max)} Ω`);
  return [row('2.4', '3.0'), speaks.say('handover.judge.settled', speaks.say('handover.judge.at', row('5.0', '5.6'), '20 °C'))];
};

// condemnedToPaper is the whole story, from the first tap to the printed page; see is called with what to see in each tool on the way. It
// returns the tests taken, and the printed text.
export async function condemnedToPaper(thumb, story, see = async () => {}) {
  const { page, speaks } = thumb;
  await begins(thumb, story.facts);
  await condemned(thumb, story);
  await see('winding');
  const taken = await decides(thumb, story);
  await see('circuit');
  const decided = thumb.figures;
  await handsOver(thumb, story);
  await see('handover');
  const numbers = ['3.5', '5.3', '88', '13.8', '5.2'].map((text) => speaks.number(text));
  const overtaken = speaks.say('handover.taken_over', '', speaks.say('circuit.readings.test=resistance_component'));
  const texts = [...Object.values(story.facts), 'P0962', ...numbers, story.work.part, story.work.bolts];
  const text = await printed(thumb, texts);
  const record = await page.textContent('#handover-answer');
  for (const one of [...rowsPrinted(speaks), overtaken]) assert.ok(tight(record).includes(tight(one)), `the record should say “${one}”`);
  const lines = await page.$$(`#handover .record tbody tr:has-text("${numbers[0]}")`);
  assert.equal(lines.length, 1, 'one measurement is one line');
  assert.doesNotMatch(await page.textContent('#handover .p-concluded'), /8 N·m/, 'a torque is no conclusion');
  const work = await page.textContent('#handover .p-work');
  assert.match(work, new RegExp(`${story.work.bolts}8\\sN·m, LM.*8\\sN·m, \\d{4}-`), 'it stands under the work');
  return { taken, decided, text };
}
