import { timesOf } from '@pourline/core';
import { archiveDocument, type Draft } from '../../../replica/index.ts';
import { Button, Panel, TextInput } from '../../../ui/index.ts';
import { formatClock, t } from '../../../words/index.ts';
import { CupsForm } from './cups-form.tsx';
import { SoundPlayer } from './sound-player.tsx';

/** One rehearsal: its name and notes, its marks, its recording, what was served. */
export function OneRun({ draft, onGone }: { draft: Draft<'rehearsal'>; onGone: () => void }) {
  const { body, document } = draft;
  const times = timesOf(document);
  const choices = document.events.filter(({ what }) => what === 'choice').length;
  const openings = document.events.filter(({ what }) => what === 'opened').length;
  const facts = [
    times.marks.length > 0 &&
      t('rehearsal.marked_at', { at: times.marks.map((at) => formatClock(at)).join(', ') }),
    choices > 0 && t('rehearsal.choices', { count: choices }),
    openings > 0 && t('rehearsal.openings', { count: openings }),
  ].filter((fact) => fact !== false);
  return (
    <Panel
      title={document.name}
      aside={
        <Button
          look="quiet"
          icon="archive"
          onPress={() => {
            onGone();
            void archiveDocument(document.id);
          }}
        >
          {t('common.archive')}
        </Button>
      }
    >
      <div className="fields">
        <TextInput
          label={t('field.name')}
          value={body.name}
          onChange={(name) => draft.change({ ...body, name })}
        />
      </div>
      <TextInput
        label={t('field.notes')}
        value={body.notes}
        long
        onChange={(notes) => draft.change({ ...body, notes })}
      />
      {facts.length > 0 && (
        <ul className="rehearsal-says">
          {facts.map((fact) => (
            <li key={fact}>{fact}</li>
          ))}
        </ul>
      )}
      <SoundPlayer run={document} times={times} />
      <CupsForm draft={draft} />
    </Panel>
  );
}
