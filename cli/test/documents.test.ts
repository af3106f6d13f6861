import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { checkArchive, KINDS } from '@pourline/core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makeProgram } from '../src/main.ts';
import { pourline } from './run-pourline.ts';

let folder: string;
let demo: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'pourline-cli-'));
  demo = (await pourline(['demo'])).out;
});
afterAll(() => rmSync(folder, { recursive: true }));

const change = (edit: (documents: Record<string, unknown>[]) => void): string => {
  const archive = JSON.parse(demo) as { documents: Record<string, unknown>[] };
  edit(archive.documents);
  return JSON.stringify(archive);
};

describe('pourline', () => {
  test('says what it can do, with examples and exit codes', async () => {
    const { code, out } = await pourline(['--help']);
    expect(code).toBe(0);
    for (const verb of [
      'simulate',
      'check',
      'schema',
      'demo',
      'serve',
      'export',
      'import',
      'backup',
      'restore',
    ])
      expect(out).toMatch(new RegExp(`^ {2}${verb}\\b`, 'm'));
    expect(out).toContain('Exit codes');
    expect(out).toContain('Examples');
  });

  test('gives every verb a help of its own with an example that names it', () => {
    for (const verb of makeProgram().commands) {
      let out = '';
      verb.configureOutput({
        writeOut: (text) => {
          out += text;
        },
      });
      verb.outputHelp();
      expect(out).toMatch(new RegExp(`Examples\\n.*pourline.*${verb.name()}`));
    }
  });

  test.each([
    [['nonsense'], "unknown command 'nonsense'"],
    [['check'], "missing required argument 'file'"],
    [['check', 'a', 'b'], 'too many arguments'],
    [['schema', '--colour'], "unknown option '--colour'"],
    [['backup'], "required option '-o, --out <file>' not specified"],
  ])('%j is a wrong command line: code 2', async (args, sentence) => {
    const { code, out, err } = await pourline(args);
    expect(err).toContain(sentence);
    expect(code).toBe(2);
    expect(out).toBe('');
  });

  test('without a verb shows the help and code 2', async () => {
    const { code, err } = await pourline([]);
    expect(err).toContain('Usage: pourline');
    expect(code).toBe(2);
  });
});

describe('demo', () => {
  test('prints a valid archive', () => {
    expect(checkArchive(JSON.parse(demo)).ok).toBe(true);
  });

  test('writes a file once, and again only when asked to', async () => {
    const file = join(folder, 'demo.json');
    expect((await pourline(['demo', '--out', file])).code).toBe(0);
    expect(readFileSync(file, 'utf8')).toBe(demo);
    writeFileSync(file, 'mine');
    const again = await pourline(['demo', '--out', file]);
    expect(again.code).toBe(3);
    expect(again.err).toContain(`${file} is already there`);
    expect(readFileSync(file, 'utf8')).toBe('mine');
    expect((await pourline(['demo', '--out', file, '--force'])).code).toBe(0);
    expect(readFileSync(file, 'utf8')).toBe(demo);
  });

  test('says why it cannot write', async () => {
    const { code, err } = await pourline(['demo', '--out', join(folder, 'no', 'such', 'x.json')]);
    expect(code).toBe(3);
    expect(err).toContain('there is no such file or folder');
  });
});

describe('schema', () => {
  test('prints the JSON Schema of one kind', async () => {
    const { code, out } = await pourline(['schema', 'plan']);
    expect(code).toBe(0);
    const schema = JSON.parse(out);
    expect(schema.$schema).toContain('2020-12');
    expect(Object.keys(schema.properties)).toContain('dose_g');
  });

  test('prints all kinds when none is named', async () => {
    expect(Object.keys(JSON.parse((await pourline(['schema'])).out))).toEqual(KINDS);
  });

  test('refuses a kind that is not there', async () => {
    const { code, err } = await pourline(['schema', 'teapot']);
    expect(code).toBe(2);
    expect(err).toContain('no kind of document "teapot"');
    expect(err).toContain('plan');
  });
});

describe('check', () => {
  test('finds nothing wrong with the demo, from a pipe', async () => {
    const { code, out } = await pourline(['check', '-'], demo);
    expect(code).toBe(0);
    expect(out).toContain('Nothing is wrong: 1 campaign, 2 coffee');
  });

  test('takes one document too', async () => {
    const plan = JSON.parse(demo).documents.find((d: { kind: string }) => d.kind === 'plan');
    expect((await pourline(['check', '-'], JSON.stringify(plan))).code).toBe(0);
  });

  test('names the field, the value and what would be valid', async () => {
    const bad = change((documents) => {
      documents.find((d) => d.kind === 'plan')!.dose_g = 0;
    });
    const { code, out, err } = await pourline(['check', '-'], bad);
    expect(code).toBe(1);
    expect(out).toBe('');
    expect(err).toMatch(/dose/i);
    expect(err).toContain('0 g');
    expect(err).toContain('1 g');
  });

  test('gives problems as JSON, with their paths', async () => {
    const bad = change((documents) => {
      documents.find((d) => d.kind === 'plan')!.dose_g = -3;
    });
    const { code, out } = await pourline(['check', '-', '--json'], bad);
    expect(code).toBe(1);
    const { problems } = JSON.parse(out);
    expect(problems).toHaveLength(1);
    expect(problems[0].path.at(-1)).toBe('dose_g');
  });

  test('finds a plan and a trial that point nowhere', async () => {
    const nowhere = '019b8000-0000-7fff-8000-000000000001';
    const bad = change((documents) => {
      documents.find((d) => d.kind === 'plan')!.coffee_id = nowhere;
      documents.find((d) => d.kind === 'trial')!.plan_id = nowhere;
    });
    const { code, out } = await pourline(['check', '-', '--json'], bad);
    expect(code).toBe(1);
    expect(JSON.parse(out).problems.map((p: { path: string[] }) => p.path.at(-1))).toEqual([
      'coffee_id',
      'plan_id',
    ]);
  });

  test('finds a batch of water and a mix of grinds that point nowhere', async () => {
    const nowhere = '019b8000-0000-7fff-8000-000000000001';
    const bad = change((documents) => {
      documents.find((d) => d.kind === 'batch')!.mix_id = nowhere;
      const blend = documents.find((d) => d.kind === 'blend')!;
      (blend.parts as { grinder_id: string }[])[0]!.grinder_id = nowhere;
    });
    const { code, out } = await pourline(['check', '-', '--json'], bad);
    expect(code).toBe(1);
    expect(
      JSON.parse(out)
        .problems.map((p: { path: string[] }) => p.path.at(-1))
        .sort(),
    ).toEqual(['grinder_id', 'mix_id']);
  });

  test.each([
    ['', /Standard input is not JSON/],
    ['null', /./],
    ['{"kind":"teapot","version":1}', /campaign/],
    ['{"format":"something-else","version":1,"documents":[]}', /pourline-archive/],
  ])('answers %j with a sentence and code 1', async (input, sentence) => {
    const { code, err } = await pourline(['check', '-'], input);
    expect(code).toBe(1);
    expect(err.trim()).toMatch(sentence);
    expect(err).not.toMatch(/\n\s+at /);
  });

  test('says that a file is not there: code 3', async () => {
    const { code, err } = await pourline(['check', join(folder, 'none.json')]);
    expect(code).toBe(3);
    expect(err).toContain('there is no such file');
  });
});
