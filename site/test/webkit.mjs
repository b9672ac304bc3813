// Debian's WebKit (MiniBrowser of webkit2gtk) on a screen in memory, driven by its WebKitWebDriver over HTTP.
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Driven } from './driven.mjs';

const binary = '/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser';
const later = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

// The commands that are used, as they go over HTTP: method, and path below the session's.
const ways = {
  Navigate: ['POST', '/url'],
  ExecuteScript: ['POST', '/execute/sync'],
  ExecuteAsyncScript: ['POST', '/execute/async'],
  FindElement: ['POST', '/element'],
  ElementClick: ['POST', '/element/{id}/click'],
  ElementSendKeys: ['POST', '/element/{id}/value'],
  PerformActions: ['POST', '/actions'],
  TakeScreenshot: ['GET', '/screenshot'],
  GetWindowHandles: ['GET', '/window/handles'],
  SwitchToWindow: ['POST', '/window'],
  SetWindowRect: ['POST', '/window/rect'],
};

// startWebKit starts it with a home of its own, and a window whose page is as large as is said.
export async function startWebKit({ width, height }) {
  const directory = mkdtempSync(join(tmpdir(), 'ohmwright-webkit-'));
  const saved = join(directory, 'saved');
  for (const path of [saved, join(directory, 'config')]) mkdirSync(path);
  writeFileSync(join(directory, 'config', 'user-dirs.dirs'), `XDG_DOWNLOAD_DIR="${saved}"\n`);
  const started = [];
  const stop = async () => {
    for (const { child, gone } of started.reverse()) {
      child.kill();
      await gone;
    }
    rmSync(directory, { recursive: true, force: true, maxRetries: 5 });
  };
  const begin = (...args) => {
    const one = begun(...args);
    started.push(one);
    return one;
  };
  try {
    const screen = begin('Xvfb', ['-displayfd', '1', '-screen', '0', '1280x1000x24', '-nolisten', 'tcp'], process.env);
    const display = await screen.says(/^(\d+)\n/m);
    const port = await freePort();
    const driver = begin('WebKitWebDriver', ['--host=127.0.0.1', `--port=${port}`], surroundings(directory, display));
    const base = `http://127.0.0.1:${port}`;
    await answering(base, driver);
    const args = ['--automation', '--javascript-can-open-windows-automatically=true'];
    const capabilities = { alwaysMatch: { 'webkitgtk:browserOptions': { binary, args } } };
    const session = await ask('POST', `${base}/session`, { capabilities });
    const send = (name, { id, ...params }) => {
      const [method, path] = ways[name];
      return ask(method, `${base}/session/${session.sessionId}${path.replace('{id}', id)}`, method === 'POST' ? params : undefined);
    };
    const page = new Driven(send, directory);
    await narrow(page, width, height);
    const seen = [];
    const look = async () => seen.push(...(await page.evaluate(() => globalThis.complaints?.splice(0) ?? [])));
    const complaints = async (base) => {
      await look();
      return seen.filter((text) => text.includes(base));
    };
    Object.assign(page, { leaving: look, arrived: () => page.evaluate(listen) });
    const close = async () => {
      await ask('DELETE', `${base}/session/${session.sessionId}`).catch(() => {});
      await stop();
    };
    return Object.assign(page, { version: `WebKitGTK ${session.capabilities.browserVersion}`, complaints, stop: close });
  } catch (e) {
    await stop();
    throw e;
  }
}

// surroundings are the variables of the environment: a home of its own, the screen, and English.
function surroundings(directory, display) {
  const own = { HOME: directory, XDG_RUNTIME_DIR: directory };
  for (const kind of ['DATA', 'CACHE', 'CONFIG', 'STATE']) own[`XDG_${kind}_HOME`] = join(directory, kind.toLowerCase());
  return {
    ...process.env,
    ...own,
    DISPLAY: `:${display}`,
    GDK_BACKEND: 'x11',
    LANG: 'C.UTF-8',
    LANGUAGE: 'en_GB',
    GTK_A11Y: 'none',
    NO_AT_BRIDGE: '1',
    GSETTINGS_BACKEND: 'memory',
    WEBKIT_DISABLE_DMABUF_RENDERER: '1',
    http_proxy: 'http://127.0.0.1:9',
    https_proxy: 'http://127.0.0.1:9',
    no_proxy: '127.0.0.1,localhost',
  };
}

// begun starts a program and keeps what it says.
function begun(program, args, env) {
  const child = spawn(program, args, { env, stdio: ['ignore', 'pipe', 'pipe'] });
  let text = '';
  for (const stream of [child.stdout, child.stderr]) stream.setEncoding('utf8').on('data', (more) => (text += more));
  let how;
  const gone = new Promise((resolve) => child.once('error', resolve).once('exit', resolve)).then((status) => (how = `ended: ${status}`));
  const says = async (pattern) => {
    for (const end = Date.now() + 60_000; ; await later(50)) {
      const found = pattern.exec(text);
      if (found) return found[1];
      if (how || Date.now() > end) throw new Error(`${program} ${how ?? 'does not start'}: ${text}`);
    }
  };
  return { child, gone, says, said: () => text, ended: () => how };
}

async function freePort() {
  const server = createServer();
  await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address();
  await new Promise((resolve) => server.close(resolve));
  return port;
}

async function answering(base, driver) {
  for (const end = Date.now() + 60_000; ; await later(50)) {
    if (await fetch(`${base}/status`).then((r) => r.ok, () => false)) return;
    if (driver.ended() || Date.now() > end) throw new Error(`WebKitWebDriver ${driver.ended() ?? 'does not answer'}: ${driver.said()}`);
  }
}

async function ask(method, url, body) {
  const response = await fetch(url, { method, body: body && JSON.stringify(body), signal: AbortSignal.timeout(60_000) });
  const { value } = await response.json();
  if (!response.ok) throw new Error(`${value.error}: ${value.message}`);
  return value;
}

// listen runs in the page: it gathers what the page complains of once it is loaded. What it complains of before that is not seen: WebKit
// tells a driver nothing of it, and writes nothing either, as what it drives is a private window.
function listen() {
  if (globalThis.complaints) return;
  const all = (globalThis.complaints = []);
  const add = (text) => all.push(`${text} (${location.origin}/)`);
  addEventListener('error', (e) => add(`error: ${e.message || `${e.target.src ?? e.target.href} did not load`}`), true);
  addEventListener('unhandledrejection', ({ reason }) => add(`rejected: ${reason}`));
  for (const level of ['error', 'warn', 'assert']) console[level] = (...parts) => add(`console.${level}: ${parts.join(' ')}`);
  addEventListener('securitypolicyviolation', (e) => add(`Content-Security-Policy: ${e.effectiveDirective}, ${e.blockedURI}`));
}

// narrow goes on in a window without a tool bar, which would keep it wider than a phone.
async function narrow(page, width, height) {
  const [first] = await page.send('GetWindowHandles', {});
  const script = `window.open('about:blank', '', 'toolbar=no,menubar=no,width=${width},height=${height}')`;
  await page.send('ExecuteScript', { script, args: [] });
  for (const end = Date.now() + 10_000; ; await later(50)) {
    const handle = (await page.send('GetWindowHandles', {})).find((one) => one !== first);
    if (handle) {
      await page.send('SwitchToWindow', { handle });
      break;
    }
    if (Date.now() > end) throw new Error('no second window opened');
  }
  await page.send('SetWindowRect', { x: 0, y: 0, width, height });
}
