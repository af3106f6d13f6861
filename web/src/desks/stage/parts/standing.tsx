import type { Problem } from '@pourline/core';
import { Notice } from '../../../ui/index.ts';
import { problemSentence, t } from '../../../words/index.ts';
import type { Run } from '../room/use-run.ts';

/** What keeps the desk from following what is typed, in sentences. */
export function Standing({ typed, run }: { typed: readonly Problem[]; run: Run }) {
  const problems = [...typed, ...run.problems];
  const failure = run.plan.failure ?? run.placed.failure;
  return (
    <>
      {problems.length > 0 && (
        <Notice tone="alert">
          <p>{t('stage.not_followed')}</p>
          <ul className="plain-list">
            {problems.slice(0, 5).map((problem) => (
              <li key={`${problem.path.join('/')} ${problem.code}`}>{problemSentence(problem)}</li>
            ))}
          </ul>
        </Notice>
      )}
      {failure && <Notice tone="alert">{t('stage.failed', { detail: failure })}</Notice>}
    </>
  );
}
