import type { SerialLine } from '@pourline/core';

/**
 * A source of bytes: a serial port, or anything that behaves like one. Other code on the page may hand one over with an event,
 *
 *     dispatchEvent(new CustomEvent('pourline:port', { detail: port }))
 *
 * while the live panel is open; that is how a bridge of another kind, or a test with a stream of its own, gets in.
 */
export interface BytePort {
  readonly name: string;
  readonly readable: ReadableStream<Uint8Array>;
  /** Sends text to the instrument; left out by sources that take none. */
  write?(text: string): Promise<void>;
  close(): Promise<void>;
}

export const PORT_EVENT = 'pourline:port';

/** The part of Web Serial (a draft of the WICG) that is used. */
interface SerialPortLike {
  readonly readable: ReadableStream<Uint8Array> | null;
  readonly writable: WritableStream<Uint8Array> | null;
  open(options: {
    baudRate: number;
    dataBits: number;
    stopBits: number;
    parity: SerialLine['parity'];
  }): Promise<void>;
  close(): Promise<void>;
}
interface SerialLike {
  requestPort(): Promise<SerialPortLike>;
}

const serialOf = (): SerialLike | undefined => (navigator as Navigator & { serial?: SerialLike }).serial;

/** Whether this browser can open a serial port here: it needs Web Serial, and a page from this machine or over https. */
export const hasSerial = (): boolean => serialOf() !== undefined;

/**
 * Lets the person choose a port and opens it.
 * @returns null when none was chosen. @throws what the browser says when the port cannot be opened.
 */
export async function openSerial(line: SerialLine): Promise<BytePort | null> {
  const serial = serialOf();
  if (!serial) return null;
  let port: SerialPortLike;
  try {
    port = await serial.requestPort();
  } catch (reason) {
    // Closing the chooser is no failure.
    if (reason instanceof DOMException && reason.name === 'NotFoundError') return null;
    throw reason;
  }
  await port.open({
    baudRate: line.baud,
    dataBits: line.data_bits,
    stopBits: line.stop_bits,
    parity: line.parity,
  });
  if (!port.readable) {
    await port.close();
    return null;
  }
  return {
    name: 'serial',
    readable: port.readable,
    async write(text) {
      const writer = port.writable?.getWriter();
      if (!writer) return;
      await writer.write(new TextEncoder().encode(text));
      writer.releaseLock();
    },
    close: () => port.close(),
  };
}
