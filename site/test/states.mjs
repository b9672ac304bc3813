// The states of the page that every look, width and device is held to.
import { fill, frame, go, press } from './reader.mjs';

export const states = {
  start: async (page) => {
    await closeJob(page);
    await goto(page, '#/');
    await unfoldAll(page);
  },
  'winding, empty': async (page) => goto(page, '#/winding'),
  'winding, filled': async (page) => {
    await goto(page, '#/winding');
    await press(page, 'demo');
    await page.click('[data-row="0"] [data-do="keep"]');
    await unfoldAll(page);
  },
  'winding, with faults': async (page) => {
    await goto(
      page,
      '#/winding?reading=abc&at=12V&specs.0.min=9ohm&specs.0.max=5ohm&colour=red&known_good.reading=5ohm&reference=-900degC&loom=1ohm',
    );
    await page.waitForFunction(() => document.querySelector('#winding form > ul').children.length > 0);
    await unfoldAll(page);
  },
  'loop, filled': async (page) => {
    await goto(page, '#/loop');
    await press(page, 'demo');
    await unfoldAll(page);
  },
  'bank, filled': async (page) => {
    await goto(page, '#/bank');
    await press(page, 'demo');
    await unfoldAll(page);
  },
  'bank, off as a whole, with faults': async (page) => {
    const rows = [0, 1, 2, 3].map((i) => `windings.${i}.reading=6.4ohm&windings.${i}.other=OL`).join('&');
    await goto(
      page,
      `#/bank?at=20degC&spec.min=5ohm&spec.max=5.6ohm&${rows}&windings.4.reading=abc&windings.5.spec_at=5degC&windings.5.reading=OL`,
    );
    await page.waitForSelector('#bank [data-code="off_together"]');
    await unfoldAll(page);
  },
  'circuit, empty': async (page) => goto(page, '#/circuit'),
  'circuit, half way': async (page) => {
    await goto(page, `${circuit}&readings.0.test=voltage_pin_off&readings.0.value=0V`);
    await page.waitForSelector('#circuit .p-next');
    await page.click('#circuit .point[data-value="current_on"]');
    await unfoldAll(page);
  },
  'circuit, decided': async (page) => {
    await goto(page, '#/circuit');
    await press(page, 'demo');
  },
  'circuit, surprised, with faults': async (page) => {
    await goto(
      page,
      [
        `${circuit}&readings.0.test=resistance_component&readings.0.value=OL&readings.1.test=continuity_harness&readings.1.value=OL`,
        'readings.2.test=insulation_harness&readings.2.value=OL&readings.3.test=voltage_pin_on&readings.3.value=OL&costs.hour=-1',
        'readings.4.test=row_applies&readings.4.value=yes&readings.5.test=winding_temperature&readings.5.value=20degC',
      ].join('&'),
    );
    await page.waitForSelector('#circuit .verdict[data-verdict="again"]');
  },
  'circuit, in words, with faults': async (page) => {
    await goto(
      page,
      [
        `${circuit}&fault_present=no&driver.kind=regulated&driver.at=1.2A&readings.0.test=heat_component&readings.0.value=jumps`,
        'readings.1.test=row_applies&readings.1.value=jumps&readings.2.test=winding_temperature&readings.2.value=95degC',
      ].join('&'),
    );
    await page.click('#circuit .point[data-value="wiggle_harness"]');
    await unfoldAll(page);
  },
  'circuit, stopped': async (page) => {
    await goto(page, circuit.replace('13.8V', '61V'));
    await page.waitForSelector('#circuit .verdict[data-verdict="stop"]');
  },
  'exercise, hidden': async (page) => {
    await goto(page, '#/exercise?v=1&seed=bench+1&asked.0.test=current_on');
    await page.waitForSelector('#exercise .point.taken');
    await unfoldAll(page);
  },
  'exercise, answered': async (page) => {
    await goto(page, '#/exercise?v=1&seed=bench+1&asked.0.test=current_on&answer=harness');
    await page.waitForSelector('#exercise .verdict[data-verdict="missed"]');
  },
  'drive, empty': async (page) => goto(page, '#/drive'),
  'drive, filled': async (page) => {
    await goto(page, '#/drive');
    await press(page, 'demo');
    await unfoldAll(page);
  },
  'drive, a slider in the hand': async (page) => {
    await goto(page, '#/drive');
    await press(page, 'demo');
    await page.focus('[id="drive-duty-slide"]');
    await page.keyboard.press('ArrowRight');
    await frame(page);
  },
  'trace, empty': async (page) => goto(page, '#/trace'),
  'trace, filled': async (page) => {
    await goto(page, '#/trace');
    await press(page, 'demo');
    await unfoldAll(page);
  },
  'torque, empty': async (page) => goto(page, '#/torque'),
  'torque, filled': async (page) => {
    await goto(page, torque);
    await unfoldAll(page);
  },
  'torque, with faults': async (page) => {
    await goto(
      page,
      [
        '#/torque?v=1&torque=-10N.m&adapter.wrench=12in&adapter.extension=12in&adapter.angle=180deg&fastener.thread=M6.5',
        'table=M6+10+N.m+98+in-lb%0AM8+9+N.m%0AM6+12+N.m&bolts.0.x=abc&bolts.0.y=20',
      ].join('&'),
    );
    await page.waitForSelector('#torque .card.placed .wrong');
    await unfoldAll(page);
  },
  'torque, half way, alone': async (page) => {
    await goto(page, `${torque.replace('89lbf.in', '98lbf.in')}&bolts.0.x=50mm&bolts.0.y=50mm&bolts.0.length=35mm`);
    await page.evaluate(() => {
      // A tap that comes too soon counts for the one before it: by this clock none does.
      const { get } = Object.getOwnPropertyDescriptor(Event.prototype, 'timeStamp');
      let later = 0;
      Object.defineProperty(Event.prototype, 'timeStamp', {
        configurable: true,
        get() {
          return get.call(this) + (later += 1000);
        },
      });
      for (const button of ['.p-order .go', '.p-step .ready', '.p-step .go']) document.querySelector(`#torque ${button}`).click();
    });
    await page.waitForSelector('#torque.alone .p-step .stop');
  },
  'code, filled': async (page) => {
    await goto(page, '#/code');
    await press(page, 'demo');
  },
  'handover, filled': async (page) => {
    await goto(page, '#/handover');
    await press(page, 'demo');
    await unfoldAll(page);
  },
  'worksheet, empty': async (page) => {
    await goto(page, '#/worksheet');
    await unfoldAll(page);
  },
  'worksheet, decided': async (page) => {
    await goto(
      page,
      [
        '#/worksheet?v=1&role=student&questions.0.kind=fault_high&questions.0.level=2&questions.1.kind=hot_winding&questions.1.level=2',
        'name=Ann&asked.0.test=current_on&decisions.0.question=1&decisions.0.after=1&decisions.0.repair=harness',
        'decisions.1.question=2&decisions.1.value=7.6&decisions.1.unit=ohm',
      ].join('&'),
    );
    await page.waitForSelector('#worksheet .p-decided');
    await unfoldAll(page);
  },
  'circuit, in a job, several rows': async (page) => {
    await job(page);
    await goto(page, '#/winding');
    await fill(page, 'winding', { reading: '2.9', at: '20', 'specs.0.min': '5.0', 'specs.0.max': '5.6' });
    await press(page, 'add');
    await fill(page, 'winding', { 'specs.1.min': '4.0', 'specs.1.max': '4.6' });
    await goto(page, '#/circuit');
    await page.waitForSelector('#circuit .spec-rows button:nth-of-type(2)');
    await page.click('#circuit .spec-rows button:nth-of-type(1)');
    await unfoldAll(page);
  },
  'start, with a job': async (page) => {
    await goto(page, '#/');
    await page.waitForSelector('#continue:not([hidden])');
    await unfoldAll(page);
  },
  jobs: async (page) => {
    await job(page);
    await page.waitForSelector('.job-list > li:nth-child(2)');
    await page.click('.job-list > li:nth-child(2) summary');
    await page.click('.job-list > li:nth-child(2) [data-job="remove"]');
    await page.waitForSelector('[data-job="back"]:not([hidden])');
    await unfoldAll(page);
  },
  'jobs, one as a code': async (page) => {
    await job(page);
    await page.click('#job-head [data-job="code"]');
    await page.waitForSelector('#job-code svg');
    await unfoldAll(page);
  },
};

const torque = [
  '#/torque?v=1&torque=10N.m&printed_as=89lbf.in&adapter.wrench=12in&adapter.extension=3in',
  'wrench.max=150lbf.in&wrench.graduation=5lbf.in&fastener.thread=M6&fastener.class=8.8',
  'fastener.into=aluminium&fastener.engagement=12mm&pattern.count=12',
].join('&');
const circuit = '#/circuit?v=1&side=high&return=case&supply=13.8V&spec.min=5.0ohm&spec.max=5.6ohm&code_kind=low';

// job opens a new job with a name, on the page of jobs.
async function job(page) {
  await goto(page, '#/');
  await page.click('#start [data-job="new"]');
  await page.waitForFunction(() => document.body.dataset.place === 'jobs' && document.activeElement.id === 'job-vehicle');
  await page.fill('#job-vehicle', 'Tarn 24');
  await page.fill('#job-complaint', 'Harsh shift when warm');
}

async function closeJob(page) {
  if (!(await page.evaluate(() => document.body.dataset.job === 'open'))) return;
  await goto(page, '#/jobs');
  await page.click('#job-head [data-job="close"]');
  await page.waitForFunction(() => document.body.dataset.job === 'none');
}

async function goto(page, hash) {
  await go(page, hash);
  const place = /^#\/(\w*)/.exec(hash)[1] || 'start';
  const opened = (p) => document.body.dataset.place === p && (!location.hash.includes('?') || history.state?.own !== undefined);
  await page.waitForFunction(opened, place);
}

const unfoldAll = (page) =>
  page.evaluate(async () => {
    for (const d of document.querySelectorAll('main > section:not([hidden]) details')) d.open = true;
    // What lies off the screen has its size once it was seen (content-visibility); until then its parts seem to overlap.
    for (const part of document.querySelectorAll('main > section:not([hidden]) .body > *')) {
      part.scrollIntoView();
      await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
    }
    scrollTo(0, 0);
    document.getElementById('said').textContent = ''; // what was said goes by itself; here at once
  });

export const looks = ['light', 'dark', 'sun'];
// forced is the look that the reader's system gives the page, in place of the page's own colours. A page that had it is not shared.
export const forced = 'forced';
export async function look(page, name) {
  if (name === forced) return page.emulateMedia({ forcedColors: 'active', colorScheme: 'dark' });
  await page.evaluate((name) => {
    const radio = document.querySelector(`input[name="look"][value="${name}"]`);
    radio.click();
    document.activeElement?.blur();
  }, name);
}
