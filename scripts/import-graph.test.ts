import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import {
  cycles,
  type Import,
  importsIn,
  importsOf,
  PACKAGES,
  type PackageName,
  sourcesOf,
} from './import-graph.ts';

const root = fileURLToPath(new URL('../', import.meta.url));

/** Which package may use which: arrows point only down. */
const MAY_USE: Record<PackageName, readonly PackageName[]> = {
  core: [],
  store: ['core'],
  server: ['core', 'store'],
  web: ['core'],
  cli: ['core', 'store', 'server'],
};
/** What lies outside the packages and may be used: data by any face, the loader of the program by its launcher. */
const shared = ({ from, to }: Import): boolean =>
  /^examples\/[^/]+\.json$/.test(to ?? '') ||
  (from === 'cli/bin/pourline.mjs' && to === 'scripts/lib/program.mjs');

describe('reading imports', () => {
  test('finds every way to import and tells types apart', () => {
    const source = `
      import { a } from './a.ts';
      import type { B } from './b.ts';
      export * from "../c.ts";
      import './d.css';
      // import './no.ts';
      /* export * from './neither.ts'; */
      const e = await import('./e.ts');
      const w = new Worker(new URL('./w.ts', import.meta.url), { type: 'module' });
      import {
        f,
      } from '@pourline/core';
      const text = 'take it from here';`;
    const found = importsOf('web/src/x.ts', source);
    expect(found.map((i) => i.to ?? i.specifier).sort()).toEqual(
      [
        '@pourline/core',
        'web/c.ts',
        'web/src/a.ts',
        'web/src/b.ts',
        'web/src/d.css',
        'web/src/e.ts',
        'web/src/w.ts',
      ].sort(),
    );
    expect(found.filter((i) => i.typeOnly).map((i) => i.to)).toEqual(['web/src/b.ts']);
  });

  test('finds a loop, and none in a diamond', () => {
    const edge = (from: string, to: string) => ({ from, to, specifier: to, typeOnly: false });
    expect(cycles([edge('a', 'b'), edge('b', 'c'), edge('c', 'a')])).toEqual([['a', 'b', 'c']]);
    expect(cycles([edge('a', 'b'), edge('a', 'c'), edge('b', 'd'), edge('c', 'd')])).toEqual([]);
  });
});

describe.each(PACKAGES)('package %s', (name) => {
  const imports = importsIn(root, name);

  test('has sources to read', () => {
    expect(sourcesOf(root, name).length).toBeGreaterThan(0);
  });

  test('uses only packages below it', () => {
    const wrong = imports.filter(({ specifier }) => {
      const used = /^@pourline\/([a-z]+)/.exec(specifier)?.[1];
      return used !== undefined && used !== name && !MAY_USE[name].includes(used as PackageName);
    });
    expect(wrong.map((i) => `${i.from} imports ${i.specifier}`)).toEqual([]);
  });

  test('reaches into no other folder, and every file it names is there', () => {
    const outside = imports.filter((i) => i.to !== null && !i.to.startsWith(`${name}/`) && !shared(i));
    expect(outside.map((i) => `${i.from} imports ${i.specifier}`)).toEqual([]);
    const missing = imports.filter(({ to }) => to !== null && !existsSync(join(root, to)));
    expect(missing.map((i) => `${i.from} imports ${i.specifier}`)).toEqual([]);
  });

  test('uses only packages that its package.json names', () => {
    const said = JSON.parse(readFileSync(join(root, name, 'package.json'), 'utf8'));
    const named = new Set([
      ...Object.keys(said.dependencies ?? {}),
      ...Object.keys(said.devDependencies ?? {}),
      said.name,
    ]);
    const undeclared = imports.filter(({ to, specifier, typeOnly }) => {
      if (to !== null || typeOnly || /^(node:|virtual:|https?:|\/)/.test(specifier)) return false;
      const parts = specifier.split('/');
      return !named.has(specifier.startsWith('@') ? parts.slice(0, 2).join('/') : parts[0]!);
    });
    expect(undeclared.map((i) => `${i.from} imports ${i.specifier}`)).toEqual([]);
  });

  test('has no loop among its files', () => {
    expect(cycles(imports)).toEqual([]);
  });
});

describe('core', () => {
  test('imports nothing of Node', () => {
    const wrong = importsIn(root, 'core').filter(({ specifier }) => specifier.startsWith('node:'));
    expect(wrong.map((i) => `${i.from} imports ${i.specifier}`)).toEqual([]);
  });

  test('type-checks with the language alone: no DOM, no Node, no clock of a host', {
    timeout: 60_000,
  }, () => {
    const tsc = join(root, 'node_modules/typescript/bin/tsc');
    const result = spawnSync(process.execPath, [tsc, '-p', join(root, 'scripts/tsconfig.core.json')], {
      encoding: 'utf8',
    });
    expect(result.stdout).toBe('');
    expect(result.status).toBe(0);
  });

  test('reads no clock and no unseeded randomness', () => {
    const wrong = sourcesOf(root, 'core').filter((path) =>
      /\bDate\.now\(|\bnew Date\(\)|\bMath\.random\(/.test(readFileSync(join(root, path), 'utf8')),
    );
    expect(wrong).toEqual([]);
  });
});
