// Debian's Firefox without a screen, driven over marionette, which is a part of it: each message is its length, a colon, and JSON.
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Driven } from './driven.mjs';

const executable = '/usr/bin/firefox-esr';
const later = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

// What is set in the profile: nothing leaves this device (only localhost is asked without the proxy, which is none), files are saved
// without a question.
const settings = (saved) => ({
  'marionette.port': 0,
  'intl.accept_languages': 'en-GB, en',
  'network.proxy.type': 1,
  ...Object.fromEntries(['http', 'ssl'].flatMap((kind) => [[`network.proxy.${kind}`, '127.0.0.1'], [`network.proxy.${kind}_port`, 9]])),
  'browser.download.folderList': 2,
  'browser.download.dir': saved,
  'browser.download.useDownloadDir': true,
  'browser.download.always_ask_before_handling_new_types': false,
  'browser.download.alwaysOpenPanel': false,
});

// startFirefox starts it with a profile of its own, or that of one that was stopped, and a window whose page is as large as is said. stop
// ends it and removes its profile, unless it is told to keep that.
export async function startFirefox({ width, height }, directory = mkdtempSync(join(tmpdir(), 'ohmwright-firefox-'))) {
  const lines = Object.entries(settings(join(directory, 'saved'))).map((pair) => `user_pref(${JSON.stringify(pair).slice(1, -1)});\n`);
  writeFileSync(join(directory, 'user.js'), lines.join(''));
  const flags = ['--headless', '--marionette', '--remote-allow-system-access', '--no-remote', '--profile', directory, 'about:blank'];
  const child = spawn(executable, flags, { stdio: 'ignore', env: { ...process.env, HOME: directory } });
  const gone = new Promise((resolve) => child.once('error', resolve).once('exit', resolve));
  const stop = async ({ keeps = false } = {}) => {
    child.kill();
    await gone;
    if (keeps) rmSync(join(directory, 'MarionetteActivePort'), { force: true });
    else rmSync(directory, { recursive: true, force: true, maxRetries: 5 });
  };
  try {
    const command = await marionette(await portOf(directory, gone));
    const page = new Driven(async (name, params) => valueOf(await command(`WebDriver:${name}`, params)), directory);
    // ofBrowser runs a function in the browser itself, not in the page.
    const ofBrowser = async (run, ...args) => {
      await command('Marionette:SetContext', { value: 'chrome' });
      const value = await page.send('ExecuteScript', { script: `return (${run})(...arguments)`, args });
      await command('Marionette:SetContext', { value: 'content' });
      return value;
    };
    const { capabilities } = await command('WebDriver:NewSession', {});
    await ofBrowser(makeSize, width, height);
    const wrote = new Set();
    const look = async () => {
      const script = `return (${written})()`;
      for (const one of await page.send('ExecuteScript', { script, args: [], sandbox: 'system' })) wrote.add(one);
    };
    const complaints = async (base) => {
      await look();
      return [...(await ofBrowser(complained, base)), ...[...wrote].filter((text) => text.includes(base))];
    };
    return Object.assign(page, { version: `Firefox ${capabilities.browserVersion}`, leaving: look, complaints, stop });
  } catch (e) {
    await stop();
    throw e;
  }
}

const valueOf = (reply) => (reply && Object.keys(reply).join() === 'value' ? reply.value : reply);

// portOf waits until Firefox has written where it listens.
async function portOf(directory, gone) {
  const file = join(directory, 'MarionetteActivePort');
  let ended = false;
  gone.then((how) => (ended = `${executable} ended: ${how}`));
  for (const end = Date.now() + 90_000; ; await later(50)) {
    const port = existsSync(file) && Number(readFileSync(file, 'utf8'));
    if (port) return port;
    if (ended || Date.now() > end) throw new Error(ended || `${executable} did not start`);
  }
}

// marionette connects, and returns a function that sends a command and resolves to its reply.
async function marionette(port) {
  const socket = connect(port, '127.0.0.1');
  const waiting = new Map();
  let came = Buffer.alloc(0);
  const take = (message) => {
    if (!Array.isArray(message)) return; // it says hello
    const [, id, fault, reply] = message;
    const { resolve, reject } = waiting.get(id);
    waiting.delete(id);
    if (fault) reject(new Error(`${fault.error}: ${fault.message}`));
    else resolve(reply);
  };
  socket.on('data', (bytes) => {
    came = Buffer.concat([came, bytes]);
    for (;;) {
      const colon = came.indexOf(':');
      const end = colon + 1 + Number(came.subarray(0, colon));
      if (colon < 0 || came.length < end) return;
      const message = came.subarray(colon + 1, end);
      came = came.subarray(end);
      take(JSON.parse(message));
    }
  });
  const lost = (e) => {
    for (const { reject } of waiting.values()) reject(e instanceof Error ? e : new Error('Firefox has gone'));
    waiting.clear();
  };
  socket.on('error', lost).on('close', lost);
  let last = 0;
  return (name, params) =>
    new Promise((resolve, reject) => {
      waiting.set(++last, { resolve, reject });
      const text = JSON.stringify([0, last, name, params]);
      socket.write(`${Buffer.byteLength(text)}:${text}`);
    });
}

// makeSize runs in the browser: a window cannot be as narrow as a phone, but what is in it can.
function makeSize(width, height) {
  const sides = { width, height };
  for (const [side, px] of Object.entries(sides)) {
    for (const end of ['min', 'max']) gBrowser.selectedBrowser.style.setProperty(`${end}-${side}`, `${px}px`);
  }
}

// complained runs in the browser: the errors and warnings that it has told of a site.
function complained(base) {
  const told = Services.console.getMessageArray().flatMap((message) => {
    if (!(message instanceof Ci.nsIScriptError) || message.flags & Ci.nsIScriptError.infoFlag) return [];
    const own = [message.sourceName, message.errorMessage].some((text) => text.includes(base));
    return own ? [`${message.category}: ${message.errorMessage} (${message.sourceName}:${message.lineNumber})`] : [];
  });
  return told;
}

// written runs in the process of the page, with the browser's rights: what the page's scripts wrote to the console. It goes with the
// process, so it is looked at before each load.
function written() {
  const store = Cc['@mozilla.org/consoleAPI-storage;1'].getService(Ci.nsIConsoleAPIStorage);
  const wrong = store.getEvents().filter(({ level, filename }) => /error|warn|assert/.test(level) && /^(https?|file):/.test(filename));
  return wrong.map(({ level, arguments: all, filename, timeStamp }) => `console.${level}: ${all.join(' ')} (${filename}, ${timeStamp})`);
}
