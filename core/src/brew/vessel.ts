import type { Material, Setup } from '../documents/index.ts';
import { GRAM, kelvin, liquidDensity, MILLILITRE, MILLIMETRE, materialProperties } from '../units/index.ts';

/** Liquid to the wall of a vessel [W/m²/K]: free convection of water, 300–1000 (from memory). */
const INNER = 500;
/** Wall of two layers with still air between, to the air [W/m²/K]: about 6 mm of air and the outer film (from memory). */
const DOUBLE_WALL = 3;
/** Share of the mass of a double wall that is inside (assumed). */
const INNER_WALL_SHARE = 0.5;
/** Base on its foot to a table, over the wall's own figure (assumed). */
const BASE_SHARE = 0.5;
/** Vapour condensing under a lid, and the lid's upper side to the air [W/m²/K] (from memory: 50–200 and 10–14). */
const LID_INSIDE = 100;
const LID_OUTSIDE = 12;
/** Temperature at which the depth of a hot liquid is taken [°C]. */
const HOT = 70;

/** A standing vessel with hot liquid, in SI. */
export interface Vessel {
  /** Width of the liquid's surface [m]. */
  diameter: number;
  /** Of what the liquid wets [J/K]. */
  heatCapacity: number;
  /** Liquid to vessel [W/K]. */
  contact: number;
  /** Vessel to air and table [W/K]. */
  outside: number;
  /** A lid stops the vapour; heat passes it with this [W/K]. Null when it is open. */
  lid: number | null;
}

/** What a round vessel is made of and how large it is, as documents say it. */
export interface Make {
  material: Material;
  mass_g: number;
  inner_diameter_mm: number;
  capacity_mL: number;
  double_wall: boolean;
}

/** How it stands. */
export interface Stance {
  lid: boolean;
  /** All of its mass follows the liquid, as the engine takes it for a server; else what the liquid wets. */
  whole: boolean;
}

/**
 * A round vessel with upright walls and so much water in it [kg], as its cooling sees it. The wall up to the liquid and the
 * base lose heat; the wall above stands aside.
 *
 * @param wallOutside single wall to air [W/m²/K]
 */
export function vesselOf(make: Make, water: number, wallOutside: number, stance: Stance): Vessel {
  const diameter = make.inner_diameter_mm * MILLIMETRE;
  const base = (Math.PI / 4) * diameter * diameter;
  const depth = water / liquidDensity(kelvin(HOT)) / base;
  const height = Math.max(depth, (make.capacity_mL * MILLILITRE) / base);
  const wall = Math.PI * diameter * depth;
  const wetted = base + wall;
  const follows = stance.whole ? 1 : wetted / (base + Math.PI * diameter * height);
  const inside = make.double_wall ? INNER_WALL_SHARE : 1;
  const specific = materialProperties(make.material).heatCapacity;
  return {
    diameter,
    heatCapacity: make.mass_g * GRAM * specific * follows * inside,
    contact: INNER * wetted,
    outside: (make.double_wall ? DOUBLE_WALL : wallOutside) * (wall + BASE_SHARE * base),
    lid: stance.lid ? base / (1 / LID_INSIDE + 1 / LID_OUTSIDE) : null,
  };
}

/** A server as a vessel: as wide as it was measured, else as a cylinder that is as wide as high. */
export const serverMake = (server: Setup['server']): Make => ({
  ...server,
  double_wall: false,
  inner_diameter_mm:
    server.inner_diameter_mm ?? Math.cbrt((4 * server.capacity_mL * MILLILITRE) / Math.PI) / MILLIMETRE,
});
