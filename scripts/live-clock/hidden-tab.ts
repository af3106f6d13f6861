import type { CDPSession } from 'playwright-core';

/** A tab that no test library holds awake: the browser treats it as it treats a person's. */
export interface PlainTab {
  targetId: string;
  send(method: string, params?: object): Promise<Record<string, unknown>>;
  /** Value of an expression in the page. */
  read<T>(expression: string): Promise<T>;
}

/** Arguments that a test library adds to keep hidden pages at full speed; left out here. */
export const KEEPS_AWAKE = [
  '--disable-background-timer-throttling',
  '--disable-backgrounding-occluded-windows',
  '--disable-renderer-backgrounding',
];

/** Opens a tab through the protocol alone, so that it can be hidden behind another. */
export async function openTab(cdp: CDPSession, url: string): Promise<PlainTab> {
  const { targetId } = await cdp.send('Target.createTarget', { url });
  const { sessionId } = await cdp.send('Target.attachToTarget', { targetId, flatten: false });
  const waiting = new Map<
    number,
    { resolve: (value: Record<string, unknown>) => void; reject: (why: Error) => void }
  >();
  cdp.on('Target.receivedMessageFromTarget', (event) => {
    if (event.sessionId !== sessionId) return;
    const answer = JSON.parse(event.message) as {
      id?: number;
      result?: Record<string, unknown>;
      error?: { message: string };
    };
    if (answer.id === undefined) return;
    const one = waiting.get(answer.id);
    waiting.delete(answer.id);
    if (answer.error) one?.reject(new Error(answer.error.message));
    else one?.resolve(answer.result ?? {});
  });
  let id = 0;
  const send: PlainTab['send'] = (method, params = {}) =>
    new Promise((resolve, reject) => {
      id++;
      waiting.set(id, { resolve, reject });
      cdp
        .send('Target.sendMessageToTarget', { sessionId, message: JSON.stringify({ id, method, params }) })
        .catch(reject);
    });
  return {
    targetId,
    send,
    read: async <T>(expression: string): Promise<T> => {
      const { result, exceptionDetails } = (await send('Runtime.evaluate', {
        expression,
        awaitPromise: true,
        returnByValue: true,
        userGesture: true,
      })) as { result: { value: T }; exceptionDetails?: { text: string } };
      if (exceptionDetails) throw new Error(`${exceptionDetails.text} in ${expression.slice(0, 80)}`);
      return result.value;
    },
  };
}

/** Puts another tab of the same window in front; the one before is hidden then. */
export async function hide(cdp: CDPSession): Promise<void> {
  const { targetId } = await cdp.send('Target.createTarget', { url: 'about:blank' });
  await cdp.send('Target.activateTarget', { targetId });
}
