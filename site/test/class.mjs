// A class in tests: its sheet, what students hand in on it, and what the command line makes of that.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { program, run } from './program.mjs';
import { field, shared, verdict } from './reader.mjs';

const questions = 'questions.0.kind=fault_high&questions.0.level=2&questions.1.kind=hot_winding&questions.1.level=2';
export const sheet = `#/worksheet?v=1&role=student&heading=First+hour&${questions}`;
export const teacher = sheet.replace('role=student&', '');
export const point = (test) => `#worksheet .point[data-value="${test}"]`;
export const choice = (what) => `#worksheet [data-value="${what}"]`;
export const decide = '#worksheet .decide';
export const rested = (page) => page.waitForTimeout(800); // the button that decides is meant once: a tap right after it is held back
export const handInLink = (page) => page.getAttribute('#worksheet .p-hand_in a', 'href');

// decideOnFault names somebody, asks for a reading and decides.
export async function decideOnFault(page, name) {
  await page.fill(field('worksheet', 'name'), name);
  await page.tap(point('current_on'));
  await page.tap(choice('repair=harness'));
  await page.tap(decide);
  await rested(page);
}

// setOut makes a sheet of two questions, a hidden fault and a hot winding, as a teacher does by touch; press taps what reads a key's words.
export async function setOut(page, press) {
  await press('#worksheet .levels', 'worksheet.ready.level', '2');
  await page.tap('#worksheet [data-list="questions"] [data-do="add"]');
  await page.check('input[name="worksheet-questions.1.kind"][value="hot_winding"]');
  await page.check('input[name="worksheet-questions.1.level"][value="2"]');
  assert.equal(await page.locator('#worksheet .sample').count(), 3);
}

export const handIn = async (page) => {
  await rested(page);
  assert.equal(await verdict(page), 'decided');
  return shared(page, 'copied');
};

// figured gives the figure of a hot winding that lost turns, and all that goes with it, and decides.
export async function figured(page, value) {
  await page.tap(field('worksheet', 'value'));
  await page.keyboard.type(value);
  for (const what of ['unit=ohm', 'condition=at_reference', 'decision=below', 'reason=lost_turns']) await page.tap(choice(what));
  await page.tap(decide);
}

// requestOf is a link as a request. One that does not say how it is drawn is drawn in the first way.
export function requestOf(link) {
  const request = { drawing: '1' };
  for (const [key, value] of new URLSearchParams(link.split('?')[1])) {
    if (key === 'v') continue;
    const path = key.split('.');
    let at = request;
    for (const [i, name] of path.slice(0, -1).entries()) at = at[name] ??= /^\d+$/.test(path[i + 1]) ? [] : {};
    at[path.at(-1)] = value;
  }
  return request;
}

// handedIn is what a student hands in on a sheet.
export const handedIn = (sheet, name, more) =>
  run('worksheet', JSON.stringify({ ...requestOf(sheet), name, ...more })).response.result.hand_in;

// marked is what the command line makes of a chat.
export const marked = (link, pasted, as) => execFileSync(program(), ['mark', link, '--as', as], { input: pasted }).toString();

export async function pasting(page, text) {
  if (!(await page.isVisible('#worksheet-pasted'))) await page.click('.marking > summary');
  await page.fill('#worksheet-pasted', text);
}

// cards are the cells of the table of marks.
export const cards = (page) =>
  page.$$eval('.marks-table tbody tr', (rows) => rows.map((r) => [...r.children].map((c) => c.lastElementChild?.textContent ?? '')));

// heard is what a screen reader finds on the page: role, name and text of each thing, as Chromium's accessibility tree has it.
export async function heard(page) {
  const session = await page.context().newCDPSession(page);
  const { nodes } = await session.send('Accessibility.getFullAXTree');
  await session.detach();
  const byId = new Map(nodes.map((n) => [n.nodeId, n]));
  const text = (n) => (n.role?.value === 'StaticText' ? n.name.value : (n.childIds ?? []).map((id) => text(byId.get(id))).join(' '));
  const property = (n, name) => n.properties?.find((p) => p.name === name)?.value.value;
  return nodes.filter((n) => !n.ignored).map((n) => ({
    role: n.role.value, name: n.name?.value ?? '', text: text(n), live: property(n, 'live'), atomic: property(n, 'atomic'),
    checked: property(n, 'checked'), parent: n.parentId, id: n.nodeId,
  }));
}
