import type { CareAnswers } from '@pourline/core';
import { useEffect, useState } from 'react';
import type { Keeper, View } from '../keeper.ts';
import { Big, Line } from '../parts.tsx';
import { readySound } from '../prompt.ts';
import { hello } from '../wire.ts';
import { say } from '../words.ts';

interface JoinProps {
  keeper: Keeper;
  view: View;
  /** From the picture that was scanned; empty when there was none. */
  code: string;
}

/** Code and name, then a few questions of care. */
export function JoinScreen({ keeper, view, code }: JoinProps) {
  const [typed, type] = useState({ code, name: view.seat?.name ?? '' });
  const [step, setStep] = useState<'seat' | 'care'>('seat');
  // Kept here, so that going back for another name loses no answer.
  const [answers, answer] = useState<Answers>(NO_ANSWERS);
  const [asked, setAsked] = useState(false);
  const waiting = view.waiting.filter((w) => w.refused === null).length;
  const again = view.seat !== null && view.sheet !== null;
  if (step === 'care')
    return (
      <CareForm
        busy={view.joining}
        problem={view.refusal ?? (view.reached ? null : say('join.away'))}
        care={answers}
        setCare={answer}
        onBack={() => setStep('seat')}
        onJoin={(care) => {
          readySound();
          void keeper.join(typed.code, typed.name.trim(), care);
        }}
      />
    );
  return (
    <main className="taste taste-body">
      <form
        className="taste-form"
        onSubmit={(event) => {
          event.preventDefault();
          setAsked(true);
          if (typed.code.trim() !== '' && typed.name.trim() !== '') setStep('care');
        }}
      >
        <h1>{say(again ? 'join.again' : 'join.title')}</h1>
        {again && <p>{say('join.again_text')}</p>}
        {again && waiting > 0 && <p>{say('join.waiting', { count: waiting })}</p>}
        {view.refusal && (
          <p className="line-problem" role="alert">
            {view.refusal}
          </p>
        )}
        <Line
          id="code"
          label={say('join.code')}
          hint={say('join.code_hint')}
          problem={asked && typed.code.trim() === '' ? say('join.need_code') : undefined}
        >
          <input
            id="code"
            className="line-input line-code"
            value={typed.code}
            autoCapitalize="characters"
            autoComplete="off"
            spellCheck={false}
            maxLength={20}
            onChange={(event) => type({ ...typed, code: event.target.value })}
          />
        </Line>
        <Line
          id="name"
          label={say('join.name')}
          hint={say('join.name_hint')}
          problem={asked && typed.name.trim() === '' ? say('join.need_name') : undefined}
        >
          <input
            id="name"
            className="line-input"
            value={typed.name}
            autoComplete="given-name"
            maxLength={60}
            onChange={(event) => type({ ...typed, name: event.target.value })}
          />
        </Line>
        <div className="taste-foot">
          <button type="submit" className="big big-main">
            <span>{say('join.next')}</span>
          </button>
        </div>
      </form>
    </main>
  );
}

/** Milligrams of caffeine in a usual cup, for a rough start of the ledger (EFSA's example of a filter cup). */
const CUP_MG = 90;
const CUPS = [0, 1, 2, 3, 4] as const;

/** The questions of care as they stand on the page. */
interface Answers {
  adult: boolean;
  pregnant: boolean;
  spits: boolean;
  cups: number;
  flags: string;
  avoids: readonly string[];
}

const NO_ANSWERS: Answers = { adult: false, pregnant: false, spits: true, cups: 0, flags: '', avoids: [] };

interface CareFormProps {
  busy: boolean;
  problem: string | null;
  care: Answers;
  setCare: (care: Answers) => void;
  onBack: () => void;
  onJoin: (care: CareAnswers) => void;
}

function CareForm({ busy, problem, care, setCare, onBack, onJoin }: CareFormProps) {
  const [allergens, setAllergens] = useState<readonly string[]>([]);
  const [asked, setAsked] = useState(false);
  useEffect(() => {
    let stale = false;
    void hello().then((told) => {
      if (!stale && told.is === 'ok') setAllergens(told.value.allergens);
    });
    return () => {
      stale = true;
    };
  }, []);
  const join = (): void => {
    setAsked(true);
    if (!care.adult) return;
    onJoin({
      adult: true,
      pregnant_or_lactating: care.pregnant,
      allergens: [...care.avoids],
      flags: care.flags.trim() === '' ? [] : [care.flags.trim().slice(0, 80)],
      taken_today_mg: care.cups * CUP_MG,
      spits: care.spits,
    });
  };
  const toggle = (name: string): void =>
    setCare({
      ...care,
      avoids: care.avoids.includes(name) ? care.avoids.filter((a) => a !== name) : [...care.avoids, name],
    });
  return (
    <main className="taste taste-body">
      <h1>{say('care.title')}</h1>
      <p className="quiet">{say('care.text')}</p>
      <Big pressed={care.adult} onPress={() => setCare({ ...care, adult: !care.adult })}>
        {say('care.adult')}
      </Big>
      {asked && !care.adult && (
        <p className="line-problem" role="alert">
          {say('care.adult_needed')}
        </p>
      )}
      <Big pressed={care.pregnant} onPress={() => setCare({ ...care, pregnant: !care.pregnant })}>
        {say('care.pregnant')}
      </Big>
      <Big pressed={care.spits} onPress={() => setCare({ ...care, spits: !care.spits })}>
        {say('care.spits')}
      </Big>
      {allergens.length > 0 && (
        <fieldset className="line">
          <legend>{say('care.allergens')}</legend>
          <div className="chips">
            {allergens.map((name) => (
              <Big key={name} pressed={care.avoids.includes(name)} onPress={() => toggle(name)}>
                {name}
              </Big>
            ))}
          </div>
        </fieldset>
      )}
      <fieldset className="line">
        <legend>{say('care.taken')}</legend>
        <div className="row">
          {CUPS.map((cups) => (
            <Big key={cups} pressed={care.cups === cups} onPress={() => setCare({ ...care, cups })}>
              {cups === 4 ? '4+' : cups}
            </Big>
          ))}
        </div>
      </fieldset>
      <Line id="flags" label={say('care.flags')} hint={say('care.flags_hint')}>
        <input
          id="flags"
          className="line-input"
          value={care.flags}
          maxLength={80}
          autoComplete="off"
          onChange={(event) => setCare({ ...care, flags: event.target.value })}
        />
      </Line>
      {problem && (
        <p className="line-problem" role="alert">
          {problem}
        </p>
      )}
      <div className="taste-foot taste-foot-two">
        <Big look="quiet" onPress={onBack}>
          {say('care.back')}
        </Big>
        <Big look="main" disabled={busy} onPress={join}>
          {say(busy ? 'care.joining' : 'care.join')}
        </Big>
      </div>
    </main>
  );
}
