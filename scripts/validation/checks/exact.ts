/** Checks against known answers, each a reduced mode of the engine or a formula it rests on. */
import { kozenyCarman } from '../../../core/src/brew/compile.ts';
import {
  COARSE_RIG,
  coolingCurve,
  coolingVessel,
  type Drain,
  drainingBed,
  equilibriumVessel,
  FINE_RIG,
  heldByBed,
  mixingVessel,
  poreTime,
  pressedBed,
  RIG_FLOW,
  type Rig,
  releasedShare,
  rigPermeability,
  rigPressureDrop,
  saturatedBed,
  sphereBath,
  temperatureSpan,
} from '../../../core/src/brew/reduced/index.ts';
import { runCase } from '../../../core/src/brew/run.ts';
import { percolationBalance, strengthFromBrix } from '../../../core/src/cup/index.ts';
import retention from '../../../reference/bed-retention/retention.json' with { type: 'json' };
import balance from '../../../reference/brew-balance/check-values.json' with { type: 'json' };
import brix from '../../../reference/brix-strength/check-values.json' with { type: 'json' };
import sphere from '../../../reference/crank-sphere/sphere.json' with { type: 'json' };
import drain from '../../../reference/darcy-drain/drain.json' with { type: 'json' };
import published from '../../../reference/moroney-2015/published.json' with { type: 'json' };
import { between, type Check, near, nearShare } from '../check.ts';

const MORONEY = 'Moroney, Lee, O’Brien, Suijver & Marra 2015, Chem. Eng. Sci. 137, 216';

type Pressure = (typeof published.pressure_drop_bar)['fine'];

/** Pressure that drives 250 mL/min through the rig's bed in the engine [bar]: drip under a column of water, scaled by Darcy. */
function enginePressure(rig: Rig): number {
  const pressure = rigPressureDrop(rig);
  const trace = runCase(pressedBed(rig, pressure)).recorder.finish();
  const flow = trace.drip_g_s.at(-1)! / 1e3 / 965.31;
  return (pressure * RIG_FLOW) / flow / 1e5;
}

const pressure = (id: string, rig: Rig, { formula, measured, tolerance }: Pressure): Check => ({
  id,
  title: `Pressure that drives 250 mL/min at 90 °C through the ${rig.name} bed`,
  source: `${MORONEY}; Kozeny–Carman with κ = 3.1`,
  tag: 'second-hand',
  kind: 'measured',
  figures: [
    nearShare('formula, in the engine’s words', 'bar', formula, 0.01),
    nearShare('engine run under a column of water', 'bar', formula, 0.01),
    nearShare('against the measured drop', 'bar', measured, tolerance),
  ],
  run: () => {
    const engine = enginePressure(rig);
    return [rigPressureDrop(rig) / 1e5, engine, engine];
  },
  note: 'Grain sizes, porosities and κ are from memory; the measured drop is second hand. A formula with a free κ is no strong check of physics, but it holds the engine’s units, viscosity and Darcy flow.',
});

const GRAIN = { diameter: 1e-3, diffusivity: 1e-9 };
const released = (alpha: number, tau: number): number => {
  const c = sphereBath({ ...GRAIN, alpha, tau });
  return releasedShare(c, runCase(c));
};
const sinkRows = sphere.sink.filter((row) => row.tau >= 0.01);
const bathRows = sphere.bath.flatMap((row) =>
  row.tau.map((tau, i) => ({ alpha: row.alpha, tau, share: row.share[i]! })),
);
const drainAt = (temperature_C: number): Drain => ({
  permeability: drain.permeability_m2,
  depth: drain.bed_depth_m,
  head: drain.head_m,
  temperature: temperature_C + 273.15,
});
const mixRows = balance.mixing.rows;

/** Coolest and hottest of a mixed brew [°C]. */
function mixed(row: (typeof mixRows)[number]): { low: number; high: number } {
  return temperatureSpan(
    runCase(
      mixingVessel({
        grounds: row.coffee_g * 1e-3,
        groundsTemperature: balance.mixing.coffee.t + 273.15,
        heatCapacity: balance.mixing.coffee.heatCapacity,
        water: row.water_g * 1e-3,
        waterTemperature: row.water_C + 273.15,
      }),
    ),
  );
}

export const EXACT_CHECKS: readonly Check[] = [
  pressure('C1', FINE_RIG, published.pressure_drop_bar.fine),
  pressure('C2', COARSE_RIG, published.pressure_drop_bar.coarse),
  {
    id: 'C6',
    title: 'Diffusion out of a sphere into a bath that stays empty (mode 1)',
    source: 'Crank 1975, eq. 6.20, series computed; reference/crank-sphere',
    tag: 'computed',
    kind: 'exact',
    figures: sinkRows.map((row) => near(`τ = ${row.tau}`, '-', row.released, 0.002, 4)),
    run: () => sinkRows.map((row) => released(1e7, row.tau)),
  },
  {
    id: 'C7',
    title: 'Diffusion out of a sphere into a limited bath (mode 1)',
    source: 'Crank 1975, eq. 6.30, series computed; reference/crank-sphere',
    tag: 'computed',
    kind: 'exact',
    figures: bathRows.map((row) => near(`α = ${row.alpha}, τ = ${row.tau}`, '-', row.share, 0.003, 4)),
    run: () => bathRows.map(({ alpha, tau }) => (released(alpha, tau) * (1 + alpha)) / alpha),
  },
  {
    id: 'C11',
    title: 'One pore volume of the rig',
    source: `${MORONEY}, geometry`,
    tag: 'computed',
    kind: 'exact',
    figures: [
      nearShare('fine, volume', 'mL', published.pore_volume.fine.volume_mL, 0.01, 2),
      nearShare('fine, time', 's', published.pore_volume.fine.time_s, 0.01, 2),
      nearShare('coarse, volume', 'mL', published.pore_volume.coarse.volume_mL, 0.01, 2),
      nearShare('coarse, time', 's', published.pore_volume.coarse.time_s, 0.01, 2),
    ],
    run: () =>
      [FINE_RIG, COARSE_RIG].flatMap((rig) => {
        const time = poreTime({ ...rig, flow: RIG_FLOW });
        return [time * RIG_FLOW * 1e6, time];
      }),
  },
  {
    id: 'C12',
    title: 'Hot water on cool grounds, nothing lost (mode 4)',
    source: 'Energy balance; heat capacity of roasted coffee from memory; reference/brew-balance',
    tag: 'computed',
    kind: 'exact',
    figures: mixRows.flatMap((row) => [
      near(
        `${row.coffee_g} g + ${row.water_g} g at ${row.water_C} °C, coolest`,
        '°C',
        row.mixed_C,
        balance.mixing.tolerance,
        2,
      ),
      near('the same, hottest', '°C', row.mixed_C, balance.mixing.tolerance, 2),
    ]),
    run: () => mixRows.map(mixed).flatMap(({ low, high }) => [low, high]),
  },
  {
    id: 'C13',
    title: 'A saturated flat bed drains (mode 4)',
    source: 'Darcy’s law, exact; reference/darcy-drain',
    tag: 'computed',
    kind: 'exact',
    figures: drain.rows.map((row) =>
      nearShare(
        `surface at the bed, ${row.temperature_C} °C`,
        's',
        row.surface_reaches_bed_s,
        drain.tolerance,
        1,
      ),
    ),
    run: () => drain.rows.map((row) => runCase(drainingBed(drainAt(row.temperature_C))).headGone!),
  },
  {
    id: 'C16',
    title: 'A saturated bed holds what its pores take',
    source: 'Geometry; skeletal density from memory; reference/bed-retention',
    tag: 'computed',
    kind: 'exact',
    figures: [nearShare('held', 'g/g', retention.held_g_g, retention.tolerance, 2)],
    run: () => {
      const c = saturatedBed(retention.grain_porosity, retention.bed_porosity);
      return [heldByBed(c, runCase(c))];
    },
  },
  {
    id: 'C17',
    title: 'Balance of a percolation: 320 g on 20 g, 2 g/g held, 20 % in the cup',
    source: 'Mass balance worked by hand; reference/brew-balance',
    tag: 'computed',
    kind: 'exact',
    figures: [near('beverage', 'g', 284.1, 0.2, 1), near('strength', '%', 1.408, 0.005)],
    run: () => {
      const cup = percolationBalance({ water: 320, dose: 20, held: 2, cupYield: 0.2, heldStrength: 0.003 });
      return [cup.beverage, cup.strength * 100];
    },
  },
  {
    id: 'C22',
    title: 'Permeability of an espresso bed',
    source: 'Corrochano, Melrose, Bentley, Fryer & Bakalis 2015, J. Food Eng. 150, 106 (abstract)',
    tag: 'read',
    kind: 'measured',
    figures: [between('fine compressed bed', '10⁻¹⁴ m²', 1, 10)],
    run: () => [rigPermeability(FINE_RIG) * 1e14],
    note: `A poured bed of the demo’s grind comes to ${(kozenyCarman(0.4, 6 / 150e-6) * 1e11).toFixed(1)}·10⁻¹¹ m² at a Sauter diameter of 150 µm, three decades above.`,
  },
  {
    id: 'C27',
    title: 'Strength from degrees Brix',
    source: 'Regression by Gómez, quoted in trade writing; reference/brix-strength',
    tag: 'second-hand',
    kind: 'measured',
    figures: brix.rows.map((row) => near(`${row.brix} °Brix`, '%', row.strength_pct, row.tolerance_pct)),
    run: () => brix.rows.map((row) => strengthFromBrix(row.brix).strength * 100),
  },
  {
    id: 'M2',
    title: 'Equilibrium desorption in a stirred vessel (mode 2)',
    source:
      'Liang, Chan & Ristenpart 2021, Sci. Rep. 11, 6904: form and constants from memory; reference/brew-balance',
    tag: 'from memory',
    kind: 'exact',
    figures: [
      ...balance.immersion.rows.map((row) =>
        near(`strength at ${row.ratio} : 1`, '%', row.strength_pct, 0.001),
      ),
      near('yield at 12 : 1', '%', 21.51, 0.005),
      near('yield at 20 : 1', '%', 21.51, 0.005),
    ],
    run: () => {
      const yields = balance.immersion.rows.map(({ ratio }) => {
        const c = equilibriumVessel({ ratio, dissolved: 0.717, extractable: 0.3 });
        return { ratio, yielded: releasedShare(c, runCase(c)) * 0.3 };
      });
      const strengths = yields.map(({ ratio, yielded }) => (yielded / (ratio + yielded)) * 100);
      return [...strengths, yields[0]!.yielded * 100, yields.at(-1)!.yielded * 100];
    },
    note: 'The published rule, with a partition set for each ratio. What the engine predicts with one set of constants is C3 and C4.',
  },
  {
    id: 'M4',
    title: 'A vessel that warms its wall and the air (mode 4)',
    source: 'Two bodies in series, exact',
    tag: 'computed',
    kind: 'exact',
    figures: [60, 300, 900].map((time) =>
      near(`after ${time} s`, '°C', coolingCurve(coolingVessel(), time), 0.02, 3),
    ),
    run: () => {
      const { time_s, bed_middle_C } = runCase(coolingVessel().case).recorder.finish();
      return [60, 300, 900].map((time) => bed_middle_C[time_s.findIndex((t) => t >= time - 1e-9)]!);
    },
  },
];
