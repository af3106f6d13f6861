import { type Command, InvalidArgumentError } from 'commander';
import { defaultData, withData } from '../data.ts';
import { EXIT, Stop } from '../exit.ts';
import { toJson } from '../io.ts';
import { FIRST_PORT, serve } from '../serving.ts';

interface Options {
  data?: string;
  host?: string;
  port?: number;
  allow?: string[];
  share?: boolean | string;
  sharePort?: number;
  demo: boolean;
  json?: boolean;
}

/** A port from the command line, 0 for any. */
export function portNumber(text: string): number {
  const port = Number(text);
  if (text.trim() === '' || !Number.isInteger(port) || port < 0 || port > 65_535)
    throw new InvalidArgumentError(`"${text}" is not a port; use 1 to 65535, or 0 for any free one.`);
  return port;
}

async function run(options: Options): Promise<void> {
  const data = options.data ?? defaultData();
  const served = await serve({
    data,
    host: options.host,
    port: options.port,
    allowedHosts: options.allow,
    share: options.share !== undefined && options.share !== false,
    shareHost: typeof options.share === 'string' ? options.share : undefined,
    sharePort: options.sharePort,
    demo: options.demo,
  });
  if (served.outcome === 'running')
    throw new Stop(EXIT.notFound, `Another process serves ${data} already, at ${served.url}.`);
  process.stdout.write(
    options.json
      ? toJson({ url: served.url, data, sharing: served.sharing })
      : `Pourline serves ${data} at ${served.url} (Ctrl-C stops it)\n${sharingLines(served.sharing)}`,
  );
}

/** Who else can reach it and how to stop that; nothing when nobody can. */
const sharingLines = ({ shared, says }: { shared: boolean; says: readonly string[] }): string =>
  shared ? says.map((line) => `${line}\n`).join('') : '';

/** `serve`: the database → the app in a browser, until stopped. */
export function addServe(program: Command): void {
  withData(program.command('serve'))
    .description('serve the app and its data on this machine until stopped; the pages must be built')
    .option(
      '-p, --port <number>',
      `exactly this port (default: the first free one from ${FIRST_PORT})`,
      portNumber,
    )
    .option('--host <address>', 'address to listen on (default: 127.0.0.1, this machine only)')
    .option('--allow <name...>', 'host names by which others may call it; there is no login, so think first')
    .option(
      '--share [address]',
      "let other devices in this network reach the tasters' page; nothing else is opened (default: every address)",
    )
    .option('--share-port <number>', 'port for that (default: the first free one from 4760)', portNumber)
    .option('--no-demo', 'do not put the demo campaign into an empty database')
    .option('--json', 'address and data folder as JSON, once it answers')
    .addHelpText(
      'after',
      '\nExamples\n  pourline serve\n  pourline serve --port 4710 --data ~/brews --no-demo\n  pourline serve --share',
    )
    .action(run);
}
