export { EXIT, type ExitCode } from './exit.ts';
export { main, makeProgram } from './main.ts';
