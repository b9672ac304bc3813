// What a failed test of the page says: the check as it is written, and what the page showed at that moment.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { inspect } from 'node:util';

// explained adds to an error which check failed, and what the page showed: the tool, its fields with what is told beside them, and
// what the page complained of. An assertion alone would say "true !== false".
export async function explained(error, page) {
  const shown = await Promise.race([
    page.evaluate(shows).catch((e) => `nothing (${e.message})`),
    later(5000, 'nothing: it does not answer'),
  ]);
  const more = [values(error), check(error), `The page showed ${shown}`, ...page.faults.map((fault) => `The page complained: ${fault}`)];
  const before = error.message;
  error.message = [before, ...more].filter(Boolean).join('\n');
  error.stack = error.stack?.replace(before, () => error.message);
  return error;
}

const later = (ms, value) => new Promise((resolve) => setTimeout(resolve, ms, value).unref());

// values are those that an assertion compared, where a message of its own stands in place of them.
function values(error) {
  if (error.code !== 'ERR_ASSERTION' || error.generatedMessage || error.expected === undefined) return '';
  const brief = (value) => inspect(value, { depth: 4, breakLength: 120, maxStringLength: 400 });
  return `Got ${brief(error.actual)}; ${error.operator === 'notStrictEqual' ? 'not wanted' : 'wanted'} ${brief(error.expected)}`;
}

// check is the statement in the file of tests that an error came from, with its place.
function check(error) {
  const at = /([^\s()]*\.test\.mjs):(\d+):\d+/.exec(error.stack ?? '');
  if (!at) return '';
  const path = at[1].startsWith('file:') ? fileURLToPath(at[1]) : at[1];
  const lines = readFileSync(path, 'utf8')
    .split('\n')
    .slice(at[2] - 1, Number(at[2]) + 9);
  const end = lines.findIndex((line) => line.endsWith(';'));
  const statement = lines.slice(0, end + 1).map((line) => line.trim());
  return `The check: ${statement.join(' ') || lines[0].trim()} (${path.split('/').pop()}, line ${at[2]})`;
}

// shows runs in the page: the tool, the head of its answer, and each field that something is told of, with what is in it.
function shows() {
  const brief = (text) => text.replace(/\s+/g, ' ').trim().slice(0, 160);
  const section = document.querySelector('main > section:not([hidden])');
  if (!section) return 'no tool';
  const head = section.querySelector('.head');
  const told = [...section.querySelectorAll('.note')].filter((note) => note.textContent.trim());
  const fields = told.map((note) => {
    const name = note.id.replace(/-note$/, '') || note.dataset.note;
    const input = document.getElementById(name);
    return `field ${name}${input?.value === undefined ? '' : `, in it “${brief(input.value)}”`}: “${brief(note.textContent)}”`;
  });
  const strays = [...section.querySelectorAll('.form-notes li')].map((li) => `of no field: “${brief(li.textContent)}”`);
  const focus = document.activeElement?.id || document.activeElement?.tagName.toLowerCase();
  const answered = section.dataset.answered === 'yes' ? 'answered' : 'not answered';
  return [
    `the tool ${section.id}, ${answered}: “${brief(head?.textContent ?? '')}”`,
    ...fields,
    ...strays,
    `the focus on ${focus}, at ${location.hash.slice(0, 160)}`,
  ].join('\n  ');
}
