// Counts how many runs one thread gets done. Started by speed.ts.
import { register } from 'tsx/esm/api';

register();
const { count } = await import('./count-runs.ts');
count();
