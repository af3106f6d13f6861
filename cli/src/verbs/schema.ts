import { isKind, jsonSchemaOf, KINDS } from '@pourline/core';
import type { Command } from 'commander';
import { EXIT, Stop } from '../exit.ts';
import { toJson } from '../io.ts';

function run(kind: string | undefined): void {
  if (kind === undefined) {
    process.stdout.write(toJson(Object.fromEntries(KINDS.map((k) => [k, jsonSchemaOf(k)]))));
    return;
  }
  if (!isKind(kind))
    throw new Stop(EXIT.usage, `There is no kind of document "${kind}". There are ${KINDS.join(', ')}.`);
  process.stdout.write(toJson(jsonSchemaOf(kind)));
}

/** `schema`: a kind of document → its JSON Schema. */
export function addSchema(program: Command): void {
  program
    .command('schema')
    .description('print the JSON Schema (draft 2020-12) of one kind of document, or of all by kind')
    .argument('[kind]', KINDS.join(', '))
    .option('--json', 'said for symmetry: the answer is always JSON')
    .addHelpText('after', '\nExamples\n  pourline schema plan > plan.schema.json\n  pourline schema')
    .action(run);
}
