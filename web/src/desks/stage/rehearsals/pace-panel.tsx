import type { OwnPace, Talk } from '@pourline/core';
import { Button, Panel } from '../../../ui/index.ts';
import { formatNumber, t } from '../../../words/index.ts';

interface PacePanelProps {
  pace: OwnPace | null;
  talk: Talk;
  onUse: (rate: OwnPace['rate']) => void;
}

/** Own speaking rate as the laps show it, ready to be used in the talk. */
export function PacePanel({ pace, talk, onUse }: PacePanelProps) {
  const inUse = pace && talk.rate && Math.abs(talk.rate.words_per_min - pace.rate.words_per_min) < 0.5;
  return (
    <Panel title={t('rehearsal.pace')}>
      {pace ? (
        <>
          <p>
            {t('rehearsal.pace_is', {
              words: formatNumber(pace.rate.words_per_min),
              characters: formatNumber(pace.rate.characters_per_min),
              pieces: pace.pieces,
              runs: pace.runs,
            })}{' '}
            {pace.low === null || pace.high === null
              ? t('rehearsal.pace_once')
              : t('rehearsal.pace_next', {
                  low: formatNumber(pace.low * pace.rate.words_per_min),
                  high: formatNumber(pace.high * pace.rate.words_per_min),
                })}
          </p>
          <div className="buttons">
            <Button isDisabled={inUse === true} onPress={() => onUse(roundedRate(pace.rate))}>
              {t(inUse ? 'rehearsal.pace_used' : 'rehearsal.pace_use')}
            </Button>
          </div>
        </>
      ) : (
        <p className="quiet-text">{t('rehearsal.pace_none')}</p>
      )}
    </Panel>
  );
}

const roundedRate = ({ words_per_min, characters_per_min }: OwnPace['rate']): OwnPace['rate'] => ({
  words_per_min: Math.min(600, Math.round(words_per_min * 10) / 10),
  characters_per_min: Math.min(1_000, Math.round(characters_per_min * 10) / 10),
});
