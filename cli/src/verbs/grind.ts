import { MODEL_NAMES } from '@pourline/core';
import { type Command, InvalidArgumentError, Option } from 'commander';
import { runCurve, runJars, runMeasure, runMix, runSieves, runTransfer } from '../grind/run-grind.ts';

const within =
  (low: number, high: number, what: string) =>
  (text: string): number => {
    const value = Number(text);
    if (text.trim() === '' || !(value >= low && value <= high))
      throw new InvalidArgumentError(`"${text}" is not ${what} from ${low} to ${high}.`);
    return value;
  };

/** Numbers parted by commas; `count` of them when given. */
const numbers =
  (count?: number) =>
  (text: string): number[] => {
    const list = text.split(',').map(Number);
    const right = list.every(Number.isFinite) && (count === undefined || list.length === count);
    if (!right)
      throw new InvalidArgumentError(`"${text}" is not ${count ?? 'a list of'} numbers parted by commas.`);
    return list;
  };

/** `grind`: measure, mix, curve, transfer, jars, sieves. All answers are JSON. */
export function addGrind(program: Command): void {
  const grind = program
    .command('grind')
    .description('grinds: what is in them, mixed and weighed, and which setting gives them (always JSON)')
    .addHelpText(
      'after',
      `
Examples
  pourline grind measure sieves.json
  pourline grind measure laser.csv --fines 63 --model two_modes
  pourline grind measure grains.jpg --coin-mm 23.25
  pourline grind mix mix.json --brew campaign.json --plan "Four pours"
  pourline grind curve campaign.json --grinder "Bench grinder" --at 7,8.5 --d50 750
  pourline grind transfer brews.json

A measurement is an archive, a document of kind sizing, its data alone, text in columns, or a PNG or JPEG:
  { "by": "sieves", "load_g": 30, "sieves": [{ "aperture_um": 850, "weighed_g": 4.1 }], "pan": { "weighed_g": 2.2 } }
A mix:
  { "parts": [{ "name": "coarse", "share": 0.7, "distribution": { … } }], "dose_g": 15, "cups": 3, "step_g": 0.1 }
Measured settings:
  { "points": [{ "name": "eight", "dial": 8, "data": { "by": "sieves", … } }] }
A transfer by brews:
  { "by": "brews", "wanted": { "drawdown_s": 170, "yield_pct": 21 }, "brews": [{ "dial": 20, "drawdown_s": 210 }] }
Jars:
  { "jars": [{ "name": "A", "weighed_g": 16.1 }], "brewers_g": [16, 16], "tolerance_g": 0.1 }`,
    );
  addMeasure(grind);
  grind
    .command('mix')
    .description('what to grind and weigh for a mix, what it is, and with a brew what it does')
    .argument('<file>', 'the mix (JSON), or - for standard input')
    .option(
      '-b, --brew <archive>',
      'an archive with a plan: flow and release of the mix and of each part alone',
    )
    .option('-p, --plan <name>', 'name or id of the plan; not needed when there is only one')
    .action(runMix);
  addCurve(grind);
  grind
    .command('transfer')
    .description('the setting of another grinder, from brews of both or from their measured sizes')
    .argument('<file>', 'the brews or points (JSON), or - for standard input')
    .action(runTransfer);
  grind
    .command('jars')
    .description('jars weighed against doses: which goes where, which is off, which is spare')
    .argument('<file>', 'the jars (JSON), or - for standard input')
    .action(runJars);
  grind
    .command('sieves')
    .description('openings of ISO 3310-1 and ASTM E11 with mesh numbers and tolerances')
    .action(runSieves);
  for (const command of grind.commands) command.exitOverride();
}

function addMeasure(grind: Command): void {
  grind
    .command('measure')
    .description('sizes with their spread from sieves, a table or a photograph')
    .argument('<file>', 'JSON, CSV, PNG or JPEG; or - for JSON or CSV on standard input')
    .option(
      '-s, --sizing <name>',
      'name or id of the sizing of an archive; not needed when there is only one',
    )
    .addOption(new Option('-m, --model <name>', 'model to take').choices(['best', ...MODEL_NAMES]))
    .option('--fines <um>', 'grains below this are fines', within(10, 1000, 'a size in µm'))
    .option('--draws <n>', 'draws of the bootstrap', within(0, 5000, 'a number'), 200)
    .option('--seed <n>', 'seed of the bootstrap', within(0, 2 ** 31, 'a number'))
    .option('--pixel-um <um>', 'picture: side of a pixel on the sheet', within(0.05, 1000, 'a size in µm'))
    .option('--ruler <x1,y1,x2,y2,mm>', 'picture: two points [px] and the length between them', numbers(5))
    .option('--coin-mm <mm>', 'picture: diameter of a coin in it', within(5, 60, 'a diameter in mm'))
    .option(
      '--card-mm <mm>',
      'picture: distance of the corner marks of the printed card',
      within(5, 500, 'mm'),
    )
    .option('--check-line-mm <mm>', 'picture: length of the check line as printed', within(5, 500, 'mm'))
    .action(runMeasure);
}

function addCurve(grind: Command): void {
  grind
    .command('curve')
    .description(
      'a grinder’s settings: sizes at a setting, and the setting for a size, a grind or a drawdown',
    )
    .argument('<file>', 'an archive with a grinder and its sizings, or measured settings (JSON), or -')
    .option('-g, --grinder <name>', 'name or id of the grinder; not needed when there is only one')
    .option('--at <dials>', 'settings to look at, parted by commas', numbers())
    .option('--d50 <um>', 'which setting gives this median', within(10, 5000, 'a size in µm'))
    .option('--like <file>', 'which setting gives the sizes of this measurement')
    .option('--drawdown <s>', 'at which setting a plan draws down in this time', within(1, 7200, 'seconds'))
    .option('-p, --plan <name>', 'the plan for --drawdown; not needed when there is only one')
    .option('--known <dial,s>', 'a brew of that plan: its setting and drawdown', numbers(2))
    .option('--touch <dial>', 'where the burrs touch today', within(-1000, 100000, 'a reading'))
    .option('--beans <celsius>', 'temperature of the beans', within(-80, 60, 'a temperature'))
    .option('--burrs <kg>', 'coffee that the burrs have ground', within(0, 1e6, 'kg'))
    .action(runCurve);
}
