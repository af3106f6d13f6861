import { parseArgs } from 'node:util';
import { openBrowser } from './browser.mjs';
import { ensureBuilt } from './build.mjs';
import { ensureInstalled } from './install.mjs';
import { loadProgram } from './program.mjs';

const HELP = `Starts Pourline on this machine: installs packages and builds the pages when needed, then serves them.

  npm start -- [options]

  --port <number>   exactly this port; also PORT. Otherwise the first free one from 4700
  --data <folder>   where the database is; also POURLINE_DATA. Otherwise data/ in this checkout
  --no-demo         leave an empty database empty
  --no-open         open no browser
  --help            this
`;

function readOptions(args) {
  const { values } = parseArgs({
    args,
    options: {
      port: { type: 'string' },
      data: { type: 'string' },
      'no-demo': { type: 'boolean', default: false },
      'no-open': { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  });
  const said = values.port ?? process.env.PORT;
  const port = said ? Number(said) : undefined;
  if (port !== undefined && !(Number.isInteger(port) && port >= 0 && port <= 65_535))
    throw new Error(`"${said}" is not a port; use 1 to 65535, or 0 for any free one.`);
  return { ...values, port };
}

/** `npm start`. Resolves to the exit code; while it serves, undefined, and the process stays. */
export async function start(args) {
  let options;
  try {
    options = readOptions(args);
  } catch (error) {
    console.error(`${error.message}\n\n${HELP}`);
    return 2;
  }
  if (options.help) {
    console.log(HELP);
    return 0;
  }
  if (!(await ensureInstalled()) || !(await ensureBuilt())) return 1;
  const program = await loadProgram();
  if (program === null) return 1;
  const { defaultData, serve, Stop } = program;
  try {
    const served = await serve({
      data: options.data ?? defaultData(),
      port: options.port,
      demo: !options['no-demo'],
    });
    if (served.outcome === 'running') console.log(`Pourline runs already: ${served.url}`);
    else
      console.log(
        `${served.demo ? 'The demo campaign is in. ' : ''}Pourline: ${served.url}  (Ctrl-C stops it)`,
      );
    if (!options['no-open']) openBrowser(served.url);
    return served.outcome === 'running' ? 0 : undefined;
  } catch (error) {
    if (!(error instanceof Stop)) throw error;
    for (const sentence of error.sentences) console.error(sentence);
    return error.code;
  }
}
