import {
  type CarbonRule,
  checkArchive,
  checkLabel,
  conductivity25,
  convertHardness,
  convertIon,
  gatherOrder,
  HARDNESS_UNITS,
  type HardnessUnit,
  ION_FIELDS,
  ION_UNITS,
  type IonField,
  type IonUnit,
  ionsOf,
  type Mix,
  makingSteps,
  mistakesOf,
  mixWaters,
  ppmMeanings,
  readPlainMixture,
  readPlainOrder,
  readPlainWater,
  type Speciation,
  saturationDoubt,
  saturationIndex,
  solveWaters,
  solveWithConcentrates,
  speciate,
  speciesTable,
  type WaterOrder,
} from '@pourline/core';
import { type Command, InvalidArgumentError, Option } from 'commander';
import { pick } from '../archive.ts';
import { EXIT, Stop } from '../exit.ts';
import { readJson, stopWithProblems, toJson } from '../io.ts';
import { sheetsText } from '../text/water.ts';

const within =
  (low: number, high: number, what: string) =>
  (text: string): number => {
    const value = Number(text);
    if (text.trim() === '' || !(value >= low && value <= high))
      throw new InvalidArgumentError(`"${text}" is not ${what} from ${low} to ${high}.`);
    return value;
  };

/** The order in a file: a mix of an archive, or an order written by hand. */
function orderFrom(file: string, wanted: string | undefined, json: boolean): WaterOrder {
  const input = readJson(file);
  if (typeof input !== 'object' || input === null || !('format' in input)) {
    const order = readPlainOrder(input);
    return order.ok ? order.value : stopWithProblems(order.problems, json);
  }
  const archive = checkArchive(input);
  if (!archive.ok) stopWithProblems(archive.problems, json);
  const { documents } = archive.value;
  const mixes = documents.filter((d): d is Mix => d.kind === 'mix' && !d.archived);
  const order = gatherOrder(pick('mix', mixes, wanted), (id) => documents.find((d) => d.id === id));
  return order.ok ? order.value : stopWithProblems(order.problems, json);
}

function solve(
  file: string,
  {
    mix,
    bottles,
    batches,
    json = false,
  }: { mix?: string; bottles?: 'syringe' | 'balance' | 'drops'; batches: number; json?: boolean },
): void {
  const order = orderFrom(file, mix, json);
  const designed = bottles
    ? solveWithConcentrates(order, { given_by: bottles, batches, container_mL: null })
    : { concentrates: [], solved: solveWaters(order) };
  const { concentrates, solved } = designed;
  const used = bottles
    ? { ...order, jars: [], concentrates: [...order.concentrates, ...concentrates.map((c) => c.concentrate)] }
    : order;
  if (!json) {
    for (const { recipe, volume_mL, remarks } of concentrates) {
      const parts = recipe.parts.map(
        ({ grams, form }) => `${grams.toFixed(2)} g ${form.salt.replaceAll('_', ' ')}`,
      );
      process.stdout.write(
        `${recipe.name}: ${parts.join(' + ')} in ${recipe.water_g} g of water (${volume_mL.toFixed(0)} mL)\n`,
      );
      for (const { level, sentence } of remarks) process.stdout.write(`  ${level}: ${sentence}\n`);
    }
    process.stdout.write(sheetsText(used, solved));
    return;
  }
  const sheets = solved.sheets.map((sheet) => ({
    ...sheet,
    ions: ionsOf(sheet.composition),
    steps: makingSteps(used, sheet),
    mistakes: mistakesOf(used, sheet),
  }));
  process.stdout.write(toJson({ ...solved, sheets, concentrates }));
}

/** What is written of one speciated water. */
const report = (s: Speciation) => ({
  temperature_C: s.temperature_C,
  pH: s.pH,
  ionic_strength_mol_kg: s.ionicStrength,
  total_carbon_mmol_kg: 1e3 * s.carbon,
  alkalinity_meq_kg: 1e3 * s.composition.alkalinity,
  conductivity_25_uS_cm: conductivity25(s),
  calcite_index: saturationIndex(s),
  calcite_index_doubt: saturationDoubt(s.medium.T),
  species_mmol_kg: speciesTable(s),
  ions: ionsOf(s.composition),
});

interface Standing {
  at: number;
  closed?: boolean;
  ph?: number;
}

function standingRule({ closed, ph }: Standing): CarbonRule | 'closed' | 'air' {
  if (ph !== undefined) return { by: 'pH', pH: ph };
  return closed ? 'closed' : 'air';
}

function stopIfImpossible(s: Speciation, { ph }: Standing): Speciation {
  if (!s.stats.converged || !(s.ionicStrength < 1))
    throw new Stop(
      EXIT.problems,
      ph === undefined
        ? 'This water is too strong to be computed; ionic strength must stay below 1 mol/kg.'
        : `A pH of ${ph} cannot go with this alkalinity. Check both, or leave --ph out.`,
    );
  return s;
}

function runSpeciate(file: string, options: Standing): void {
  const read = readPlainWater(readJson(file));
  if (!read.ok) stopWithProblems(read.problems, true);
  const label = checkLabel(read.value);
  const ph = options.ph ?? (options.closed ? undefined : read.value.pH);
  const standing = ph === undefined ? options : { ...options, ph };
  const s = speciate(label.composition, { temperature_C: options.at, carbon: standingRule(standing) });
  stopIfImpossible(s, standing);
  process.stdout.write(
    toJson({
      ...report(s),
      ppm: ppmMeanings(label.composition),
      remarks: label.remarks,
      proposals: label.proposals,
    }),
  );
}

function runMix(file: string, options: Standing): void {
  const read = readPlainMixture(readJson(file));
  if (!read.ok) stopWithProblems(read.problems, true);
  const checked = read.value.map(({ mass_g, water }) => {
    const label = checkLabel(water);
    // A part with a pH brings the carbon that this pH means.
    const own = water.pH === undefined ? 'air' : ({ by: 'pH', pH: water.pH } as const);
    const s = stopIfImpossible(speciate(label.composition, { temperature_C: 25, carbon: own }), {
      at: 25,
      ...(water.pH === undefined ? {} : { ph: water.pH }),
    });
    return { of: s.composition, mass: mass_g, remarks: label.remarks };
  });
  const s = speciate(mixWaters(checked), { temperature_C: options.at, carbon: standingRule(options) });
  stopIfImpossible(s, options);
  process.stdout.write(toJson({ ...report(s), remarks: checked.flatMap(({ remarks }) => remarks) }));
}

function runConvert(text: string, from: string, to: string, { ion }: { ion?: string }): void {
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value)) throw new Stop(EXIT.usage, `"${text}" is not a number.`);
  const units = ion === undefined ? Object.keys(HARDNESS_UNITS) : [...ION_UNITS];
  for (const unit of [from, to])
    if (!units.includes(unit))
      throw new Stop(EXIT.usage, `There is no unit "${unit}" here. There are ${units.join(', ')}.`);
  const result =
    ion === undefined
      ? convertHardness(value, from as HardnessUnit, to as HardnessUnit)
      : convertIon(value, `${ion}_mg_L` as IonField, from as IonUnit, to as IonUnit);
  process.stdout.write(toJson({ value: result, unit: to, of: ion ?? 'hardness or alkalinity' }));
}

const ION_NAMES = ION_FIELDS.map((field) => field.replace('_mg_L', ''));

/** `water`: solve, speciate, mix, convert. */
export function addWater(program: Command): void {
  const water = program
    .command('water')
    .description('waters: how to make them, what is in them, what they make together')
    .addHelpText(
      'after',
      `
Examples
  pourline water solve order.json --json
  pourline water solve campaign.json --mix "Two waters" --bottles syringe
  echo '{"calcium_mg_L": 80, "bicarbonate_mg_L": 244, "pH": 7.3}' | pourline water speciate - --at 93 --closed
  pourline water convert 8 dH mg_L_CaCO3
  pourline water convert 80 mg_L mg_L_CaCO3 --ion calcium`,
    );
  water
    .command('solve')
    .description('from what stands on the shelf to what must be weighed or dosed')
    .argument('<file>', 'an archive with a mix, or an order written by hand (JSON), or - for standard input')
    .option('-m, --mix <name>', 'name or id of the mix of an archive; not needed when there is only one')
    .addOption(
      new Option('-b, --bottles <how>', 'design concentrates, given by').choices([
        'syringe',
        'balance',
        'drops',
      ]),
    )
    .option(
      '--batches <n>',
      'how often each water will be made of one bottle',
      within(1, 1000, 'a number'),
      3,
    )
    .option('--json', 'everything as JSON: sheets, steps, spread, mistakes, remarks')
    .action(solve);
  const standing = (command: Command) =>
    command
      .option('--at <celsius>', 'temperature', within(0, 100, 'a temperature'), 25)
      .option('--closed', 'no CO2 comes or goes; otherwise the water stands open to air')
      .option('--ph <pH>', 'a measured pH fixes the carbon', within(0, 14, 'a pH'));
  standing(
    water
      .command('speciate')
      .description(
        'pH, species, scale, conductivity of one water; its label held against itself (always JSON)',
      )
      .argument('<file>', 'a water (JSON: calcium_mg_L …, and pH), or - for standard input'),
  ).action(runSpeciate);
  standing(
    water
      .command('mix')
      .description('what waters make together (always JSON)')
      .argument('<file>', '{ "parts": [{ "mass_g": 100, "water": { … } }] }, or - for standard input'),
  ).action(runMix);
  water
    .command('convert')
    .description('units of hardness and alkalinity, or with --ion of one ion (always JSON)')
    .argument('<value>', 'a number')
    .argument('<from>', Object.keys(HARDNESS_UNITS).join(', '))
    .argument('<to>', 'the same')
    .addOption(
      new Option('--ion <name>', `the ion; its units are ${ION_UNITS.join(', ')}`).choices(ION_NAMES),
    )
    .action(runConvert);
  for (const command of water.commands) command.exitOverride();
}
