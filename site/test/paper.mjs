// A page on paper: as a PDF, read back by poppler.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

// tight is a text without its spaces: lines are broken elsewhere on paper.
export const tight = (s) => s.replace(/[\s\u00a0]+/g, '');

// paper prints the page, and returns how many sheets there are, and the text of them all, plain and tight.
export const paper = (page, format) => printed(page, format, () => ({}));

// pictured returns the picture of the first sheet too.
export const pictured = (page, format) =>
  printed(page, format, (run, directory, file) => {
    run('pdftoppm', '-r', '200', '-f', '1', '-singlefile', '-png', file, join(directory, 'first'));
    return { picture: readFileSync(join(directory, 'first.png')) };
  });

async function printed(page, format, look) {
  const directory = mkdtempSync(join(tmpdir(), 'ohmwright-paper-'));
  const file = join(directory, 'paper.pdf');
  try {
    writeFileSync(file, await page.pdf({ format }));
    const run = (program, ...args) => `${execFileSync(program, args, { maxBuffer: 1 << 26 })}`;
    const sheets = Number(/Pages:\s+(\d+)/.exec(run('pdfinfo', file))[1]);
    const plain = run('pdftotext', '-layout', file, '-');
    return { sheets, plain, text: tight(plain), ...look(run, directory, file) };
  } finally {
    rmSync(directory, { recursive: true });
  }
}
