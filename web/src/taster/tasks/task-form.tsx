import type { TasterTask, TastingAnswer } from '@pourline/core';
import type { Ask } from '../asks.ts';
import { AttributesForm } from './attributes.tsx';
import { PickForm } from './pick.tsx';
import { RankingForm } from './ranking.tsx';
import { TemporalForm } from './temporal.tsx';
import { TicksForm } from './ticks.tsx';
import { WordsForm } from './words-form.tsx';

/** What every form gets: what it kept, and where to put it with the answer, once there is a whole one. */
export interface FormProps<T extends TasterTask['test'] = TasterTask['test']> {
  task: Extract<TasterTask, { test: T }>;
  ask: Ask;
  /** Seat, for an order of words of its own. */
  seat: number;
  form: unknown;
  onChange: (form: unknown, answer: TastingAnswer | null) => void;
}

/** The form of whichever test this is. */
export function TaskForm({ task, ...rest }: Omit<FormProps, 'task'> & { task: TasterTask }) {
  switch (task.test) {
    case 'ranking':
      return <RankingForm task={task} {...rest} />;
    case 'intensity':
    case 'just_about_right':
      return <AttributesForm task={task} {...rest} />;
    case 'check_all':
      return <TicksForm task={task} {...rest} />;
    case 'descriptors':
      return <WordsForm task={task} {...rest} />;
    case 'temporal':
      return <TemporalForm task={task} {...rest} />;
    default:
      return <PickForm task={task} {...rest} />;
  }
}
