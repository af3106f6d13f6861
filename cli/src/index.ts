export { defaultData } from './data.ts';
export { EXIT, type ExitCode, Stop } from './exit.ts';
export { main, makeProgram } from './main.ts';
export { type Served, type Serving, serve } from './serving.ts';
