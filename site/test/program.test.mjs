// That no test runs an old program: node --test site/test/program.test.mjs
import assert from 'node:assert/strict';
import { mkdirSync, mkdtempSync, readdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, test } from 'node:test';
import { program, stale } from './program.mjs';

const root = mkdtempSync(join(tmpdir(), 'ohmwright-stale-'));
after(() => rmSync(root, { recursive: true }));

const sources = ['go.mod', 'go.sum', 'Makefile', 'core/tool/tool.go', 'wasm/main.go', 'cmd/ohmwright/main.go'];
const assets = ['site/embed.go', 'site/assets/app.js', 'site/page/index.html'];
const module = ['site/built/ohmwright.packed', 'site/built/wasm_exec.js'];
const others = ['core/tool/tool_test.go', 'site/test/page.test.mjs'];
const write = (path) => {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), '');
};
const age = (path, seconds) => utimesSync(join(root, path), seconds, seconds);

// fresh makes a small tree: sources of one age, what is built from them a little younger.
function fresh() {
  for (const path of [...sources, ...assets, ...module, ...others, 'build/ohmwright']) write(path);
  for (const path of readdirSync(root, { recursive: true })) age(path, 1000);
  for (const path of [...module, 'build/ohmwright']) age(path, 2000);
  assert.equal(stale(root), '', 'nothing should be stale right after a build');
}

test('the program that the tests run is up to date', () => {
  program();
  assert.equal(stale(), '');
});

test('a source that is newer than what was built is noticed', () => {
  for (const path of [...sources, ...assets, 'core/tool', 'cmd', 'site/assets']) {
    fresh();
    age(path, 3000);
    assert.match(stale(root), new RegExp(`is older than ${path}$`), `${path} was changed after the build`);
  }
});

test('a program that is older than its module is noticed', () => {
  fresh();
  age('site/built/ohmwright.packed', 3000);
  assert.equal(stale(root), 'build/ohmwright is older than site/built/ohmwright.packed');
});

test('what is not built is noticed', () => {
  for (const path of [...module, 'build/ohmwright']) {
    fresh();
    rmSync(join(root, path));
    assert.equal(stale(root), `${path} is missing`);
  }
});

test('tests are no sources of the program', () => {
  fresh();
  for (const path of others) age(path, 3000);
  assert.equal(stale(root), '');
});
