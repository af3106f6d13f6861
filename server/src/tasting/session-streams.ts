import type { ServerResponse } from 'node:http';
import { type HostAnswer, hostAnswers, ownVersion, statusOf } from '@pourline/core';
import type { SessionNow, Store } from '@pourline/store';
import { LIMITS } from '../limits.ts';
import { TASTING_LIMITS } from './limits.ts';
import { Streams, sendEvent } from './streams.ts';

interface HostListener {
  /** Answers it was told of. */
  answers: number;
}
interface TasterListener {
  seat: number;
  /** Last version of its sheet it was told of. */
  version: number;
}

/** Tells open desks and devices that something changed in a session. */
export class SessionStreams {
  readonly #hosts = new Streams<HostListener>();
  readonly #tasters = new Streams<TasterListener>();
  readonly #store: Store;
  readonly #now: () => number;
  readonly #onFailure: (error: unknown) => void;
  /** Sessions to tell, and whether each is being told. */
  readonly #waiting = new Set<string>();
  #telling = false;
  #watch: NodeJS.Timeout | undefined;
  #seen = 0;

  constructor(store: Store, now: () => number, onFailure: (error: unknown) => void) {
    this.#store = store;
    this.#now = now;
    this.#onFailure = onFailure;
  }

  /** Adds a host's or coach's stream whose head was sent. It is told at once to fetch what stands. */
  async addHost(stream: ServerResponse, session_id: string): Promise<void> {
    const standing = await this.#store.tastings.now(session_id);
    if (!standing) return void stream.end();
    this.#hosts.add(stream, session_id, { answers: answersIn(standing) }, () => this.#rest());
    sendEvent(stream, 'changed', { version: versionOf(standing) }, versionOf(standing));
    this.#startWatch();
  }

  /** Whether a seat may open one more stream. */
  hasRoom(session_id: string, seat: number): boolean {
    const own = this.#tasters.of(session_id).filter(({ of }) => of.seat === seat);
    return own.length < TASTING_LIMITS.streams_by_seat && this.#tasters.size < TASTING_LIMITS.streams;
  }

  /** Adds a taster's stream whose head was sent. It is told at once what version its sheet has. */
  addTaster(stream: ServerResponse, session_id: string, seat: number): void {
    this.#tasters.add(stream, session_id, { seat, version: 0 }, () => {
      this.#rest();
      this.tell(session_id);
    });
    this.#startWatch();
    this.tell(session_id);
  }

  /** Seats whose device listens. */
  here(session_id: string): Set<number> {
    return new Set(this.#tasters.of(session_id).map(({ of }) => of.seat));
  }

  /** Ends the streams of a seat. */
  endSeat(session_id: string, seat: number): void {
    for (const { stream, of } of this.#tasters.of(session_id)) if (of.seat === seat) stream.end();
  }

  /** Tells everybody who listens to a session what changed. Safe to call at any time. */
  tell(session_id: string): void {
    this.#waiting.add(session_id);
    if (!this.#telling) void this.#run();
  }

  /** Ends every stream. */
  close(): void {
    this.#hosts.close();
    this.#tasters.close();
    clearInterval(this.#watch);
    this.#watch = undefined;
  }

  async #run(): Promise<void> {
    this.#telling = true;
    try {
      for (let [next] = this.#waiting; next !== undefined; [next] = this.#waiting) {
        this.#waiting.delete(next);
        const standing = await this.#store.tastings.now(next);
        if (standing) this.#tell(next, standing);
      }
    } catch (error) {
      this.#onFailure(error);
    } finally {
      this.#telling = false;
    }
  }

  #tell(session_id: string, standing: SessionNow): void {
    const { session, log } = standing;
    const status = statusOf(log);
    const version = versionOf(standing);
    let answers: HostAnswer[] | undefined;
    for (const { stream, of } of this.#hosts.of(session_id)) {
      if (status.answers.length > of.answers) {
        answers ??= hostAnswers(session.design, session.plan, status);
        for (const answer of answers.slice(of.answers)) sendEvent(stream, 'answer', answer);
        of.answers = status.answers.length;
      }
      sendEvent(stream, 'changed', { version }, version);
    }
    for (const { stream, of } of this.#tasters.of(session_id)) {
      const own = ownVersion(status, of.seat);
      if (own === of.version) continue;
      of.version = own;
      sendEvent(stream, 'changed', { version: own, now: this.#now() });
    }
  }

  /** Looks now and then for what another process wrote. */
  #startWatch(): void {
    this.#watch ??= setInterval(() => void this.#look(), LIMITS.watch_ms).unref();
  }

  async #look(): Promise<void> {
    try {
      const last = await this.#store.tastings.lastEvent();
      if (last === this.#seen) return;
      this.#seen = last;
      for (const id of new Set([...this.#hosts.sessions(), ...this.#tasters.sessions()])) this.tell(id);
    } catch (error) {
      this.#onFailure(error);
    }
  }

  #rest(): void {
    if (this.#hosts.size + this.#tasters.size > 0) return;
    clearInterval(this.#watch);
    this.#watch = undefined;
  }
}

const versionOf = ({ log }: SessionNow): number => log.at(-1)?.seq ?? 0;
const answersIn = ({ log }: SessionNow): number => log.filter((e) => e.type === 'answered').length;
