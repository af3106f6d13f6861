/**
 * What a host's desk, a taster's device and the server say to each other during a tasting. One file for all: the server checks requests
 * with these schemas, the pages use the types. Moments are milliseconds since 1970 by the server's clock unless they are called `device_…`.
 *
 * Two doors. The owner's (this machine only) answers everything. The shared one (other machines, opened on purpose) answers a taster's
 * addresses and pages, and the host's or coach's to a paired device.
 *
 * ```
 * who    address                            method  body → answer
 * owner  /api/sharing                       GET     → Sharing
 * owner  /api/sharing                       POST    SharingRequest → Sharing
 * owner  /api/devices                       GET     → { devices: PairedDevice[] }
 * owner  /api/devices/codes                 POST    PairCodeRequest → PairCode
 * owner  /api/devices/:id/revoke            POST    {} → { devices }
 * anyone /api/devices/join                  POST    PairRequest → Paired, and a cookie
 * host   /api/tastings                      GET     → { sessions: SessionSummary[] }
 * host   /api/tastings                      POST    OpenRequest → HostView (201; 200 when it was open already)
 * coach  /api/tastings/:id                  GET     → HostView (a coach: without join code and seat codes)
 * coach  /api/tastings/:id/events           GET     → server-sent events: `changed` with { version }, then fetch the view again;
 *                                                     `answer` with a HostAnswer; the id of an event is the version
 * host   /api/tastings/:id/actions          POST    HostAction → HostView
 * host   /api/tastings/:id/pour-sheet       GET     → { lines: PourSheetLine[] }   (looking is written down)
 * anyone /api/taster/hello                  GET     → Hello: is a session open, what is the time
 * anyone /api/taster/join                   POST    JoinRequest → Joined (the token is only ever told here)
 * taster /api/taster/sheet                  GET     → TasterSheet
 * taster /api/taster/answers                POST    AnswerRequest → AnswerReceipt (201; 200 when it was there already; 202 when late)
 * taster /api/taster/leave                  POST    {} → TasterSheet
 * taster /api/taster/events                 GET     → server-sent events: `changed` with { version, now }
 * ```
 *
 * A taster sends its token as `Authorization: Bearer …`, also for the event stream, which is therefore read with `fetch`. Nothing is
 * kept in a cookie, so no other page can speak in a taster's name. Paired devices have a cookie that scripts cannot read.
 */
import { z } from 'zod';
import { localId, number } from '../../documents/fields.ts';
import type { TastingSample, TastingWindow } from '../../documents/kinds/tasting.ts';
import { code, type TastingAnswer, tastingAnswer } from '../../documents/kinds/tasting-answer.ts';
import type { TastingMethod } from '../../documents/kinds/tasting-method.ts';
import type { Finding } from '../findings.ts';
import type { SessionDesign } from './plan-types.ts';

/** Who asks. */
export type Role = 'owner' | 'host' | 'coach' | 'taster' | 'anyone';

/** `open`: tasters join; `tasting`: cups are poured and answered; `closed`: everything is told. */
export type SessionState = 'open' | 'tasting' | 'closed';

const moment = z.iso.datetime({ offset: true });
/** Made by the device, version 7, so that sending the same again is harmless. */
const ownId = z.uuid();
const allergen = z.string().trim().min(1).max(40);

/** What is asked of a person before the first cup. Kept for the session only; never in the document, never sent to anyone else. */
export const careAnswers = z.strictObject({
  /** 18 or older. */
  adult: z.boolean(),
  pregnant_or_lactating: z.boolean(),
  /** Anything kept away from. */
  allergens: z.array(allergen).max(20),
  /** Anything else worth asking about, in the taster's words. */
  flags: z.array(z.string().trim().min(1).max(80)).max(10).default([]),
  /** Caffeine taken today before this, as the taster estimates it. */
  taken_today_mg: number(0, 2_000).default(0),
  spits: z.boolean().default(true),
});
export type CareAnswers = z.infer<typeof careAnswers>;

export const joinRequest = z.strictObject({
  /** Kept by the device and told to nobody: who sends it again gets its seat back with a new token. */
  join_id: ownId,
  /** The session's code, or a seat's code for a new device. Case and spaces do not matter. */
  code: z.string().trim().min(1).max(20),
  name: z.string().trim().min(1).max(60),
  care: careAnswers,
  device_at: moment,
});
export type JoinRequest = z.infer<typeof joinRequest>;

export interface Joined {
  /** 256 random bits; the server keeps only its hash. */
  token: string;
  sheet: TasterSheet;
}

export interface Hello {
  /** Whether any session takes tasters just now. Which, nobody is told without its code. */
  open: boolean;
  now: number;
  /** What may be asked about under allergens. */
  allergens: readonly string[];
}

export const answerRequest = z.strictObject({
  answer_id: ownId,
  set: z.int().min(1).max(400),
  /** The cup, where every cup is answered by itself; null for a whole set. */
  code: code.nullable(),
  /** The window, where a set is tasted in several or has one; null when the session has none. */
  window_id: localId.nullable(),
  device_at: moment,
  /** How far the device believes the server's clock is ahead of its own. */
  offset_ms: number(-1e12, 1e12).nullable().default(null),
  /** Read off a thermometer. */
  temperature_C: number(-5, 101).nullable().default(null),
  answer: tastingAnswer,
});
export type AnswerRequest = z.infer<typeof answerRequest>;

/** `counted` false: the session had been closed; it is kept beside the results. */
export interface AnswerReceipt {
  answer_id: string;
  counted: boolean;
  now: number;
}

/** A window of one flight: cups are at its temperatures between these moments, as far as is known now. */
export interface OpenWindow {
  window_id: string;
  /** Null: the cup never is at it. */
  opens_at: number | null;
  closes_at: number | null;
}

export interface TasterFlight {
  flight: number;
  /** Null: not poured yet. */
  poured_at: number | null;
  windows: OpenWindow[];
}

/** One set as a taster may see it: codes in order, nothing else. */
export interface TasterSet {
  set: number;
  flight: number;
  window_id: string | null;
  /** To be answered, in order of tasting. */
  codes: string[];
  /** The cup that is served openly: the reference, or the one to learn. */
  known_code: string | null;
  /** Rest after this set, before the next. */
  rest: { kind: 'rinse' | 'break'; seconds: number } | null;
}

/** The method as a taster may see it: what is asked, without what is expected. */
export type TasterTask =
  | { test: 'triangle' | 'duo_trio' | 'tetrad' | 'a_not_a' }
  | { test: 'three_afc' | 'paired'; attribute: string }
  | { test: 'ranking'; attribute: string; ties: boolean }
  | { test: 'preference'; ties: boolean }
  | Extract<
      TastingMethod,
      { test: 'intensity' | 'check_all' | 'just_about_right' | 'descriptors' | 'temporal' }
    >;

/** An answer of one's own. */
export interface OwnAnswer {
  answer_id: string;
  set: number;
  code: string | null;
  window_id: string | null;
  at: number;
  counts: boolean;
  answer: TastingAnswer;
}

/** Everything a taster's device ever gets. */
export interface TasterSheet {
  /** Names the session to this device; not the id of any document. */
  session_id: string;
  state: SessionState;
  /** Rises by one with every change of this sheet. */
  version: number;
  now: number;
  seat: number;
  name: string;
  left: boolean;
  title: string;
  instructions: string;
  task: TasterTask;
  /** Names and temperatures of windows; empty when the session has none. */
  windows: TastingWindow[];
  flights: TasterFlight[];
  sets: TasterSet[];
  answers: OwnAnswer[];
  /** Between two cups of one set. */
  rinse_s: number;
  sip_mL: number;
  /** Cautions on caffeine, heat and what else was told on joining. The same whatever is in the cups. */
  care: Finding[];
  /** Null until the session is closed, and after it when the host tells nothing. */
  told: null | {
    samples: { code: string; name: string }[];
    right: { set: number; codes: string[] }[];
  };
}

export const openRequest = z.strictObject({
  request_id: ownId,
  /** The tasting to run, as it stands saved. */
  document_id: z.uuid(),
});
export type OpenRequest = z.infer<typeof openRequest>;

const hostActions = {
  /** Stop waiting for tasters, begin. */
  start: z.strictObject({ do: z.literal('start') }),
  /** Cups of a flight are poured: windows are reckoned from `at` (default now). */
  pour: z.strictObject({
    do: z.literal('pour'),
    flight: z.int().min(1).max(60),
    at: z.int().min(0).max(1e14).nullable().default(null),
  }),
  /** A thermometer in a cup of a flight: windows are reckoned anew from here. */
  measure: z.strictObject({
    do: z.literal('measure'),
    flight: z.int().min(1).max(60),
    temperature_C: number(-5, 101),
    at: z.int().min(0).max(1e14).nullable().default(null),
  }),
  /** A new join code; the one before stops working. */
  new_code: z.strictObject({ do: z.literal('new_code') }),
  /** Nobody else joins. */
  stop_joining: z.strictObject({ do: z.literal('stop_joining') }),
  /** A code with which a new device takes over a seat. */
  seat_code: z.strictObject({ do: z.literal('seat_code'), seat: z.int().min(1).max(200) }),
  /** A taster is gone: the device's token stops working, the answers stay. */
  remove: z.strictObject({ do: z.literal('remove'), seat: z.int().min(1).max(200) }),
  /** End it and tell: writes results into the document. */
  close: z.strictObject({ do: z.literal('close') }),
};

export const hostAction = z.strictObject({
  action_id: ownId,
  act: z.discriminatedUnion('do', [
    hostActions.start,
    hostActions.pour,
    hostActions.measure,
    hostActions.new_code,
    hostActions.stop_joining,
    hostActions.seat_code,
    hostActions.remove,
    hostActions.close,
  ]),
});
export type HostAction = z.infer<typeof hostAction>;
export type HostAct = HostAction['act'];

/** A session in a list. */
export interface SessionSummary {
  session_id: string;
  document_id: string;
  name: string;
  state: SessionState;
  opened_at: number;
  closed_at: number | null;
}

/** An answer as the host sees it before closing: whose, where, what; never whether it is right. */
export interface HostAnswer extends OwnAnswer {
  seat: number;
  device_at: string;
  temperature_C: number | null;
  /** Before its window opened or after it closed. */
  outside: boolean;
}

export interface HostSeat {
  seat: number;
  spare: boolean;
  /** Null while nobody sits there. */
  name: string | null;
  joined_at: number | null;
  left_at: number | null;
  /** An event stream of its device is open. */
  here: boolean;
  /** Answers given and expected. */
  answered: number;
  expected: number;
  /** How far its device's clock is behind the server's, as it believes; null when unknown. */
  offset_ms: number | null;
  /** For a new device; null when none was asked for or it is over. */
  seat_code: { code: string; until: number } | null;
}

/** A session as its host sees it: everything but which code is which. */
export interface HostView extends SessionSummary {
  version: number;
  now: number;
  /** As it was when the session was opened. */
  design: SessionDesign;
  /** Null when nobody can join (any more). */
  join: { code: string; until: number; addresses: string[] } | null;
  seats: HostSeat[];
  flights: TasterFlight[];
  /** Codes by seat and set: what stands before whom, without what is in it. */
  sets: (TasterSet & { seat: number })[];
  answers: HostAnswer[];
  /** What so many answers can and cannot show; made before pouring. */
  before: Finding[];
  /** Looks at the pour sheet so far. */
  sheet_seen: { at: number; by: string }[];
  /** Wrong codes that were tried lately. */
  refused_joins: number;
}

export const sharingRequest = z.strictObject({ share: z.boolean() });
export type SharingRequest = z.infer<typeof sharingRequest>;

export interface Sharing {
  shared: boolean;
  /** Where other machines reach the taster's page, most likely first: `http://192.168.1.20:4760/taste`. */
  addresses: string[];
  /** Sentences: who can reach what, and how to stop. */
  says: string[];
}

export const pairCodeRequest = z.strictObject({ role: z.enum(['host', 'coach']) });
export type PairCodeRequest = z.infer<typeof pairCodeRequest>;
export interface PairCode {
  code: string;
  role: 'host' | 'coach';
  until: number;
  addresses: string[];
}

export const pairRequest = z.strictObject({
  code: z.string().trim().min(1).max(20),
  name: z.string().trim().min(1).max(60),
});
export type PairRequest = z.infer<typeof pairRequest>;
export interface Paired {
  role: 'host' | 'coach';
}

export interface PairedDevice {
  device_id: string;
  name: string;
  role: 'host' | 'coach';
  paired_at: number;
  seen_at: number;
}

/** What samples a session holds, for a pour sheet. */
export type SessionSample = TastingSample;
