// Measures what a run allocates, in a thread with a large young space. Started by memory.ts.
import { register } from 'tsx/esm/api';

register();
const { measureAllocation } = await import('./allocation.ts');
await measureAllocation();
