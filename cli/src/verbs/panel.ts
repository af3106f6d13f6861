import { PLAIN_PANEL } from '@pourline/core';
import type { Command } from 'commander';
import { readJson, stopWithProblems, toJson } from '../io.ts';
import { panelText } from '../text/panel.ts';

function answer(kind: string, file: string, { json = false }: { json?: boolean }): void {
  const found = PLAIN_PANEL[kind]!.answer(readJson(file));
  if (!found.ok) stopWithProblems(found.problems, json);
  process.stdout.write(json ? toJson(found.value) : panelText(kind, found.value));
}

/** `panel`: every statistic of a tasting panel, each from a table typed by hand. */
export function addPanel(program: Command): void {
  const panel = program
    .command('panel')
    .description('tastings: what so many cups can show, what they showed, and what to say')
    .addHelpText(
      'after',
      `
Every command reads one JSON file (or - for standard input) and prints sentences with the figures behind them; --json gives
everything. A small input that works: pourline panel <command> --example. In JSON, null also stands for "without bound".

Examples
  echo '{"protocol": "triangle", "answers": 12}' | pourline panel plan -
  echo '{"protocol": "triangle", "correct": 4, "answers": 5}' | pourline panel difference -
  pourline panel serve --example | pourline panel serve -
  pourline panel description tasting.json --json`,
    );
  for (const [kind, { about, example }] of Object.entries(PLAIN_PANEL))
    panel
      .command(kind)
      .description(about)
      .argument('[file]', 'the table (JSON), or - for standard input', '-')
      .option('--json', 'every figure, and the findings with their codes, as JSON')
      .option('--example', 'print a small input that works, and do nothing else')
      .action((file: string, options: { json?: boolean; example?: boolean }) => {
        if (options.example) process.stdout.write(toJson(example));
        else answer(kind, file, options);
      });
  for (const command of panel.commands) command.exitOverride();
}
