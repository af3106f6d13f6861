/**
 * Every constant of the engine that is not a published property of water or air: one table, each with its plausible
 * range and where it comes from. The words in `source`:
 * - "from memory": a textbook or paper value, not looked up again;
 * - "second-hand": a paper's value as quoted elsewhere, the paper not opened;
 * - "assumed": no published value was found; the range is a judgement;
 * - "chosen": set so that a named common-practice figure comes out, so that figure is no check of it;
 * - "fitted": set by `scripts/defaults`, which names the figures, those left out, and both errors.
 */
export interface Parameter {
  /** SI value. */
  value: number;
  /** Plausible range, taken as uniform when a spread is computed. */
  low: number;
  high: number;
  unit: string;
  meaning: string;
  source: string;
}

const p = (
  value: number,
  low: number,
  high: number,
  unit: string,
  meaning: string,
  source: string,
): Parameter => ({ value, low, high, unit, meaning, source });

export const PARAMETERS = {
  // --- grains and bed
  skeletalDensity: p(
    1400,
    1300,
    1450,
    'kg/m³',
    'density of the solid itself',
    'Moroney et al. 2015, from memory',
  ),
  grainPorosity: p(
    0.62,
    0.56,
    0.65,
    '-',
    'pores inside a grain',
    'Moroney et al. 2015: 0.56–0.62, from memory',
  ),
  bedPorosity: p(
    0.4,
    0.37,
    0.46,
    '-',
    'space between grains of a poured, wetted bed',
    'loose beds 0.40–0.50, from memory',
  ),
  cellSize: p(30e-6, 20e-6, 40e-6, 'm', 'diameter of a coffee cell', 'Moroney et al. 2015, from memory'),
  grainHeatCapacity: p(
    1620,
    1300,
    1800,
    'J/kg/K',
    'roasted coffee near 60 °C',
    'Schwartzberg 2002, from memory',
  ),
  grainConductivity: p(0.2, 0.1, 0.35, 'W/m/K', 'a grain', 'assumed'),
  dryBedConductivity: p(0.1, 0.07, 0.12, 'W/m/K', 'dry ground coffee in bulk', 'from memory, low confidence'),
  wetBedConductivity: p(0.5, 0.4, 0.6, 'W/m/K', 'wet bed', 'from memory, low confidence'),
  // --- flow
  permeabilityFactor: p(
    0.3,
    0.15,
    0.6,
    '-',
    'on Kozeny–Carman (c = 5)',
    'chosen within 0.3–3 so that the common-practice four-pour plan drains some 20–60 s after its last pour; one timed cone brew of a trade text would have 0.45 (scripts/defaults)',
  ),
  finesHydraulicShare: p(0.8, 0.4, 1, '-', 'share of the fines that narrow the pore throats', 'assumed'),
  finesLimit: p(100e-6, 100e-6, 100e-6, 'm', 'grains below this count as fines', 'usual limit, from memory'),
  paperResistance: p(
    3e8,
    1e8,
    8e8,
    '1/m',
    'paper and outlet: pressure over viscosity times flow per area',
    'assumed',
  ),
  cloggingPerThroughput: p(
    0.5,
    0,
    1.5,
    '-',
    'rise of the paper resistance per fines share and per dose of water',
    'assumed',
  ),
  relativePermeabilityExponent: p(
    3,
    2.5,
    4,
    '-',
    'exponent on effective saturation',
    'Brooks–Corey type, from memory',
  ),
  residualSaturation: p(
    0.8,
    0.6,
    0.9,
    '-',
    'of the space between grains after draining',
    'fitted so that a drained bed holds about 2.15 g per g (teaching text and common practice, 2.0–2.5; scripts/defaults gives 0.81)',
  ),
  wettingSuction: p(0.02, 0, 0.06, 'm', 'capillary suction of dry grounds', 'assumed'),
  storageHead: p(
    20,
    20,
    20,
    'm',
    'pressure head per unit of over-filling: a numerical spring, stiff enough to be unseen',
    'numerical',
  ),
  coneOpenTip: p(
    0.8,
    0.6,
    0.95,
    '-',
    'least hydraulic radius in a ribbed cone over the radius at the bed top',
    'assumed: ribs drain the wall',
  ),
  coneWallBypass: p(
    0.03,
    0,
    0.08,
    '-',
    'share of the bare wall above the bed that lets water past',
    'assumed',
  ),
  flowUnevenness: p(
    0,
    0,
    0,
    '-',
    'two halves of the bed side by side let water through (1 + u) and (1 − u) times as well; 0 is one even bed',
    'the idea of two paths: Lee, Smith & Arshad 2023, second-hand; no value was measured for a filter bed, so it is off, and bands leave it off',
  ),
  // --- swelling
  swelling: p(
    0,
    0,
    0,
    '-',
    'growth of the diameter of grains in hot water in the end; 0 for grains that do not swell',
    'off: 0.15 after Hargarten et al. 2020, none after Maille et al. 2021, both second-hand; they contradict each other',
  ),
  swellingIntoPores: p(
    0,
    0,
    0,
    '-',
    'share of the growth that comes from the space between grains; the rest lifts the bed',
    'assumed; without effect while grains do not swell',
  ),
  // --- water uptake and gas
  absorptionTime: p(
    2,
    1,
    5,
    's',
    'time constant of grains taking up water without gas',
    'from memory: seconds',
  ),
  gasAbsorptionDelay: p(1.5, 0.5, 3, '-', 'lengthening of that time per 4 mg/g of gas left', 'assumed'),
  gasFlowHindrance: p(0.5, 0, 1.2, '-', 'added flow resistance per 4 mg/g of gas left', 'assumed'),
  gasReleaseTime: p(25, 12, 50, 's', 'time constant of gas leaving wet grounds', 'assumed'),
  gasLostInGrinding: p(0.45, 0.3, 0.6, '-', 'share of the gas lost while grinding', 'from memory: 30–60 %'),
  gasFastShare: p(
    0.4,
    0.3,
    0.5,
    '-',
    'share of the gas of whole beans with the short time',
    'trade figure: about 40 % in the first 1–2 days',
  ),
  gasFastTime: p(86_400, 60_000, 130_000, 's', 'short time constant of whole beans', 'as above'),
  gasSlowTime: p(
    14 * 86_400,
    8 * 86_400,
    25 * 86_400,
    's',
    'long time constant of whole beans',
    'from memory: days to weeks',
  ),
  // --- heat
  wallContact: p(300, 100, 600, 'W/m²/K', 'wet bed to wall, through the paper', 'assumed'),
  wallOutside: p(10, 7, 14, 'W/m²/K', 'outer wall to air', 'from memory: free convection and radiation'),
  surfaceFactor: p(
    0.6,
    0.3,
    1,
    '-',
    'on the free-surface loss correlation (rim and floating grounds)',
    'an open mug near 90 °C lost about 40 W where the correlation gives 68 W',
  ),
  streamLoss: p(
    350,
    150,
    600,
    'W/m²/K',
    'falling stream to air, evaporation included',
    'chosen: 1.5 K at 5 g/s over 20 cm, itself an estimate ±50 %',
  ),
  serverLoss: p(0.35, 0.2, 0.6, 'W/K', 'filled server to air', 'assumed'),
  rinseEfficiency: p(
    0.5,
    0.3,
    0.8,
    '-',
    'share of the ideal mixing that a rinse reaches with the wall',
    'assumed',
  ),
  // --- agitation
  jetDepth: p(1, 0.6, 1.5, '-', 'factor on (jet momentum / (Δρ g))^⅓', 'proposal, scale only'),
  jetDensityStep: p(100, 60, 200, 'kg/m³', 'density step that the jet works against', 'proposal, scale only'),
  jetExchange: p(5, 2, 12, 'kg/J', 'turnover rate of the mixed layer per power per mass', 'assumed'),
  streamBreaks: p(0.3, 0.2, 0.4, 'm', 'fall at which a stream of 5 g/s breaks into drops', 'a single report'),
  brokenStreamDepth: p(0.3, 0.2, 0.5, '-', 'mixing depth of drops over that of a stream', 'proposal'),
  spoutDiameter: p(8e-3, 6e-3, 10e-3, 'm', 'inner diameter of the spout', 'assumed'),
  stirRate: p(1, 0.4, 2, '1/s', 'turnover of the whole bed while stirring', 'assumed'),
  swirlRate: p(0.5, 0.2, 1, '1/s', 'turnover while swirling', 'assumed'),
  swirlDepth: p(0.6, 0.3, 0.9, '-', 'share of the bed that a swirl moves', 'assumed'),
  dispersivity: p(
    0.8e-3,
    0.3e-3,
    2e-3,
    'm',
    'longitudinal spreading in the bed: about a grain',
    'from memory',
  ),
  // --- release (per-solute values stand in solutes.ts)
  extractable: p(
    0.3,
    0.27,
    0.32,
    '-',
    'what hot fresh water could carry away, of the dose',
    'Moroney et al. 2015: 0.28–0.32; Liang et al. 2021: 0.30, from memory',
  ),
  holdHalf: p(
    1e-3,
    0.3e-3,
    4e-3,
    'kg/kg',
    'dissolved solids over water at which grains hold half of what they can hold',
    'assumed: well below the strength of any cup, so that the yield of an immersion is flat over 10–20 : 1 (Liang et al. 2021)',
  ),
  diffusionFactor: p(
    0.5,
    0.25,
    1.6,
    '-',
    'on every effective diffusivity in the grain',
    'fitted to the stirred bath of Moroney et al. 2016 (second-hand): the fine grind alone would have 0.68 (scripts/defaults), the coarse one, left out of that fit, less than 0.4; range: fitted values 1–6·10⁻¹⁰ m²/s, from memory',
  ),
  surfaceReleaseRate: p(
    0.06,
    0.03,
    0.85,
    '1/s',
    'release from broken cells at 90 °C',
    'fitted as the diffusivities, which it goes along with; range: 1.2 s (fine) to beyond the 19 s (coarse) of Moroney et al. 2016, second-hand',
  ),
} as const satisfies Record<string, Parameter>;

export type ParameterName = keyof typeof PARAMETERS;
/** SI values, one per parameter. */
export type Parameters = Record<ParameterName, number>;

export const PARAMETER_NAMES = Object.keys(PARAMETERS) as ParameterName[];

/** The default value of every parameter, in SI. */
export function defaultParameters(): Parameters {
  const values = {} as Parameters;
  for (const name of PARAMETER_NAMES) values[name] = PARAMETERS[name].value;
  return values;
}
