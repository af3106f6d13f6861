import { closeOnSignals, startServer } from '../src/index.ts';

// A server in a process of its own, to be killed. Takes the path of its database; says its port, and what the
// database finds wrong with itself, in one line of JSON.
const running = await startServer({ file: process.argv[2] ?? '', port: 0 });
closeOnSignals(running);
const faults = await running.store.integrityCheck();
process.stdout.write(`${JSON.stringify({ port: running.port, faults })}\n`);
