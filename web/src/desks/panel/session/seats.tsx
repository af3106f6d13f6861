import type { HostSeat, HostView } from '@pourline/core';
import { Button, Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';
import { ShareBar } from '../results/share-bars.tsx';
import { answersOf } from './answers-of.ts';
import type { Hosting } from './use-session.ts';

/** A device clock further off than this is worth a word [ms]; our choice. */
const CLOCK_OFF_MS = 5_000;

/** Who sits where, who is here, and how far each has come. */
export function Seats({ hosting, view }: { hosting: Hosting; view: HostView }) {
  const seated = view.seats.filter((s) => s.name !== null);
  const free = view.seats.filter((s) => s.name === null);
  return (
    <Panel title={t('panel.run.seats', { count: seated.length })}>
      {seated.length === 0 && <p className="quiet-text">{t('panel.run.nobody')}</p>}
      <ul className="seats">
        {seated.map((seat) => (
          <Seat key={seat.seat} seat={seat} hosting={hosting} view={view} />
        ))}
      </ul>
      <p className="quiet-text">
        {t('panel.run.free', { free: free.length, spare: free.filter((s) => s.spare).length })}
      </p>
    </Panel>
  );
}

function Seat({ seat, hosting, view }: { seat: HostSeat; hosting: Hosting; view: HostView }) {
  const answered = answersOf(view, seat.seat);
  const state = seat.left_at !== null ? 'left' : seat.here ? 'here' : 'away';
  const off = seat.offset_ms !== null && Math.abs(seat.offset_ms) > CLOCK_OFF_MS ? seat.offset_ms : null;
  return (
    <li className="seat" data-state={state}>
      <span className="seat-number">{seat.seat}</span>
      <span className="seat-name">
        {seat.name}
        <span className="quiet-text"> {t(`panel.run.seat.${state}`)}</span>
        {off !== null && (
          <span className="quiet-text">
            {' '}
            · {t('panel.run.clock_off', { seconds: formatNumber(off / 1_000) })}
          </span>
        )}
      </span>
      <span className="seat-count">
        <ShareBar count={answered} of={seat.expected} />
        {t('panel.run.seat_answers', { answered, expected: seat.expected })}
      </span>
      {view.state !== 'closed' && (
        <span className="seat-actions">
          {seat.seat_code ? (
            <strong className="seat-code">{seat.seat_code.code}</strong>
          ) : (
            <Button look="quiet" onPress={() => void hosting.act({ do: 'seat_code', seat: seat.seat })}>
              {t('panel.run.new_device')}
            </Button>
          )}
          {seat.left_at === null && (
            <Button look="quiet" onPress={() => void hosting.act({ do: 'remove', seat: seat.seat })}>
              {t('panel.run.remove')}
            </Button>
          )}
        </span>
      )}
    </li>
  );
}
