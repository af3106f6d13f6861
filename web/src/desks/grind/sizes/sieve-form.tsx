import { useState } from 'react';
import type { Draft } from '../../../replica/index.ts';
import {
  Button,
  CheckInput,
  Fields,
  IconButton,
  NumberAt,
  problemAt,
  SelectInput,
  useForm,
} from '../../../ui/index.ts';
import { fieldLabel, formatNumber, formatWithUnit, t } from '../../../words/index.ts';
import { openingsLeft, type SieveData, sieveSums, withSieve } from './sieve-kernels.ts';

/** A stack of sieves with what was weighed on each, coarsest first, the pan, the load, and what is missing. */
export function SieveForm({ draft, data }: { draft: Draft<'sizing'>; data: SieveData }) {
  const { problems } = useForm();
  const set = (change: Partial<SieveData>): void =>
    draft.change({ ...draft.body, data: { ...data, ...change } });
  const sums = sieveSums(data);
  const [asked, ask] = useState(false);
  const tared = data.sieves.some((row) => row.tare_g !== 0) || (data.pan?.tare_g ?? 0) !== 0;
  const tares = tared || asked;
  return (
    <div className="grind-stack">
      <Fields>
        <NumberAt path={['data', 'load_g']} step={0.1} nullable />
        <NumberAt path={['data', 'step_g']} step={0.01} />
        <NumberAt path={['data', 'shaken_s']} step={30} nullable />
        <NumberAt path={['data', 'repeat_pct']} step={0.1} hint={t('grind.sieves.repeat_hint')} />
      </Fields>
      <CheckInput label={t('grind.sieves.with_tare')} value={tares} onChange={ask} disabled={tared} />
      <table className="sieve-table" data-tares={tares || undefined}>
        <caption className="visually-hidden">{t('grind.sieves.caption')}</caption>
        <thead>
          <tr>
            <th scope="col">{fieldLabel(['aperture_um'])}, µm</th>
            <th scope="col">{t(tares ? 'grind.sieves.gross' : 'grind.sieves.on')}, g</th>
            {tares && <th scope="col">{fieldLabel(['tare_g'])}, g</th>}
            <th scope="col" className="sieve-share">
              {t('grind.sieves.share')}
            </th>
            <th scope="col">
              <span className="visually-hidden">{t('common.remove')}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {data.sieves.map((row, i) => (
            // A sieve goes by its place in the stack: its opening changes while it is typed.
            <tr key={['sieve', i].join('/')}>
              <SieveCells
                path={['data', 'sieves', i]}
                name={t('field.row', { row: i + 1 })}
                tares={tares}
                opening
              />
              <Share pct={sums.pct[i]!} net={sums.net_g[i]!} />
              <td>
                <IconButton
                  icon="remove"
                  label={t('grind.sieves.remove', { aperture: String(row.aperture_um) })}
                  isDisabled={data.sieves.length === 1}
                  onPress={() => set({ sieves: data.sieves.filter((_, k) => k !== i) })}
                />
              </td>
            </tr>
          ))}
          <tr>
            {data.pan ? (
              <>
                <th scope="row">{t('grind.sieves.pan')}</th>
                <SieveCells path={['data', 'pan']} name={`: ${t('grind.sieves.pan')}`} tares={tares} />
                <Share pct={sums.pan_pct} net={sums.pan_g} />
                <td>
                  <IconButton
                    icon="remove"
                    label={t('grind.sieves.no_pan')}
                    onPress={() => set({ pan: null })}
                  />
                </td>
              </>
            ) : (
              <td colSpan={tares ? 5 : 4}>
                <Button look="quiet" icon="add" onPress={() => set({ pan: { weighed_g: 0, tare_g: 0 } })}>
                  {t('grind.sieves.add_pan')}
                </Button>
              </td>
            )}
          </tr>
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">{t('grind.sieves.sum')}</th>
            <td colSpan={tares ? 4 : 3}>
              {formatWithUnit(sums.total_g, 'g', 2)}
              {sums.missing_g !== null && (
                <span className="quiet-text">
                  {' '}
                  {t(sums.missing_g < 0 ? 'grind.sieves.excess' : 'grind.sieves.missing', {
                    mass: formatNumber(Math.abs(sums.missing_g), 2),
                  })}
                </span>
              )}
            </td>
          </tr>
        </tfoot>
      </table>
      {problemAt(problems, ['data', 'sieves']) && (
        <p className="plain-problem">{problemAt(problems, ['data', 'sieves'])}</p>
      )}
      <SelectInput
        label={t('grind.sieves.add')}
        value={null}
        placeholder={t('grind.sieves.add_choose')}
        options={openingsLeft(data.sieves).map(({ aperture_um, mesh }) => ({
          value: String(aperture_um),
          label: `${aperture_um} µm`,
          detail: t('grind.sieves.mesh', { mesh }),
        }))}
        onChange={(value) => set({ sieves: withSieve(data.sieves, Number(value)) })}
      />
    </div>
  );
}

interface CellsProps {
  path: readonly (string | number)[];
  name: string;
  tares: boolean;
  opening?: boolean;
}

function SieveCells({ path, name, tares, opening = false }: CellsProps) {
  const cell = (field: string, step: number) => (
    <td>
      <NumberAt
        path={[...path, field]}
        label={`${fieldLabel([field])}${name}`}
        hideLabel
        unit=""
        step={step}
      />
    </td>
  );
  return (
    <>
      {opening && cell('aperture_um', 10)}
      {cell('weighed_g', 0.1)}
      {tares && cell('tare_g', 0.1)}
    </>
  );
}

function Share({ pct, net }: { pct: number; net: number }) {
  return (
    <td className="sieve-share">
      <span
        className="sieve-bar"
        style={{ inlineSize: `${Math.max(0, Math.min(100, 2 * pct))}%` }}
        aria-hidden="true"
      />
      <span className="sieve-pct">
        {formatNumber(pct, 1)} % <span className="quiet-text">{formatNumber(net, 2)} g</span>
      </span>
    </td>
  );
}
