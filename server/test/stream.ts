import { get, type IncomingMessage } from 'node:http';

export interface StreamEvent {
  id: string;
  event: string;
  data: unknown;
}

/** An open event stream, read as a browser would. */
export interface Stream {
  status: number;
  headers: IncomingMessage['headers'];
  events: StreamEvent[];
  /** All text so far. */
  text: () => string;
  /** Resolves once `n` events have come. */
  wait: (n: number) => Promise<StreamEvent[]>;
  /** Resolves when the server ends the stream. */
  ended: Promise<void>;
  stop: () => void;
}

/** Opens an event stream. */
export function openStream(
  port: number,
  path: string,
  headers: Record<string, string> = {},
): Promise<Stream> {
  return new Promise((resolve, reject) => {
    const request = get({
      host: '127.0.0.1',
      port,
      path,
      headers: { host: `localhost:${port}`, ...headers },
    });
    request.on('error', reject);
    request.on('response', (response) => resolve(follow(response, () => request.destroy())));
  });
}

function follow(response: IncomingMessage, stop: () => void): Stream {
  const events: StreamEvent[] = [];
  const waiting: { n: number; done: (events: StreamEvent[]) => void }[] = [];
  let text = '';
  let read = 0;
  response.setEncoding('utf8');
  response.on('error', () => {});
  response.on('data', (chunk: string) => {
    text += chunk;
    for (let end = text.indexOf('\n\n', read); end >= 0; end = text.indexOf('\n\n', read)) {
      const event = eventIn(text.slice(read, end));
      if (event) events.push(event);
      read = end + 2;
    }
    for (const { n, done } of waiting) if (events.length >= n) done(events);
  });
  return {
    status: response.statusCode ?? 0,
    headers: response.headers,
    events,
    text: () => text,
    wait: (n) =>
      new Promise((done) => {
        if (events.length >= n) done(events);
        else waiting.push({ n, done });
      }),
    ended: new Promise((done) => response.once('close', done)),
    stop,
  };
}

/** One block of an event stream, HTML standard section 9.2.6; undefined for a comment. */
function eventIn(block: string): StreamEvent | undefined {
  const fields = new Map(block.split('\n').map((line) => line.split(/: ?(.*)/s, 2) as [string, string]));
  const data = fields.get('data');
  if (data === undefined) return undefined;
  return { id: fields.get('id') ?? '', event: fields.get('event') ?? 'message', data: JSON.parse(data) };
}
