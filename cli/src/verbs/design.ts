import { PLAIN_DESIGN } from '@pourline/core';
import type { Command } from 'commander';
import { addPlainVerb } from './plain-verb.ts';

/** `design`: sets of brews planned together, their sheets, and what they taught. */
export const addDesign = (program: Command): void =>
  addPlainVerb(program, {
    name: 'design',
    description: 'sets of brews planned together: which there are, the sheet to brew from, what they taught',
    help: `Examples
  pourline design choices --example | pourline design choices -
  pourline design make --example | pourline design make -
  pourline design analyse results.json --json`,
    questions: PLAIN_DESIGN,
  });
