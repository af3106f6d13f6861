import { PLAIN_STAGE } from '@pourline/core';
import type { Command } from 'commander';
import { readJson, stopWithProblems, toJson } from '../io.ts';
import { stageText } from '../text/stage.ts';

function answer(name: string, file: string, json: boolean): void {
  const found = PLAIN_STAGE[name]!.answer(readJson(file));
  if (!found.ok) stopWithProblems(found.problems, json);
  process.stdout.write(json ? toJson(found.value) : stageText(found.value));
}

/** `stage`: the run itself: brewers, kettles, talk, rules, points. */
export function addStage(program: Command): void {
  const stage = program
    .command('stage')
    .description('the run: several brewers and few hands, kettles, talk, rules and points')
    .addHelpText(
      'after',
      `
Every command reads one JSON file (or - for standard input) and prints sentences with the figures behind them; --json gives
everything. A small input that works: pourline stage <command> --example.

Examples
  pourline stage schedule --example | pourline stage schedule -
  pourline stage check rules-and-facts.json --json
  pourline stage price choices.json`,
    );
  for (const [name, { about, example }] of Object.entries(PLAIN_STAGE))
    stage
      .command(name)
      .description(about)
      .argument('[file]', 'the table (JSON), or - for standard input', '-')
      .option('--json', 'every figure, and the remarks with their codes, as JSON')
      .option('--example', 'print a small input that works, and do nothing else')
      .action((file: string, { json = false, example: show }: { json?: boolean; example?: boolean }) => {
        if (show) process.stdout.write(toJson(example));
        else answer(name, file, json);
      });
  for (const command of stage.commands) command.exitOverride();
}
