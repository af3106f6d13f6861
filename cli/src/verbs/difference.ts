import { PLAIN_DIFFERENCE, pourSensitivities } from '@pourline/core';
import type { Command } from 'commander';
import { bundleFrom, readArchive } from '../archive.ts';
import { stopWithProblems } from '../io.ts';
import { addPlainVerb } from './plain-verb.ts';

/** For `pours`: a plan of an archive gives what its pours do, unless the table already says so. */
function withSensitivities(table: unknown, options: Readonly<Record<string, unknown>>): unknown {
  const { archive, plan, json } = options;
  if (typeof archive !== 'string' || typeof table !== 'object' || table === null || 'sensitivities' in table)
    return table;
  const bundle = bundleFrom(readArchive(archive, json === true), typeof plan === 'string' ? plan : undefined);
  if (!bundle.ok) stopWithProblems(bundle.problems, json === true);
  const found = pourSensitivities(bundle.value, { resolution: 'standard' });
  // Plain JSON: what does not exist is null, not NaN.
  return { ...table, sensitivities: JSON.parse(JSON.stringify(found)) as unknown };
}

/** `difference`: is a difference real, are cups the same, which pour was it. */
export const addDifference = (program: Command): void =>
  addPlainVerb(program, {
    name: 'difference',
    description:
      'brews against each other: is a difference real, are three cups the same, which pour caused it',
    help: `Examples
  pourline difference brews --example | pourline difference brews -
  pourline difference plan --example | pourline difference plan -
  pourline difference pours cups.json --archive demo.json --plan "Four pours, cool then hot"`,
    questions: PLAIN_DIFFERENCE,
    prepare: (command, table, options) => (command === 'pours' ? withSensitivities(table, options) : table),
    more(command, to) {
      if (command !== 'pours') return;
      to.option('--archive <file>', 'campaign archive with the plan that was brewed, for what its pours do');
      to.option('--plan <name>', 'name or id of the plan, when the archive holds several');
    },
  });
