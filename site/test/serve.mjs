// A static host for the bench: brotli at its best, or plain; ETags, and a count of what it sent.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import http from 'node:http';
import path from 'node:path';
import zlib from 'node:zlib';

const KINDS = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.packed': 'application/octet-stream',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.txt': 'text/plain; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
};
const brotli = (bytes) =>
  zlib.brotliCompressSync(bytes, {
    params: {
      [zlib.constants.BROTLI_PARAM_QUALITY]: 11,
      [zlib.constants.BROTLI_PARAM_LGWIN]: 24,
      [zlib.constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
    },
  });

// serve hosts a directory and resolves to {url, sent, close}.
export function serve(directory, { compresses = true } = {}) {
  const files = new Map();
  for (const name of readdirSync(directory)) {
    const raw = readFileSync(path.join(directory, name));
    const small = compresses ? brotli(raw) : raw;
    files.set(`/${name}`, {
      body: small.length < raw.length ? small : raw,
      zipped: small.length < raw.length,
      kind: KINDS[path.extname(name)],
      tag: `"${createHash('sha256').update(raw).digest('hex').slice(0, 16)}"`,
    });
  }
  files.set('/', files.get('/index.html'));
  const sent = [];
  const server = http.createServer((request, response) => {
    const [name] = request.url.split('?');
    const file = files.get(name);
    if (!file) return response.writeHead(404).end();
    if (request.headers['if-none-match'] === file.tag) {
      sent.push([name, 0]);
      return response.writeHead(304, { etag: file.tag }).end();
    }
    sent.push([name, file.body.length]);
    response.writeHead(200, {
      'content-type': file.kind,
      'cache-control': 'no-cache',
      etag: file.tag,
      ...(file.zipped && { 'content-encoding': 'br' }),
    });
    response.end(file.body);
  });
  return new Promise((resolve) =>
    server.listen(0, '127.0.0.1', () =>
      resolve({ url: `http://127.0.0.1:${server.address().port}/`, sent, files, close: () => server.close() }),
    ),
  );
}
