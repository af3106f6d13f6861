import { readSizeText, type Sizing } from '@pourline/core';
import { CAMPAIGN, COFFEE, GRINDER, SIZING } from './ids.ts';

interface Measured {
  id: string;
  name: string;
  at: string;
  dial: number;
  data: Sizing['data'];
  notes: string;
}

/** A sieving of 50 g on a scale of 0.1 g: apertures [µm] and masses [g], coarsest first. */
const sieved = (rows: readonly (readonly [number, number])[], pan_g: number): Sizing['data'] => ({
  by: 'sieves',
  load_g: 50,
  sieves: rows.map(([aperture_um, weighed_g]) => ({ aperture_um, weighed_g, tare_g: 0 })),
  pan: { weighed_g: pan_g, tare_g: 0 },
  step_g: 0.1,
  aperture_doubt_pct: null,
  repeat_pct: 0.5,
  shaken_s: 300,
});

const TABLE =
  'Sample;setting nine\nSize (µm);Cumulative volume (%)\n10,0;0,01\n11,9;0,02\n14,2;0,05\n16,9;0,15\n20,1;0,35\n23,9;0,75\n28,4;1,45\n33,8;2,50\n40,2;3,91\n47,9;5,57\n56,9;7,28\n67,8;8,83\n80,6;10,07\n96,0;10,94\n114;11,48\n136;11,77\n162;11,91\n192;11,97\n229;12,00\n273;12,06\n324;12,29\n386;13,07\n459;15,21\n546;20,03\n650;28,83\n774;41,88\n921;57,62\n1096;73,03\n1304;85,29\n1552;93,22\n1847;97,38\n2198;99,16\n2615;99,78\n3112;99,95\n';

function tabled(text: string): Sizing['data'] {
  const read = readSizeText(text, 'setting-nine.csv');
  if (!read.ok) throw new Error(read.problems.map((p) => p.sentence).join(' '));
  return read.value.data;
}

const measured: Measured[] = [
  {
    id: SIZING.six,
    name: 'Setting 6, sieved',
    at: '2026-11-13T10:00:00+00:00',
    dial: 6,
    data: sieved(
      [
        [1700, 0.4],
        [1400, 0.6],
        [1180, 1.4],
        [1000, 3.6],
        [850, 3.9],
        [710, 7.1],
        [600, 6.7],
        [500, 7],
        [425, 4.9],
        [300, 5.5],
        [212, 1.3],
        [106, 0.4],
        [53, 2.4],
      ],
      4.6,
    ),
    notes: '',
  },
  {
    id: SIZING.eight,
    name: 'Setting 8, sieved',
    at: '2026-11-13T11:10:00+00:00',
    dial: 8,
    data: sieved(
      [
        [1700, 1],
        [1400, 2.2],
        [1180, 3.7],
        [1000, 5.3],
        [850, 7.3],
        [710, 8.9],
        [600, 6.3],
        [500, 4.4],
        [425, 2.6],
        [300, 1.6],
        [212, 0.1],
        [106, 0.2],
        [53, 2.4],
      ],
      3.7,
    ),
    notes: 'Sieves brushed from below; still a little dust on the lid.',
  },
  {
    id: SIZING.nineTable,
    name: 'Setting 9, laser table',
    at: '2026-11-14T09:00:00+00:00',
    dial: 9,
    data: tabled(TABLE),
    notes: 'Measured for us elsewhere; the table as it was sent.',
  },
  {
    id: SIZING.ten,
    name: 'Setting 10, sieved',
    at: '2026-11-13T12:00:00+00:00',
    dial: 10,
    data: sieved(
      [
        [1700, 3.5],
        [1400, 5.3],
        [1180, 6.8],
        [1000, 6.5],
        [850, 7.7],
        [710, 6.9],
        [600, 4],
        [500, 2.5],
        [425, 0.8],
        [300, 0.5],
        [212, 0],
        [106, 0.3],
        [53, 2.4],
      ],
      2.6,
    ),
    notes: '',
  },
];

/** Measurements of the bench grinder, invented: the sizes its settings are said to have, with the errors of sieves and scale. */
export const sizings: Sizing[] = measured.map(({ id, name, at, dial, data, notes }) => ({
  kind: 'sizing',
  version: 1,
  id,
  campaign_id: CAMPAIGN,
  name,
  notes,
  archived: false,
  measured_at: at,
  coffee_id: COFFEE.washed,
  grinder_id: GRINDER,
  dial,
  touch_dial: null,
  beans_C: 21,
  burrs_kg: 60,
  data,
  model: 'best',
  fines_limit_um: 100,
}));
