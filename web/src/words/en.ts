import { brew } from './en/brew.ts';
import { common } from './en/common.ts';
import { fields } from './en/fields.ts';
import { grind } from './en/grind.ts';
import { grindGuide } from './en/grind-guide.ts';
import { grindMix } from './en/grind-mix.ts';
import { grindRemarks } from './en/grind-remarks.ts';
import { panel } from './en/panel.ts';
import { panelSession } from './en/panel-session.ts';
import { panelWords } from './en/panel-words.ts';
import { problems } from './en/problems.ts';
import { shelf } from './en/shelf.ts';
import { shell } from './en/shell.ts';
import { stage } from './en/stage.ts';
import { stageLive } from './en/stage-live.ts';
import { stageLiveRehearsals } from './en/stage-live-rehearsals.ts';
import { stagePrint } from './en/stage-print.ts';
import { stageRemarks } from './en/stage-remarks.ts';
import { stageRules } from './en/stage-rules.ts';
import { stageTalk } from './en/stage-talk.ts';
import { strip } from './en/strip.ts';
import { trials } from './en/trials.ts';
import { trialsLearn } from './en/trials-learn.ts';
import { trialsTrace } from './en/trials-trace.ts';
import { water } from './en/water.ts';
import { waterMaking } from './en/water-making.ts';
import { waterRemarks } from './en/water-remarks.ts';
import { waterShelf } from './en/water-shelf.ts';

/**
 * Every sentence a person reads, by flat key, as an ICU message. One part per folder of the app; another language is
 * a second object with the same keys.
 */
export const en = {
  ...common,
  ...fields,
  ...problems,
  ...shell,
  ...shelf,
  ...brew,
  ...strip,
  ...stage,
  ...stageTalk,
  ...stageRules,
  ...stagePrint,
  ...stageRemarks,
  ...stageLive,
  ...stageLiveRehearsals,
  ...water,
  ...waterShelf,
  ...waterMaking,
  ...waterRemarks,
  ...grind,
  ...grindMix,
  ...grindGuide,
  ...grindRemarks,
  ...trials,
  ...trialsLearn,
  ...trialsTrace,
  ...panel,
  ...panelSession,
  ...panelWords,
} as const;

export type Key = Extract<keyof typeof en, string>;
export type Catalogue = Readonly<Record<Key, string>>;
