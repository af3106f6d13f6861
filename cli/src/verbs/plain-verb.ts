import type { PlainKind } from '@pourline/core';
import type { Command } from 'commander';
import { readJson, stopWithProblems, toJson } from '../io.ts';
import { panelText } from '../text/panel.ts';

/** A verb with one command for each question that takes a table typed by hand. */
export interface PlainVerb {
  name: string;
  description: string;
  /** Shown after the list of commands. */
  help: string;
  questions: Readonly<Record<string, PlainKind>>;
  /** Works on a table before it is checked, for a command that has options of its own. */
  prepare?: (command: string, table: unknown, options: Readonly<Record<string, unknown>>) => unknown;
  /** Adds options of its own to a command. */
  more?: (command: string, to: Command) => void;
}

/** Adds a verb: every command reads one JSON file and prints sentences with the figures behind them. */
export function addPlainVerb(
  program: Command,
  { name, description, help, questions, prepare, more }: PlainVerb,
): void {
  const verb = program
    .command(name)
    .description(description)
    .addHelpText(
      'after',
      `
Every command reads one JSON file (or - for standard input) and prints sentences with the figures behind them; --json gives
everything. A small input that works: pourline ${name} <command> --example.

${help}`,
    );
  for (const [kind, { about, example, answer }] of Object.entries(questions)) {
    const command = verb
      .command(kind)
      .description(about)
      .argument('[file]', 'the table (JSON), or - for standard input', '-')
      .option('--json', 'every figure, and the findings with their codes, as JSON')
      .option('--example', 'print a small input that works, and do nothing else')
      .action((file: string, options: { json?: boolean; example?: boolean }) => {
        if (options.example) {
          process.stdout.write(toJson(example));
          return;
        }
        const json = options.json ?? false;
        const table = readJson(file);
        const found = answer(prepare ? prepare(kind, table, { ...options }) : table);
        if (!found.ok) stopWithProblems(found.problems, json);
        process.stdout.write(json ? toJson(found.value) : panelText(kind, found.value));
      });
    more?.(kind, command);
    command.exitOverride();
  }
}
