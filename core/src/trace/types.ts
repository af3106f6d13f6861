/** What a column of a recording holds. */
export type ColumnUse = 'time' | 'poured' | 'beverage' | 'temperature' | 'skip';

/** How times are written: seconds, thousandths, minutes, `mm:ss.s` or `hh:mm:ss`, a date with time, or counted from 1970. */
export type TimeUnit = 's' | 'ms' | 'min' | 'h' | 'clock' | 'date' | 'epoch_s' | 'epoch_ms';
/** `g/10` and `mg/10` are whole tenths, as some balances print. */
export type MassUnit = 'g' | 'kg' | 'mg' | 'g/10' | 'mg/10' | 'oz' | 'lb';
export type TemperatureUnit = 'C' | 'F' | 'K' | 'C/10';
export type TraceUnit = TimeUnit | MassUnit | TemperatureUnit;

/** Where the temperature of a column was taken. */
export type TracePlace =
  | 'kettle'
  | 'head'
  | 'bed_top'
  | 'bed_middle'
  | 'bed_bottom'
  | 'drip'
  | 'server'
  | 'cup';

/** What one column is taken for; everything a person may set right. */
export interface ColumnChoice {
  /** Counted from 0. */
  column: number;
  /** As it stands above the column; empty when nothing does. */
  head: string;
  use: ColumnUse;
  /** Of what it holds; null for a column that is skipped. */
  unit: TraceUnit | null;
  /** For a temperature. */
  place: TracePlace | null;
}

/** How a file is read: plain JSON, small enough to be kept with the trial (`read_as`). */
export interface TraceMapping {
  delimiter: '\t' | ';' | ',' | '|' | ' ';
  comma_decimals: boolean;
  /** Lines before the first row of figures, the heading among them. */
  skip_lines: number;
  /** Without a time column, rows are this far apart [s]; null when there is one. */
  every_s: number | null;
  columns: ColumnChoice[];
}

/** One column as it was found, for the mapping step. */
export interface FoundColumn extends ColumnChoice {
  /** Why it is taken so: the heading names it, the figures suggest it, or nothing does. */
  because: 'heading' | 'figures' | 'nothing';
  /** Share of its cells that hold a figure, 0–1, among the rows looked at. */
  figures: number;
  /** Smallest and largest figure, as written; null when there is none. */
  from: number | null;
  to: number | null;
}

/** A line of the file in the preview. */
export interface PreviewLine {
  /** In the file, counted from 1. */
  line: number;
  cells: readonly string[];
  /** It is read as figures; otherwise it is heading, note or not understood. */
  read: boolean;
}

/** What the first look at a file finds: a proposal that a person may change before it is read. */
export interface TracePreview {
  mapping: TraceMapping;
  columns: readonly FoundColumn[];
  /** The first lines, as they would be read. */
  lines: readonly PreviewLine[];
  remarks: readonly TraceRemark[];
}

/** Something to know about a recording or what was read from it. */
export interface TraceRemark {
  /** `problem`: nothing can be taken from it as it stands; `caution`: look again; `note`: what was done. */
  level: 'problem' | 'caution' | 'note';
  code: string;
  /** Moment of the recording it concerns [s]; null when it concerns all. */
  at_s: number | null;
  values: Readonly<Record<string, string | number>>;
  /** The English sentence. */
  sentence: string;
}

/** One row of values over the times of a recording; NaN where nothing was read. Masses [g], temperatures [°C]. */
export interface TraceChannel {
  use: 'poured' | 'beverage' | 'temperature';
  place: TracePlace | null;
  /** As the column was headed. */
  name: string;
  value: Float64Array;
}

/** A recording that was read: rising times and one or more channels of the same length. */
export interface Recording {
  /** Seconds from its first row, strictly rising. */
  time_s: Float64Array;
  channels: readonly TraceChannel[];
  /** Date and time of the first row when the file says, as it is written there; null otherwise. */
  began: string | null;
  /** Rows of figures in the file. */
  rows: number;
  remarks: readonly TraceRemark[];
}

/** What disturbed the mass and was taken out of it. */
export interface MassEvent {
  what: 'tare' | 'put_on' | 'taken_off' | 'lifted' | 'knock';
  start_s: number;
  /** Later than the start for what was lifted and put back. */
  end_s: number;
  /** Jump in the reading; for something lifted, the jump down. */
  jump_g: number;
}

/** A mass without its disturbances: even steps in time, continuous, starting at 0. */
export interface CleanMass {
  /** Step [s]. */
  step_s: number;
  time_s: Float64Array;
  /** NaN in gaps of the recording. */
  mass_g: Float64Array;
  events: readonly MassEvent[];
  /** Standard deviation of its noise where nothing is poured. */
  noise_g: number;
  remarks: readonly TraceRemark[];
}

/** The shape of a pour. */
export interface PourShape {
  mean_g_s: number;
  /** Highest flow over half a second. */
  peak_g_s: number;
  /** Share of the water in the first half of its time; 0.5 is even, more is front-loaded. */
  front_share: number;
  /** Standard deviation over mean of the flow in its middle part; 0 is steady. */
  unsteadiness: number;
  /** Moments within it when the flow nearly stopped. */
  breaks: number;
  /** Flow over its time, from start to end. */
  time_s: Float64Array;
  flow_g_s: Float64Array;
}

/** A pour found in a mass. */
export interface FoundPour {
  start_s: number;
  end_s: number;
  water_g: number;
  /** Standard uncertainty of its mass. */
  water_doubt_g: number;
  shape: PourShape;
  /** Something disturbed the scale while it was poured: its figures are less sure. */
  disturbed: boolean;
}

/** Every pour of a recording, and the brew as a whole. */
export interface FoundPours {
  pours: readonly FoundPour[];
  total_g: number;
  /** Mass poured between pours: slow drift of the scale, drops; what no pour accounts for. */
  unaccounted_g: number;
  /** Share of the time, from the first pour to the end of the last, at which half of the water was in; less than 0.5 is front-loaded. */
  half_in: number;
  remarks: readonly TraceRemark[];
}

/** When a beverage mass says the brew drew down. */
export interface FoundDrawdown {
  first_drip_s: number | null;
  /** The drip breaks off: the liquid surface has reached the bed; null when no break is seen. */
  drawdown_s: number | null;
  /** The drip falls below 0.1 g/s for good, or the server is taken away; null when the recording ends before. */
  end_s: number | null;
  beverage_g: number;
  remarks: readonly TraceRemark[];
}
