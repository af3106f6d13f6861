import type { Tasting } from '../../documents/kinds/tasting.ts';

/** What a session is made from: a tasting without what came of it. */
export type SessionDesign = Omit<Tasting, 'run'>;

/** One cup of a plan. */
export interface PlannedCup {
  /** Three digits; no other cup of the session has them. */
  code: string;
  /** Which sample is in it. Secret until closing. */
  sample_id: string;
  /** Served openly as what it is: the reference of a duo-trio, the known sample of an A-not-A. */
  known: boolean;
}

/** Cups that are put before one taster together and asked about together. Secret until closing. */
export interface PlannedSet {
  seat: number;
  /** Of this seat, from 1, in order of tasting. */
  set: number;
  /** Cups of one flight are poured together. */
  flight: number;
  /** At which temperature it is tasted; null: the same cups in every window. */
  window_id: string | null;
  /** In order of tasting. */
  cups: PlannedCup[];
  /** Code or codes of the right answer, where there is one: of the odd cup, or of one group of a tetrad. */
  right: string[];
}

/** Everything that is poured in a session. Never sent to a taster. */
export interface SessionPlan {
  /** Seats that were expected, then spare ones. */
  seats: number;
  spare_seats: number;
  flights: number;
  sets: PlannedSet[];
}

/** A line of the sheet for the person who pours and never speaks to the tasters. */
export interface PourSheetLine {
  flight: number;
  sample_id: string;
  sample: string;
  /** Where its cups go, by seat, then in order of tasting. */
  cups: {
    code: string;
    seat: number;
    /** Empty while nobody sits there. */
    taster: string;
    set: number;
    place: number;
    window_id: string | null;
    known: boolean;
  }[];
}
