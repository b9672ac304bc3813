// Prints what comes of many clients asking at once, on "serve" and on the edge, and of a stop in the middle: node load.mjs [seconds]
// The clients are those of cmd/internal/load. Fails if an answer is lost or other than it should be, or if memory does not stay flat.
import { execFile, execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { edge } from './edge.mjs';
import { program, repository } from './program.mjs';

const CLIENTS = 200;
const FLAT = 1.25; // how much more memory the end may take than the middle
const seconds = Number(process.argv[2] ?? 30);
const wait = (s) => new Promise((resolve) => setTimeout(resolve, s * 1000));
const MB = (n) => `${(n / 1e6).toFixed(0)} MB`;

// spent is the CPU time of a process in ms: the kernel counts hundredths of a second.
const spent = ({ pid }) => {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1].split(' ');
  return 10 * (Number(fields[11]) + Number(fields[12]));
};
const resident = ({ pid }) => 1024 * readFileSync(`/proc/${pid}/status`, 'utf8').match(/VmRSS:\s+(\d+)/)[1];

const directory = mkdtempSync(join(tmpdir(), 'ohmwright-load-'));
const driver = join(directory, 'load');
execFileSync('go', ['build', '-o', driver, './cmd/internal/load'], { cwd: repository, stdio: 'inherit' });

// asked has the clients ask, and resolves to what came of it.
async function asked(base, clients, lasting) {
  const at = base.replace('http://', '');
  const { stdout } = await promisify(execFile)(driver, ['-at', at, '-clients', String(clients), '-for', `${lasting}s`]);
  return JSON.parse(stdout);
}

const line = ({ answered, seconds, p50, p99, longest, lost, other, first }) =>
  `${answered} answers, ${(answered / seconds).toFixed(0)} a second, ${lost} lost, ${other} wrong${first && `, first: ${first}`}; ` +
  `p50 ${p50.toFixed(0)} ms, p99 ${p99.toFixed(0)} ms, longest ${longest.toFixed(0)} ms`;

// held fails the run, but lets it go on.
function held(fits, what) {
  if (fits) return;
  console.log(`FAILED: ${what}`);
  process.exitCode = 1;
}

const whole = ({ answered, lost, other }, what) =>
  held(answered > 0 && lost === 0 && other === 0, `${what}: not every answer came as it should`);

// load has all clients ask for the time, and looks at the server's memory meanwhile.
async function load(name, { base, server }) {
  const memory = [resident(server)];
  const before = spent(server);
  const working = asked(base, CLIENTS, seconds);
  for (let i = 0; i < 6; i++) {
    await wait(seconds / 6 - 0.05);
    memory.push(resident(server));
  }
  const came = await working;
  const each = (spent(server) - before) / came.answered;
  console.log(`${name}, ${CLIENTS} clients, ${seconds} s: ${line(came)}; ${each.toFixed(1)} ms of CPU each`);
  console.log(`${name}, memory, before and at each sixth: ${memory.map(MB).join(', ')}`);
  whole(came, name);
  held(memory[6] <= FLAT * memory[3], `${name}: its memory should stay flat`);
}

// stopped sends SIGTERM in the middle, and resolves to the server's exit status.
async function stopped(name, { base, server }) {
  const gone = new Promise((resolve) => server.once('exit', (status, signal) => resolve(status ?? signal)));
  const working = asked(base, CLIENTS, seconds);
  await wait(seconds / 6);
  server.kill('SIGTERM');
  const [came, status] = await Promise.all([working, gone]);
  console.log(`${name}, SIGTERM in the middle: ${line(came)}; ${came.refused} clients found nobody then; exit status ${status}`);
  return { came, status };
}

// served is "ohmwright serve" as it listens.
async function served() {
  const server = spawn(program(), ['serve', '--address', '127.0.0.1:0'], { stdio: ['ignore', 'pipe', 'inherit'] });
  const [said] = await new Promise((resolve) => server.stdout.once('data', (...b) => resolve(b.map(String))));
  return { server, base: said.match(/http:\S+/)[0] };
}

try {
  const serve = await served();
  await load('serve', serve);
  const { came, status } = await stopped('serve', serve);
  whole(came, 'serve, stopped');
  held(status === 0, 'serve, stopped: the exit status should be 0');
  const worker = await edge();
  try {
    const alone = await asked(worker.base, 1, seconds / 6);
    console.log(`edge, one client: ${line(alone)}`);
    await load('edge', worker);
    const { started, most, bytes } = await worker.trick('count');
    console.log(`edge: ${started} programs started, at most ${most} at once, each with ${MB(bytes)} of memory or less`);
    held(most === 2, 'edge: no more than two programs should run at once');
  } finally {
    await worker.stop();
  }
} finally {
  rmSync(directory, { recursive: true, force: true });
}
