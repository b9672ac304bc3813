// The circuit question: bad input, too many readings, and readings that no single fault explains.
// node --test site/test/page-circuit-faults.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { asRequest, chances, choice, filled, given, looked, point, withReadings } from './circuit.mjs';
import { run } from './program.mjs';
import { answered, beside, codes, expected, field, focused, headText, note, openCard, reload, says, type, verdict } from './reader.mjs';

useBrowser();

// ---- bad input

scene(
  'volts typed where ohms are read, OL where volts are: told beside the field, the rest answered',
  { at: `${filled}${withReadings([['current_on', '4.35A']])}` },
  async (page) => {
    const [before, counted] = [await verdict(page), await chances(page)];
    await page.tap(point('resistance_unit'));
    await page.keyboard.type('12 V');
    const list = [
      ['current_on', '4.35 A'],
      ['resistance_unit', '12 V'],
    ];
    await beside(page, 'circuit', 'readings.1.value', 'unit', { ...given, ...asRequest(list) });
    assert.match(await note(page, 'circuit', 'readings.1.value'), /resistance/);
    assert.equal(await page.inputValue(field('circuit', 'readings.1.value')), '12 V', 'circuit, field readings.1.value: what stands in it');
    assert.equal(await answered(page), true, 'circuit: the form should be answered');
    assert.equal(await verdict(page), before, 'circuit: the verdict');
    assert.deepEqual(await chances(page), counted, 'the bad reading does not count');
    await page.tap(point('voltage_pin_on'));
    await page.keyboard.type('OL');
    list.push(['voltage_pin_on', 'OL']);
    await beside(page, 'circuit', 'readings.2.value', 'unit', { ...given, ...asRequest(list) });
    assert.match(await note(page, 'circuit', 'readings.2.value'), /OL.*voltage/);
    assert.equal(await answered(page), true, 'circuit: the form should be answered');
    assert.deepEqual(await chances(page), counted, 'circuit: the chances of the parts');
    // What was left out is named in the answer, as the page names it.
    const left = await page.textContent('#circuit .left-out');
    assert.match(left, /Ohms at the unit's plug|row 2/);
    await reload(page);
    assert.equal(await page.inputValue(field('circuit', 'readings.1.value')), '12 V', 'circuit, field readings.1.value: what stands in it');
    assert.equal(await page.inputValue(field('circuit', 'readings.2.value')), 'OL', 'circuit, field readings.2.value: what stands in it');
  },
);

scene(
  'what was left out is named as the card is named: cards have no numbers',
  {
    at: `${filled}${withReadings([
      ['current_on', '4.35A'],
      ['resistance_unit', 'abc'],
    ])}`,
  },
  async (page) => {
    assert.match(await page.textContent('#circuit .left-out'), /Ohms at the unit's plug/);
  },
);

scene(
  'a test that the circuit does not have is told where it is seen',
  { at: '#/circuit?v=1&side=high&supply=13.8V&spec.min=5.0ohm&spec.max=5.6ohm' },
  async (page) => {
    await page.tap(point('insulation_component'));
    await page.tap('#circuit .card [data-put="OL"]');
    assert.equal(await answered(page), true, 'circuit: the form should be answered');
    await page.tap(point('current_on'));
    await page.keyboard.type('2.40');
    await choice(page, 'return', 'case');
    const list = [
      ['insulation_component', 'OL'],
      ['current_on', '2.40 A'],
    ];
    const { notes } = await expected(page, 'circuit', {
      side: 'high',
      return: 'case',
      supply: '13.8 V',
      'spec.min': '5.0 ohm',
      'spec.max': '5.6 ohm',
      ...asRequest(list),
    });
    const [field, [code, text]] = Object.entries(notes).find(([k]) => k.startsWith('readings.0'));
    assert.equal(code, 'conflict', field);
    assert.equal(await answered(page), true, 'the other reading is answered');
    assert.equal(await page.inputValue('[id="circuit-readings.0.value"]'), 'OL', 'nothing is lost');
    const told = page.locator('#circuit .card[data-row="0"]').getByText(text.slice(0, 40));
    assert.ok((await told.count()) > 0 && (await told.first().isVisible()), 'the message is not seen in its card');
    await choice(page, 'return', 'wire');
    assert.equal(await page.locator('#circuit .left-out').count(), 0, 'circuit: #circuit .left-out: how many there are');
  },
);

scene('low side and case cannot both be', { at: filled }, async (page) => {
  await choice(page, 'side', 'low');
  const { notes } = await expected(page, 'circuit', { ...given, side: 'low' });
  assert.equal(notes.return[0], 'conflict');
  assert.equal(await note(page, 'circuit', 'return'), notes.return[1], 'circuit, field return: what is told beside it');
  assert.ok(await page.isVisible('[id="circuit-return-note"]'), 'circuit: [id="circuit-return-note"]: should be seen');
  assert.equal(await answered(page), false, 'circuit: the form should not be answered');
  await choice(page, 'return', 'wire');
  assert.equal(await answered(page), true, 'circuit: the form should be answered');
});

scene(
  'two readings of one test: both are shown, the later counts',
  { at: `${filled}${withReadings([['resistance_component', '5.2ohm']])}` },
  async (page) => {
    await openCard(page, page.locator('#circuit .card'));
    await page.tap('#circuit .card [data-do="again"]');
    await page.keyboard.type('2.8');
    const once = await expected(page, 'circuit', { ...given, ...asRequest([['resistance_component', '2.8 ohm']]) });
    assert.equal(await headText(page), once.head, 'circuit: the head of the answer');
    const list = await page.$$eval('#circuit-answer .p-readings li', (all) =>
      all.map((li) => [li.classList.contains('superseded'), li.textContent]),
    );
    assert.equal(list.length, 2);
    assert.deepEqual(
      list.map(([old]) => old),
      [true, false],
    );
    assert.match(list[0][1], /5\.2/);
    assert.match(list[1][1], /2\.8/);
    assert.ok((await codes(page)).includes('superseded'), 'circuit: the warnings shown');
    assert.match(await page.textContent(point('resistance_component')), /2\.8/);
  },
);

scene('a specification that is missing, a supply of 0, costs below zero', { at: '#/circuit?v=1&side=high&supply=13.8V' }, async (page) => {
  assert.equal(await answered(page), false, 'circuit: the form should not be answered');
  assert.match(await headText(page), /Specified winding/);
  await type(page, 'circuit', 'spec.min', '5.0');
  assert.match(await headText(page), /Maximum|Specified winding/);
  await type(page, 'circuit', 'spec.max', '4.0');
  await beside(page, 'circuit', 'spec.min', 'conflict', { side: 'high', supply: '13.8 V', 'spec.min': '5.0 ohm', 'spec.max': '4.0 ohm' });
  await type(page, 'circuit', 'spec.max', '5.6');
  assert.equal(await answered(page), true, 'circuit: the form should be answered');
  await type(page, 'circuit', 'supply', '0');
  await beside(page, 'circuit', 'supply', 'range', { side: 'high', supply: '0 V', 'spec.min': '5.0 ohm', 'spec.max': '5.6 ohm' });
  assert.equal(await answered(page), false, 'circuit: the form should not be answered');
  await type(page, 'circuit', 'supply', '13.8');
  const head = await headText(page);
  const good = { side: 'high', supply: '13.8 V', 'spec.min': '5.0 ohm', 'spec.max': '5.6 ohm' };
  await type(page, 'circuit', 'costs.hour', '-5');
  await beside(page, 'circuit', 'costs.hour', 'range', { ...good, 'costs.hour': '-5' });
  await type(page, 'circuit', 'costs.wrong.component', '-1');
  await beside(page, 'circuit', 'costs.wrong.component', 'range', { ...good, 'costs.hour': '-5', 'costs.wrong.component': '-1' });
  assert.equal(await answered(page), true, 'without the costs the rest is answered');
  assert.equal(await headText(page), head, 'circuit: the head of the answer');
  assert.match(await page.textContent('#circuit .left-out'), /Costs/);
  for (const [path, text] of [
    ['costs.hour', '-5'],
    ['costs.wrong.component', '-1'],
    ['spec.max', '5.6'],
  ])
    assert.equal(await page.inputValue(field('circuit', path)), text, `circuit, field ${path}: what stands in it`);
});

scene('what is said of a missing specification has no example that is none', { at: '#/circuit' }, async (page) => {
  const { notes } = await expected(page, 'circuit', { side: 'high', supply: '13.8 V' });
  assert.equal(notes.spec[0], 'missing');
  assert.doesNotMatch(notes.spec[1], /example …/);
});

scene('a fresh form tells of no fault', { at: '#/circuit' }, async (page) => {
  const told = await page.$$eval('#circuit .note, #circuit .form-notes li', (all) => all.map((p) => p.textContent).filter(Boolean));
  assert.deepEqual(told, []);
});

scene(
  'a reading that came without its unit has one chosen that is seen',
  { at: `${filled}&readings.0.test=current_on&readings.0.value=4.35` },
  async (page) => {
    const units = page.locator('#circuit .card .f-reading .units label:not([hidden]) input');
    const shown = await units.evaluateAll((all) => all.map((r) => [r.value, r.checked]));
    assert.deepEqual(
      shown,
      [
        ['A', true],
        ['mA', false],
      ],
      `and it says: ${await note(page, 'circuit', 'readings.0.value')}`,
    );
  },
);

const many = (n) => `${filled}${withReadings(Array.from({ length: n }, (_, i) => ['current_on', `4.${10 + (i % 90)}A`]))}`;

scene('200 readings by a link: answered, told, usable', { at: many(200) }, async (page) => {
  assert.equal(await page.locator('#circuit .card').count(), 200, 'circuit: #circuit .card: how many there are');
  assert.equal(await answered(page), true, 'circuit: the form should be answered');
  assert.ok((await codes(page)).includes('superseded'), 'circuit: the warnings shown');
  await openCard(page, page.locator('#circuit .card[data-row="199"]'));
  await page.fill(field('circuit', 'readings.199.value'), '2.40');
  assert.equal(
    await headText(page),
    (await expected(page, 'circuit', { ...given, 'readings.0.test': 'current_on', 'readings.0.value': '2.40 A' })).head,
    'circuit: the head of the answer',
  );
  await page.tap(point('current_on'));
  assert.equal((await focused(page)).id, 'circuit-readings.199.value', 'circuit: where the focus is');
  await reload(page);
  assert.equal(await page.locator('#circuit .card').count(), 200, 'circuit: #circuit .card: how many there are');
});

scene('readings beyond what a form holds are told, not dropped in silence', { at: many(203) }, async (page) => {
  assert.equal(await page.locator('#circuit .card').count(), 200, 'circuit: #circuit .card: how many there are');
  const told = await page.$$eval('#circuit .form-notes li', (all) => all.map((li) => li.textContent));
  assert.ok(
    told.some((t) => t.includes('6 keys') && t.includes('readings.200.test')), // three rows of two
    JSON.stringify(told.slice(0, 3)),
  );
});

scene('one reading more than a form holds does not cost the others', { at: many(200) }, async (page) => {
  await openCard(page, page.locator('#circuit .card').last());
  await page.locator('#circuit .card [data-do="again"]').last().tap();
  await says(page, 'said', 'most');
  await reload(page);
  assert.ok((await page.locator('#circuit .card').count()) >= 200, 'after a reload all readings are gone');
  assert.equal(await page.locator('main > details').count(), 0, 'circuit: main > details: how many there are');
});

// ---- a surprise

// Three breaks at once, each in a place of its own: no fault alone, known or not, explains them.
const broken = [
  ['resistance_component', 'OL'],
  ['continuity_harness', 'OL'],
  ['insulation_harness', 'OL'],
  ...looked,
];
const asked = (list) => {
  const readings = list.map(([test, value]) => ({ test, value: value.replace(/(\d)(\D+)$/, '$1 $2') }));
  const spec = { min: '5.0 ohm', max: '5.6 ohm' };
  const request = { side: 'high', return: 'case', supply: '13.8 V', spec, winding_temperature: '20 degC', code_kind: 'low', readings };
  return run('circuit', JSON.stringify(request)).response;
};

scene(
  'readings that no single fault explains: told in the strip, and which to take again',
  { at: `${filled}${withReadings(broken)}` },
  async (page) => {
    const { result, warnings } = asked(broken);
    assert.equal(result.decision.do, 'recheck', `run circuit: ${JSON.stringify(result.decision)}`);
    assert.ok(result.worst && warnings.some((w) => w.code === 'surprise'), `run circuit: the worst reading should be told`);
    assert.equal(await verdict(page), 'again', 'circuit: the verdict');
    assert.deepEqual(
      (await codes(page)).filter((code) => /surprise|two_faults/.test(code)),
      result.pair ? ['surprise', 'two_faults'] : ['surprise'],
    );
    const name = await page.textContent(`#circuit .card:has(input[value="${result.worst}"]:checked) .picked-name`);
    assert.ok((await headText(page)).includes(name), `${await headText(page)} names ${name}`);
  },
);
