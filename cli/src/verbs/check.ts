import {
  type AnyDocument,
  bundlePlan,
  checkArchive,
  checkBundle,
  checkDocument,
  checkTrial,
  gatherOrder,
  type Problem,
  problem,
  type Sizing,
  type Talk,
} from '@pourline/core';
import type { Command } from 'commander';
import { readJson, stopWithProblems, toJson } from '../io.ts';

const isArchive = (input: unknown): boolean =>
  typeof input === 'object' && input !== null && 'format' in input;

interface Found {
  problems: Problem[];
  cautions: Problem[];
}

/** What only shows when documents meet: references that lead nowhere, plans that cannot be done as written. */
function whereTheyMeet(documents: readonly AnyDocument[]): Found {
  const byId = new Map(documents.map((d) => [d.id, d]));
  const found: Found = { problems: [], cautions: [] };
  documents.forEach((document, i) => {
    const under = (p: Problem) => {
      const { field: _, ...values } = p.values;
      return problem(['documents', i, ...p.path], p.code, values);
    };
    if (document.kind === 'trial')
      for (const met of checkTrial(document, (id) => byId.get(id)))
        (met.level === 'problem' ? found.problems : found.cautions).push(under(met));
    if (document.kind === 'sizing') found.problems.push(...sizingReferences(document, byId, i));
    if (document.kind === 'batch' && byId.get(document.mix_id)?.kind !== 'mix')
      found.problems.push(problem(['documents', i, 'mix_id'], 'not_found', { kind: 'mix' }));
    if (document.kind === 'talk') found.problems.push(...talkReferences(document, byId, i));
    if (document.kind === 'blend')
      document.parts.forEach((part, at) => {
        if (byId.get(part.grinder_id)?.kind !== 'grinder')
          found.problems.push(
            problem(['documents', i, 'parts', at, 'grinder_id'], 'not_found', { kind: 'grinder' }),
          );
      });
    if (document.kind === 'mix') {
      const order = gatherOrder(document, (id) => byId.get(id));
      if (!order.ok) found.problems.push(...order.problems.map(under));
    }
    if (document.kind !== 'plan') return;
    const bundle = bundlePlan(document, (id) => byId.get(id));
    if (!bundle.ok) found.problems.push(...bundle.problems.map(under));
    else
      for (const met of checkBundle(bundle.value)) {
        const row = documents.findIndex((d) => d.id === met.document_id);
        const { field: _, ...values } = met.values;
        const here = problem(['documents', row, ...met.path], met.code, values);
        (met.level === 'problem' ? found.problems : found.cautions).push(here);
      }
  });
  return found;
}

/** A measurement may say which grinder and which coffee it was of; what it says must be there. */
function sizingReferences(sizing: Sizing, byId: ReadonlyMap<string, AnyDocument>, row: number): Problem[] {
  const named = [
    ['grinder_id', 'grinder'],
    ['coffee_id', 'coffee'],
  ] as const;
  return named.flatMap(([field, kind]) => {
    const id = sizing[field];
    if (id === null || byId.get(id)?.kind === kind) return [];
    return [problem(['documents', row, field], 'not_found', { kind })];
  });
}

/** A run brews a plan; rules and a venue of its own may be left out, but what it names must be there. */
function talkReferences(talk: Talk, byId: ReadonlyMap<string, AnyDocument>, row: number): Problem[] {
  const named = [
    ['plan_id', 'plan'],
    ['contest_id', 'contest'],
    ['venue_id', 'venue'],
  ] as const;
  return named.flatMap(([field, kind]) => {
    const id = talk[field];
    if (id === null || byId.get(id)?.kind === kind) return [];
    return [problem(['documents', row, field], 'not_found', { kind })];
  });
}

function run(file: string, options: { json?: boolean }): void {
  const json = options.json ?? false;
  const input = readJson(file);
  const checked = isArchive(input) ? checkArchive(input) : checkDocument(input);
  if (!checked.ok) stopWithProblems(checked.problems, json);
  const documents = 'documents' in checked.value ? checked.value.documents : [checked.value];
  const { problems, cautions } =
    'documents' in checked.value ? whereTheyMeet(documents) : { problems: [], cautions: [] };
  if (problems.length > 0) stopWithProblems(problems, json);
  const kinds: Record<string, number> = {};
  for (const { kind } of documents) kinds[kind] = (kinds[kind] ?? 0) + 1;
  const list = Object.entries(kinds).map(([kind, n]) => `${n} ${kind}`);
  process.stdout.write(
    json
      ? toJson({ problems, cautions, kinds })
      : [`Nothing is wrong: ${list.join(', ')}.`, ...cautions.map((p) => `Caution: ${p.sentence}`), ''].join(
          '\n',
        ),
  );
}

/** `check`: an archive or one document → what is wrong with it. */
export function addCheck(program: Command): void {
  program
    .command('check')
    .description('say what is wrong with an archive or one document, field by field')
    .argument('<file>', 'archive or document (JSON), or - for standard input')
    .option('--json', 'problems and cautions as JSON, each with path, code, values and sentence')
    .addHelpText('after', '\nExamples\n  pourline check demo.json\n  pourline check my-plan.json --json')
    .action(run);
}
