import type { BrewBundle, Talk } from '../../documents/index.ts';
import { rounded, type StageRemark, stageRemark } from '../remark.ts';

/** One jar with its dose. */
export interface StageJar {
  id: string;
  name: string;
  /** Null: a spare. */
  brewer: number | null;
  weighed_g: number | null;
  /** Weighed less asked [g]; null while not weighed. */
  off_g: number | null;
  verdict: 'right' | 'light' | 'heavy' | 'not_weighed';
}

/** What the jars should hold and do. */
export interface StageJars {
  /** Dose, and what has to be in a jar so that as much comes out of the grinder [g]. */
  dose_g: number;
  retention_g: number;
  target_g: number;
  tolerance_g: number;
  jars: StageJar[];
  remarks: StageRemark[];
}

/** What grinding keeps back of a dose of the plan, by its grinder settings [g]. */
export const retentionOf = ({ plan, grinders }: Pick<BrewBundle, 'plan' | 'grinders'>): number =>
  plan.grind.reduce((sum, { grinder_id, setting_id, share }) => {
    const setting = grinders[grinder_id]?.settings.find(({ id }) => id === setting_id);
    return sum + (share > 0 ? (setting?.retention_g ?? 0) : 0);
  }, 0);

/** Holds every jar to dose and retention, and every brewer to a jar. */
export function checkStageJars({ jars, brewing }: Talk, dose_g: number, retention: number): StageJars {
  const retention_g = jars.retention_g ?? retention;
  const target_g = dose_g + retention_g;
  const list = jars.list.map((jar): StageJar => {
    const off_g = jar.weighed_g === null ? null : jar.weighed_g - target_g;
    const verdict =
      off_g === null
        ? 'not_weighed'
        : Math.abs(off_g) <= jars.tolerance_g + 1e-9
          ? 'right'
          : off_g < 0
            ? 'light'
            : 'heavy';
    return { ...jar, off_g, verdict };
  });
  const without = Array.from({ length: brewing.brewers }, (_, b) => b + 1).filter(
    (b) => !list.some(({ brewer }) => brewer === b),
  );
  const remarks: StageRemark[] = [
    ...list
      .filter(({ verdict }) => verdict === 'light' || verdict === 'heavy')
      .map(({ name, off_g, verdict, weighed_g }) =>
        stageRemark('impossible', verdict === 'light' ? 'jar_light' : 'jar_heavy', {
          name,
          weighed: rounded(weighed_g!, 2),
          target: rounded(target_g, 2),
          off: rounded(Math.abs(off_g!), 2),
        }),
      ),
    ...(without.length > 0 ? [stageRemark('watch', 'jar_missing', { brewers: without.join(', ') })] : []),
    ...(list.some(({ brewer }) => brewer === null) ? [] : [stageRemark('note', 'jar_no_spare')]),
  ];
  return { dose_g, retention_g, target_g, tolerance_g: jars.tolerance_g, jars: list, remarks };
}
