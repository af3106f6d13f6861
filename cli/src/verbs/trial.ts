import { type Command, InvalidArgumentError, Option } from 'commander';
import { runBalance, runLiking, runLines, runTrace } from '../trial/run-trial.ts';

const seed = (text: string): number => {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 0)
    throw new InvalidArgumentError(`"${text}" is not a whole number.`);
  return value;
};

/** `trial`: trace, balance, liking, lines. All answers are JSON. */
export function addTrial(program: Command): void {
  const trial = program
    .command('trial')
    .description('what happened in a brew: recordings, mass balance, liking, live lines (always JSON)')
    .addHelpText(
      'after',
      `
Examples
  pourline trial trace scale.csv
  pourline trial trace scale.csv --look > mapping.json
  pourline trial trace scale.csv --campaign campaign.json --plan "Four pours"
  pourline trial balance brew.json
  pourline trial balance campaign.json --trial "Two days later"
  pourline trial liking campaign.json --when warm
  pourline trial lines caught.txt --pattern "{stable:ST}{moving:US},{skip},{number} {unit}"

A brew:
  { "dose_g": 15, "water_g": 250, "beverage_g": 217, "strength_readings": [{ "strength_pct": 1.42 }],
    "refractometer": { "repeat_pct": 0.01, "limit_pct": 0.03 } }

A recording is text in columns; what they are is guessed and told, and can be set right: take "mapping" of the answer,
change it, and give it back with --mapping.`,
    );
  trial
    .command('trace')
    .description('pours, drawdown and remarks of a recording; with a campaign, the plan as it was poured')
    .argument('<file>', 'recording (CSV or the like), or - for standard input')
    .option('-m, --mapping <file>', 'how its columns are read (JSON)')
    .option('--look', 'only say what the file seems to be')
    .option('-c, --campaign <archive>', 'an archive with the plan that was brewed')
    .option('-p, --plan <name>', 'name or id of the plan; not needed when there is only one')
    .action(runTrace);
  trial
    .command('balance')
    .description('strength, yield and held liquid, each with its doubt and the causes of it')
    .argument('<file>', 'a brew (JSON), an archive, or - for standard input')
    .option('-t, --trial <name>', 'name or id of the trial of an archive; not needed when there is only one')
    .action(runBalance);
  trial
    .command('liking')
    .description('where in the plane of strength and yield the marks of a campaign lie highest')
    .argument('<archive>', 'the campaign, or - for standard input')
    .option('--by <name>', 'one taster only')
    .addOption(new Option('--when <stage>', 'marks of one stage only').choices(['hot', 'warm', 'cold']))
    .option('--seed <n>', 'seed of the draws', seed)
    .action(runLiking);
  trial
    .command('lines')
    .description('readings in what a balance or thermometer printed')
    .argument('<file>', 'the lines as they were caught, or - for standard input')
    .option('--pattern <text>', 'what a line looks like; without it the first number and its unit')
    .option('--unit <unit>', 'unit when the lines name none', 'g')
    .action(runLines);
  for (const command of trial.commands) command.exitOverride();
}
