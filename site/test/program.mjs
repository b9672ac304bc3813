// The command line program, built if it is not there yet, as what the other ways in are compared with.
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const repository = fileURLToPath(new URL('../..', import.meta.url));

// program is the path of the program.
export function program() {
  const path = join(repository, 'build', 'ohmwright');
  if (!existsSync(path)) execFileSync('make', ['build'], { cwd: repository, stdio: ['ignore', 'ignore', 'inherit'] });
  return path;
}

// run asks it.
export function run(tool, request, ...flags) {
  const done = spawnSync(program(), ['run', tool, ...flags], { input: request, maxBuffer: 1 << 28 });
  if (done.error) throw done.error;
  return { status: done.status, response: JSON.parse(done.stdout) };
}
