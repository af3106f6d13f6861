import { PLAIN_NEXT } from '@pourline/core';
import type { Command } from 'commander';
import { addPlainVerb } from './plain-verb.ts';

/** `next`: what to brew next, under so many grams and minutes. */
export const addNext = (program: Command): void =>
  addPlainVerb(program, {
    name: 'next',
    description:
      'the next brew worth its grams, champion and challenger, an unknown coffee in so many minutes',
    help: `Examples
  pourline next brew --example | pourline next brew -
  echo '{"minutes": 38, "grams": 350, "dose_g": 16, "factors": [{"name": "grind", "low": 17, "high": 23, "step": 0.5}]}' | pourline next dial-in -
  pourline next pair tried.json --json`,
    questions: PLAIN_NEXT,
  });
