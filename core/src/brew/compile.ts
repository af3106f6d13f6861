import { type BrewBundle, pourEnd, venuePressure } from '../documents/index.ts';
import { cutTable, mixTables, type SizeTable, shareBelow, specificSurface, tableOf } from '../grind/index.ts';
import {
  DAY,
  GRAM,
  kelvin,
  liquidConductivity,
  MILLIGRAM,
  MILLILITRE,
  MILLIMETRE,
  materialProperties,
  vapourPressure,
} from '../units/index.ts';
import { power } from '../units/power.ts';
import type { BrewCase, CaseAction, CasePath, CasePour, Numerics } from './case.ts';
import { refuseBadParameters } from './check-parameters.ts';
import { type Frustum, radiusAt } from './geometry.ts';
import { jetOf, streamTemperature } from './jet.ts';
import { followedPours } from './kettles.ts';
import { LIQUID_DENSITY, LIQUID_HEAT_CAPACITY } from './liquid.ts';
import type { Parameters } from './parameters.ts';
import type { KettlePour, Resolution } from './result.ts';
import { heldBack, SOLUTES } from './solutes.ts';
import { meanSwelling, type SwollenBed, swellBed } from './swelling.ts';

/** What each resolution means. `classes` counts the particle sizes that are told apart in the result, fines included. */
export const RESOLUTIONS: Readonly<Record<Resolution, Numerics & { classes: number }>> = {
  draft: { cells: 10, classes: 5, bins: 5, tolerance: 0.4, longestStep: 6, firstStep: 0.1 },
  standard: { cells: 24, classes: 8, bins: 9, tolerance: 0.05, longestStep: 4, firstStep: 0.05 },
  reference: { cells: 48, classes: 14, bins: 14, tolerance: 0.01, longestStep: 2, firstStep: 0.01 },
};

/** Days of rest taken when a plan does not say how old the coffee is. */
export const RESTED_DAYS = 14;
/** CO2 just after roasting, mg per g: 4–10 from light to dark (from memory). */
const CO2_AT_ROAST_MG_G = { light: 5, medium: 7, dark: 9 } as const;
/** How long an open dripper may go on draining before a run is cut off [s]. */
const DRAIN_LIMIT = 1_800;

/**
 * Turns a plan and what it points to into the solver's case: the one border where the units people read become SI.
 * The bundle must have passed its schemas; shares are normalised here so that rounding in a document cannot create mass.
 *
 * @throws ParameterError for constants that no brew can have
 */
export function compileCase(bundle: BrewBundle, p: Parameters, resolution: Resolution): BrewCase {
  refuseBadParameters(p);
  const { plan, coffee, setup, venue } = bundle;
  const { classes, ...numerics } = RESOLUTIONS[resolution];
  const air = kelvin(venue.air_C);
  const pressure = venuePressure(venue);
  const grounds = plan.grounds_C === null ? air : kelvin(plan.grounds_C);
  const dose = plan.dose_g * GRAM;
  const moisture = coffee.moisture_pct / 100;
  const dryMass = dose * (1 - moisture);
  const extractable = coffee.extractable_pct === null ? p.extractable : coffee.extractable_pct / 100;
  const table = grindTable(bundle);
  const vessel = frustumOf(setup.dripper);
  const followed = followedPours(bundle);
  const pours = plan.pours
    .map((pour) => compilePour(pour, followed.get(pour.id), air, p))
    .sort((a, b) => a.start - b.start);
  const outletOpens = moment(plan.outlet_opens_s ?? 0);
  const lastEnd = Math.max(...pours.map((pour) => pour.end), outletOpens);
  const lift = plan.lift_s === null ? Number.POSITIVE_INFINITY : moment(plan.lift_s);
  const horizon = Math.min(lift, lastEnd + DRAIN_LIMIT);
  const swollen = swollenBed(pours, Math.min(lift, lastEnd), p);
  const dryDensity = p.skeletalDensity * (1 - p.grainPorosity);
  const envelopeDensity = dryDensity / swollen.volume;
  const surface = specificSurface(table, p.finesLimit, p.finesHydraulicShare);
  const fines = shareBelow(table, p.finesLimit);
  return {
    vessel,
    shape: setup.dripper.shape,
    dose,
    dryMass,
    sizes: cutTable(table, classes, p.finesLimit),
    grains: {
      temperature: grounds,
      heatCapacity: p.grainHeatCapacity,
      envelopeDensity,
      poreVolume: (p.grainPorosity + (swollen.volume - 1)) / dryDensity,
      moisture: moisture / (1 - moisture),
      brokenLayer: p.cellSize / 2,
      absorptionTime: p.absorptionTime,
      ...thermalLag(table, p),
    },
    bed: {
      porosity: swollen.porosity,
      permeability: p.permeabilityFactor * kozenyCarman(p.bedPorosity, surface) * swollen.permeability,
      residualSaturation: p.residualSaturation,
      relativeExponent: p.relativePermeabilityExponent,
      suction: p.wettingSuction,
      storageHead: p.storageHead,
      dispersivity: p.dispersivity,
      dryConductivity: p.dryBedConductivity,
      wetConductivity: p.wetBedConductivity,
      openTip: p.coneOpenTip,
      paths: pathsOf(p.flowUnevenness),
    },
    gas: {
      content: gasContent(bundle, p),
      releaseTime: p.gasReleaseTime,
      absorptionDelay: p.gasAbsorptionDelay,
      flowHindrance: p.gasFlowHindrance,
    },
    paper: {
      resistance: setup.paper.resistance_per_m ?? p.paperResistance,
      clogging: (p.cloggingPerThroughput * fines) / dose,
      wallBypass: setup.dripper.shape === 'cone' ? p.coneWallBypass : 0,
    },
    wall: wallOf(bundle, vessel, air, p),
    server: {
      heatCapacity: setup.server.mass_g * GRAM * materialProperties(setup.server.material).heatCapacity,
      temperature: setup.server.preheated_C === null ? air : kelvin(setup.server.preheated_C),
      loss: p.serverLoss,
      capacity: setup.server.capacity_mL * MILLILITRE,
    },
    air: {
      temperature: air,
      pressure,
      vapourPressure: vapourPressure(air, venue.humidity_pct / 100),
      surfaceFactor: p.surfaceFactor,
    },
    pours,
    actions: plan.actions.map((action) => compileAction(action, p)),
    jetExchange: p.jetExchange,
    outletOpens,
    lift,
    bypass: plan.bypass
      ? { mass: plan.bypass.water_g * GRAM, temperature: kelvin(plan.bypass.temperature_C) }
      : null,
    solutes: SOLUTES.map((solute) => {
      const stock = dose * solute.share * extractable;
      const perVolume = LIQUID_DENSITY / envelopeDensity;
      return {
        key: solute.key,
        extractable: stock,
        diffusivity: solute.diffusivity * p.diffusionFactor,
        activation: solute.activation,
        ...heldBack(solute, stock / dryMass, p.holdHalf, perVolume),
        surfaceRate: p.surfaceReleaseRate,
      };
    }),
    initial: null,
    horizon,
    numerics,
  };
}

/** The size table of a plan's grind mix. */
export function grindTable(bundle: BrewBundle): SizeTable {
  return mixTables(
    bundle.plan.grind
      .filter((part) => part.share > 0)
      .map((part) => {
        const setting = bundle.grinders[part.grinder_id]!.settings.find((s) => s.id === part.setting_id)!;
        return { share: part.share, table: tableOf(setting.distribution) };
      }),
  );
}

/** k = ε³/(5 S² (1−ε)²) [m²] with S the surface per volume of solid [1/m] (Carman 1937; constant 5, from memory). */
export const kozenyCarman = (porosity: number, surface: number): number =>
  power(porosity, 3) / (5 * surface * surface * (1 - porosity) ** 2);

/** One path for an even bed, else two halves whose permeabilities lie `unevenness` above and below their mean. */
const pathsOf = (unevenness: number): CasePath[] =>
  unevenness === 0
    ? [{ share: 1, permeability: 1 }]
    : [1 + unevenness, 1 - unevenness].map((permeability) => ({ share: 0.5, permeability }));

/**
 * The bed as swelling leaves it on the mean from the first water to the last, or the lift: the solver's bed stands still. What the
 * grains grow by is water, which they take up in addition; the way out of a grain stays as long as it was.
 */
function swollenBed(pours: readonly CasePour[], until: number, p: Parameters): SwollenBed {
  return swellBed(
    p.bedPorosity,
    meanSwelling(p.swelling, until - (pours[0]?.start ?? 0)),
    p.swellingIntoPores,
  );
}

/** Moments are whole microseconds, so that events either coincide or lie a solvable step apart. */
const moment = (seconds: number): number => Math.round(seconds * 1e6) / 1e6;

function frustumOf(dripper: BrewBundle['setup']['dripper']): Frustum {
  const r0 = (dripper.bottom_diameter_mm / 2) * MILLIMETRE;
  const height = dripper.height_mm * MILLIMETRE;
  return { r0, slope: ((dripper.rim_diameter_mm / 2) * MILLIMETRE - r0) / height, height };
}

/** A pour as hot as it asks, or as its kettle makes it where the plan says how that is handled. */
function compilePour(
  pour: BrewBundle['plan']['pours'][number],
  course: KettlePour | undefined,
  air: number,
  p: Parameters,
): CasePour {
  const start = moment(pour.start_s);
  const end = moment(pourEnd(pour));
  const flow = (pour.water_g * GRAM) / (end - start);
  const height = pour.height_cm / 100;
  const kettle = kelvin(course?.start_C ?? pour.kettle_temperature_C);
  const jet = jetOf(flow, height, kettle, p);
  const arriving = (from: number): number =>
    streamTemperature(from, air, flow, height, LIQUID_HEAT_CAPACITY, p);
  return {
    id: pour.id,
    start,
    end,
    flow,
    temperature: arriving(kettle),
    ...(course && { temperatureEnd: arriving(kelvin(course.end_C)) }),
    mixingDepth: jet.mixingDepth,
    power: jet.power,
  };
}

function compileAction(action: BrewBundle['plan']['actions'][number], p: Parameters): CaseAction {
  const span = { start: moment(action.start_s), end: moment(action.start_s + action.duration_s) };
  return action.what === 'stir'
    ? { ...span, depthShare: 1, rate: p.stirRate }
    : { ...span, depthShare: p.swirlDepth, rate: p.swirlRate };
}

/** Wall: the whole dripper as one body, warmed by the rinse. */
function wallOf(bundle: BrewBundle, vessel: Frustum, air: number, p: Parameters): BrewCase['wall'] {
  const { dripper } = bundle.setup;
  const rim = radiusAt(vessel, vessel.height);
  const slant = Math.hypot(vessel.height, rim - vessel.r0);
  const heatCapacity = dripper.mass_g * GRAM * materialProperties(dripper.material).heatCapacity;
  const rinse = bundle.plan.rinse;
  const given = rinse ? p.rinseEfficiency * rinse.water_g * GRAM * LIQUID_HEAT_CAPACITY : 0;
  const warm = rinse ? kelvin(rinse.temperature_C) : air;
  return {
    heatCapacity,
    temperature: (heatCapacity * air + given * warm) / (heatCapacity + given),
    contact: p.wallContact,
    outside: p.wallOutside,
    outerArea: Math.PI * (vessel.r0 + rim) * slant + Math.PI * vessel.r0 * vessel.r0,
  };
}

/** Gas left in the ground dose at first wetting [kg/kg]: two time constants of whole beans, then the loss in grinding. */
function gasContent(bundle: BrewBundle, p: Parameters): number {
  const { coffee, plan } = bundle;
  const atRoast = (coffee.co2_at_roast_mg_g ?? CO2_AT_ROAST_MG_G[coffee.roast]) * MILLIGRAM * 1e3;
  const age = (plan.coffee_age_d ?? RESTED_DAYS) * DAY;
  const left =
    p.gasFastShare * Math.exp(-age / p.gasFastTime) + (1 - p.gasFastShare) * Math.exp(-age / p.gasSlowTime);
  return atRoast * left * (1 - p.gasLostInGrinding);
}

/**
 * How well "grain and liquid share one temperature" holds, for a grain of mass-median size: the Biot number h R/λ with h
 * from Nu = 4 (slow flow, from memory), and the lag R²/(π² a) of a sphere whose surface follows the liquid.
 */
function thermalLag(table: SizeTable, p: Parameters): { biot: number; lag: number } {
  let sum = 0;
  let median = table.diameter[0]!;
  for (let k = 0; k < table.share.length && sum < 0.5; k++) {
    sum += table.share[k]!;
    median = table.diameter[k]!;
  }
  const film = (4 * liquidConductivity(kelvin(85))) / median;
  const wetDensity = p.skeletalDensity * (1 - p.grainPorosity) + p.grainPorosity * LIQUID_DENSITY;
  const diffusivity = p.grainConductivity / (wetDensity * p.grainHeatCapacity);
  return {
    biot: (film * (median / 2)) / p.grainConductivity,
    lag: (median / 2) ** 2 / (Math.PI ** 2 * diffusivity),
  };
}
