// A host of the tests' own: it serves a site, and misbehaves when it is told to.
import { existsSync, readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join } from 'node:path';

const KINDS = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.webmanifest': 'application/manifest+json',
};
const PORTAL = '<!doctype html><title>Welcome</title><p>Accept the terms of this network to go on.</p>';

// The ways in which a host answers wrongly. Each gets the response, the right content and its headers, and the host.
export const FAULTS = {
  cut(response, content, headers) {
    response.writeHead(200, { ...headers, 'content-length': content.length });
    response.write(content.subarray(0, content.length >> 1), () => response.destroy());
  },
  // Nine tenths of it come, and the rest is other bytes; or it is on its way until the test goes on, and then breaks off.
  wordless(response, content, headers) {
    response.writeHead(200, headers).end(Buffer.concat([content.subarray(0, content.length * 0.9), Buffer.alloc(content.length * 0.1, 7)]));
  },
  late(response, content, headers, host) {
    response.writeHead(200, { ...headers, 'content-length': content.length }).write(content.subarray(0, content.length * 0.9));
    host.waiting.push(() => response.destroy());
  },
  500: (response) => response.writeHead(500, { 'content-type': 'text/plain' }).end('no'),
  html: (response) => response.writeHead(200, { 'content-type': 'text/html' }).end(PORTAL),
  shortened: (response, content, headers) => response.writeHead(200, headers).end(content.subarray(0, content.length >> 1)),
  redirected: (response, content, headers, host) => response.writeHead(302, { location: `${host.path}portal` }).end(),
  old: (response, content, headers, host, name) => response.writeHead(200, headers).end(readFileSync(join(host.before, name))),
  never() {}, // it keeps silent until the test goes on
};

// startHost serves a directory below a path, with its folders where that is asked for, and sites, [path, directory], below other paths.
// host.directory may change; host.fault is one of FAULTS, for the files that host.on names;
// host.headers are sent with each answer; host.before is where the files of another version are. host.asked counts by name.
export async function startHost(directory, { path = '/', headers = {}, kinds = KINDS, folders = false, sites = [] } = {}) {
  const host = { directory, path, headers, fault: null, on: () => true, asked: new Map(), waiting: [] };
  const server = createServer((request, response) => {
    const { pathname } = new URL(request.url, 'http://host');
    if (!pathname.startsWith(path)) return response.writeHead(404).end();
    const [below, from] = sites.find(([below]) => pathname.startsWith(below)) ?? [path, host.directory];
    const name = decodeURI(pathname.slice(below.length)).replace(/(^|\/)$/, '$1index.html');
    if (name === 'portal') return response.writeHead(200, { 'content-type': 'text/html' }).end(PORTAL);
    host.asked.set(name, (host.asked.get(name) ?? 0) + 1);
    const file = join(from, name);
    if ((name.includes('/') && !folders) || !existsSync(file)) return response.writeHead(404, { 'content-type': 'text/html' }).end(PORTAL);
    const sent = { 'content-type': kinds[extname(name)] ?? 'application/octet-stream', 'cache-control': 'no-cache', ...host.headers };
    const content = readFileSync(file);
    if (!host.fault || !host.on(name)) return response.writeHead(200, sent).end(content);
    if (host.fault === 'never') host.waiting.push(() => response.destroy());
    return FAULTS[host.fault](response, content, sent, host, name);
  });
  await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
  host.base = `http://127.0.0.1:${server.address().port}${path}`;
  // spoil makes it answer wrongly for some files, mend rightly again.
  host.spoil = (fault, ...names) => Object.assign(host, { fault, on: (name) => names.includes(name) });
  host.mend = () => {
    host.fault = null;
    for (const end of host.waiting.splice(0)) end();
  };
  host.stop = () =>
    new Promise((resolve) => {
      server.close(resolve);
      server.closeAllConnections();
    });
  return host;
}
