/** How finely a brew is computed. */
export type Resolution = 'draft' | 'standard' | 'reference';

/**
 * What happens over time, on one shared grid of `n` moments (not evenly spaced: every event lies on it). All arrays
 * have length `n` unless a shape is given. Temperatures of things that are not there are NaN (an empty head).
 */
export interface Trace {
  time_s: Float64Array;
  /** Flow of the stream entering. */
  pour_g_s: Float64Array;
  poured_g: Float64Array;
  /** Liquid standing over the bed. */
  head_mm: Float64Array;
  head_g: Float64Array;
  drip_g_s: Float64Array;
  beverage_g: Float64Array;
  /** Water held by the bed: absorbed and between the grains. */
  held_g: Float64Array;
  /** Strength of what is in the server so far, % by mass. */
  strength_pct: Float64Array;
  /** Strength of what drips just now, % by mass; NaN while nothing drips. */
  drip_strength_pct: Float64Array;
  /** Dissolved solids in the server over dose, %. */
  yield_pct: Float64Array;
  stream_C: Float64Array;
  head_C: Float64Array;
  /** Means of the upper quarter, the middle half and the lower quarter of the bed. */
  bed_top_C: Float64Array;
  bed_middle_C: Float64Array;
  bed_bottom_C: Float64Array;
  drip_C: Float64Array;
  wall_C: Float64Array;
  server_C: Float64Array;
  /** Bed temperature by depth, row-major `[n][cells]`, cell 0 at the top. */
  bed_C: Float64Array;
  /** Share of the space between grains that holds water, `[n][cells]`. */
  saturation: Float64Array;
  /** Rate at which each solute group leaves the grounds, `[solutes][n]`. */
  release_mg_s: Float64Array;
  /** Mass of each solute group in the server, `[solutes][n]`. */
  dissolved_mg: Float64Array;
  /** Carbon dioxide still in the grounds. */
  gas_mg: Float64Array;
  /** Number of bed cells, the inner dimension of `bed_C` and `saturation`. */
  cells: number;
}

export interface SoluteShare {
  /** Key of the solute group, for the catalogue: `acids`, `caffeine` … */
  key: string;
  beverage_mg: number;
  /** Share of what the dose could give, %. */
  extracted_pct: number;
}

export interface PourShare {
  pour_id: string;
  water_g: number;
  /** Water of this pour that reached the server. */
  water_in_cup_g: number;
  /** Dissolved solids that this pour's water carried to the server. */
  solids_g: number;
  /** Those solids as a share of all solids in the cup, %. */
  solids_pct: number;
  /** Bed temperature, mean over depth, when this pour ended. */
  bed_after_C: number;
  /** Temperature of the stream where it meets the slurry. */
  contact_C: number;
}

/** A remark a brewer can act on. Text comes from the catalogue by `code`; numbers are in `values`. */
export interface Remark {
  code: string;
  level: 'note' | 'caution' | 'problem';
  /** When it concerns one moment. */
  at_s: number | null;
  values: Readonly<Record<string, string | number>>;
  /** The English sentence. */
  sentence: string;
}

/** A part of the bed that water takes on its own way. */
export interface PathShare {
  /** Share of the grounds, %. */
  grounds_pct: number;
  /** Water that dripped out of it, and as a share of all that dripped out of the bed, %. */
  water_g: number;
  water_pct: number;
  /** Solids that left its grounds, over their mass, %. */
  yield_pct: number;
}

export interface Evenness {
  /** Yield of each bed layer, % of its dry mass, top first. */
  layer_yield_pct: Float64Array;
  /** Lowest over highest layer yield, 0–1. */
  top_to_bottom: number;
  /** Yield by particle size. */
  sizes: readonly { diameter_um: number; mass_share: number; yield_pct: number }[];
  /** Mass-weighted coefficient of variation of yield over sizes. */
  size_variation: number;
  /** One entry for an even bed, else the paths side by side, the fastest first. */
  paths: readonly PathShare[];
}

/** Relative closure of the balances: |in − out − change| over what went in. */
export interface Closure {
  water: number;
  solutes: readonly { key: string; relative: number }[];
  enthalpy: number;
}

export interface Cup {
  water_g: number;
  beverage_g: number;
  strength_pct: number;
  /** Solids in the server over dose, %. */
  yield_pct: number;
  /** Solids that left the grounds, the held liquid's included, over dose, %. */
  total_yield_pct: number;
  held_g: number;
  evaporated_g: number;
  spilled_g: number;
  /** Poured water over dose. */
  ratio: number;
  /** Moment the liquid surface reaches the bed for good; null when it never does before the end. */
  drawdown_s: number | null;
  /** Moment the drip falls below 0.1 g/s for good, or the lift. */
  end_s: number;
  lifted: boolean;
  /** Hottest quarter of the wetted bed. */
  peak_bed_C: number;
  peak_bed_at_s: number;
  /** Coldest wetted quarter of the bed after wetting began. */
  lowest_bed_C: number;
  lowest_bed_at_s: number;
  /** Depth of that place, 0 top – 1 bottom. */
  lowest_bed_depth: number;
  server_C: number;
  solutes: readonly SoluteShare[];
  /** Hardness and alkalinity of the brew water as poured, mg/L as CaCO3. */
  hardness_mg_L_CaCO3: number;
  alkalinity_mg_L_CaCO3: number;
}

/** Estimated numerical error of the main figures (absolute). */
export interface ErrorEstimate {
  beverage_g: number;
  strength_pct: number;
  yield_pct: number;
  temperature_K: number;
}

/** 5 %, 50 % and 95 % of a figure over the plausible ranges of the parameters. */
export interface Band {
  low: number;
  mid: number;
  high: number;
}

export interface Bands {
  runs: number;
  beverage_g: Band;
  strength_pct: Band;
  yield_pct: Band;
  drawdown_s: Band;
  peak_bed_C: Band;
  server_C: Band;
  /** Envelopes over a common grid, for drawing. */
  time_s: Float64Array;
  beverage_low_g: Float64Array;
  beverage_high_g: Float64Array;
  strength_low_pct: Float64Array;
  strength_high_pct: Float64Array;
  bed_low_C: Float64Array;
  bed_high_C: Float64Array;
}

/** A pour as it leaves its kettle. */
export interface KettlePour {
  pour_id: string;
  asked_C: number;
  /** Water in the kettle when the pour begins and ends: what leaves the spout. */
  start_C: number;
  end_C: number;
  /** Water left after it; 0 also when there was not enough. */
  left_g: number;
}

/** Temperature and mass of a kettle from the start of the clock to the end of the last pour. */
export interface KettleCourse {
  kettle_id: string;
  name: string;
  /** The plan says how it is handled, and its pours are as hot as this; else it is what the kettle could do at best. */
  followed: boolean;
  between: 'on_base' | 'off_base';
  /** Water in it at the start, and what the plan pours from it. */
  fill_g: number;
  needed_g: number;
  /** Boiling point at the venue. */
  boils_C: number;
  /** Moment at which a pour finds it empty; null when the water suffices. */
  empty_s: number | null;
  pours: readonly KettlePour[];
  /** The course as a polyline, all of one length; every event is a point. */
  time_s: Float64Array;
  temperature_C: Float64Array;
  water_g: Float64Array;
}

/** The first of the drip on a cold body. */
export interface ChillCourse {
  /** Beverage that met the body, its strength, and when the last of it did. */
  drip_g: number;
  strength_pct: number;
  until_s: number;
  /** Mean temperature of it before and after the body. */
  before_C: number;
  after_C: number;
  /** The body at the end of its part, and the heat it took. */
  body_C: number;
  heat_kJ: number;
  /** How much cooler the whole server is for it when the brew is done. */
  server_K: number;
  /** Relative closure of the enthalpy of body, server and what they lost. */
  closure: number;
}

/** One cup from being filled until it is cold. */
export interface CupCourse {
  beverage_g: number;
  /** On the clock of the brew. */
  poured_s: number;
  served_s: number;
  /** As it arrives in the cup, and as it stands before the guest. */
  poured_C: number;
  served_C: number;
  /** Last moment it is hot, and last it is warm (that of serving when it never is); null when it lies beyond the course. */
  hot_until_s: number | null;
  warm_until_s: number | null;
  served_strength_pct: number;
  /** Course of the cup, all of one length, on the clock of the brew. What evaporates makes it stronger. */
  time_s: Float64Array;
  temperature_C: Float64Array;
  evaporated_g: Float64Array;
  strength_pct: Float64Array;
}

/** From the end of the brew to cold cups. */
export interface ServingCourse {
  /** The limits that were taken. */
  hot_above_C: number;
  cold_below_C: number;
  /** The beverage in the server when the first cup is poured, and what stays in it after the last. */
  server_C: number;
  rest_g: number;
  /** Where the heat of the cups goes until the end of their courses, %. */
  lost: { evaporation_pct: number; surface_pct: number; wall_pct: number };
  cups: readonly CupCourse[];
  /** Worst relative closure of enthalpy over server and cups. */
  closure: number;
}

export interface BrewResult {
  trace: Trace;
  cup: Cup;
  pours: readonly PourShare[];
  evenness: Evenness;
  /** Every kettle that a pour is taken from. */
  kettles: readonly KettleCourse[];
  /** Null when nothing is chilled. */
  chill: ChillCourse | null;
  /** Null when the plan does not say how it is served, or the setup has no cup. */
  serving: ServingCourse | null;
  closure: Closure;
  /** Null at draft resolution. */
  error: ErrorEstimate | null;
  remarks: readonly Remark[];
  resolution: Resolution;
  /** What the prediction rests on: 0 trials means defaults only. */
  calibrated_trials: number;
  core_version: string;
  /** Hash of everything that went in, so that a stored result can be called out of date. */
  input_hash: string;
  stats: {
    steps: number;
    rejected: number;
    cells: number;
    classes: number;
    solutes: number;
    bins: number;
    /** Biot number of a median grain: above 0.1 it lags the liquid … */
    grain_biot: number;
    /** … by about this long, which the model neglects. */
    grain_lag_s: number;
  };
}
