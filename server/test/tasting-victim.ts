import { closeOnSignals, startServer } from '../src/index.ts';

// A server in a process of its own, with both doors open, to be killed. Takes the path of its database; says its two
// ports, and what the database finds wrong with itself, in one line of JSON.
const running = await startServer({
  file: process.argv[2] ?? '',
  port: 0,
  share: true,
  sharing: { host: '127.0.0.1', port: 0 },
});
closeOnSignals(running);
const faults = await running.store.integrityCheck();
const shared = Number(new URL(running.sharing.addresses()[0] ?? 'http://none').port);
process.stdout.write(`${JSON.stringify({ port: running.port, shared, faults })}\n`);
