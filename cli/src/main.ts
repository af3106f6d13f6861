import { CORE_VERSION } from '@pourline/core';
import { Command, CommanderError } from 'commander';
import { EXIT, type ExitCode, Stop } from './exit.ts';
import { addBackup } from './verbs/backup.ts';
import { addCheck } from './verbs/check.ts';
import { addDemo } from './verbs/demo.ts';
import { addDesign } from './verbs/design.ts';
import { addDifference } from './verbs/difference.ts';
import { addExport } from './verbs/export.ts';
import { addFit } from './verbs/fit.ts';
import { addGrind } from './verbs/grind.ts';
import { addImport } from './verbs/import.ts';
import { addNext } from './verbs/next.ts';
import { addPanel } from './verbs/panel.ts';
import { addRestore } from './verbs/restore.ts';
import { addSchema } from './verbs/schema.ts';
import { addServe } from './verbs/serve.ts';
import { addSimulate } from './verbs/simulate.ts';
import { addStage } from './verbs/stage.ts';
import { addTrial } from './verbs/trial.ts';
import { addWater } from './verbs/water.ts';

/** The whole command line, ready to parse. */
export function makeProgram(): Command {
  const program = new Command('pourline')
    .description('Plan hand-poured coffee for the stage and see a physically computed cup.')
    .version(CORE_VERSION)
    .showHelpAfterError('(add --help for the options and examples)')
    .addHelpText(
      'after',
      `
Files are read from a path, or from standard input for "-".

Exit codes
  ${EXIT.ok}  done
  ${EXIT.problems}  the input was read and something in it is wrong
  ${EXIT.usage}  the command line is wrong
  ${EXIT.notFound}  something named is not there, or cannot be read or written
  ${EXIT.fault}  a fault of the program

Examples
  pourline demo --out demo.json
  pourline simulate demo.json --plan "Four pours, cool then hot"
  pourline schema plan
  pourline serve --port 4700`,
    );
  for (const add of [
    addSimulate,
    addFit,
    addWater,
    addPanel,
    addGrind,
    addStage,
    addTrial,
    addDifference,
    addDesign,
    addNext,
    addCheck,
    addSchema,
    addDemo,
    addServe,
    addExport,
    addImport,
    addBackup,
    addRestore,
  ])
    add(program);
  // Commander's own wish is to exit with 1 on a wrong command line; here 1 means a wrong input.
  for (const command of [program, ...program.commands]) command.exitOverride();
  return program;
}

function codeOf(error: unknown): ExitCode {
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.ok : EXIT.usage;
  if (error instanceof Stop) {
    for (const sentence of error.sentences) process.stderr.write(`${sentence}\n`);
    return error.code;
  }
  process.stderr.write(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
  return EXIT.fault;
}

/** Runs one command line and sets the exit code. */
export async function main(argv: readonly string[]): Promise<void> {
  // A reader that went away (a closed pager) is no fault of ours.
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(EXIT.ok);
    throw error;
  });
  try {
    await makeProgram().parseAsync([...argv]);
  } catch (error) {
    process.exitCode = codeOf(error);
  }
}
