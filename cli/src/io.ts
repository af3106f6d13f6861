import { closeSync, openSync, readFileSync, writeSync } from 'node:fs';
import type { Problem } from '@pourline/core';
import { EXIT, Stop } from './exit.ts';

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : String(error);

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder',
  EACCES: 'it is not allowed',
  EPERM: 'it is not allowed',
  EISDIR: 'it is a folder',
  ENOTDIR: 'part of the path is a file, not a folder',
  ENOSPC: 'the disk is full',
};
const reason = (error: unknown): string => REASONS[codeOf(error)] ?? codeOf(error);

/** Reads a file, or standard input for `-`. */
export function readText(path: string): string {
  try {
    return readFileSync(path === '-' ? 0 : path, 'utf8');
  } catch (error) {
    const where = path === '-' ? 'standard input' : path;
    throw new Stop(EXIT.notFound, `Cannot read ${where}: ${reason(error)}.`);
  }
}

/** Reads JSON from a file, or from standard input for `-`. */
export function readJson(path: string): unknown {
  const text = readText(path);
  try {
    return JSON.parse(text);
  } catch (error) {
    const where = path === '-' ? 'Standard input' : path;
    throw new Stop(
      EXIT.problems,
      `${where} is not JSON: ${error instanceof Error ? error.message : String(error)}.`,
    );
  }
}

/**
 * Writes text, whole or in pieces, to a file, or to standard output when no path is given. An existing file is kept
 * unless `force`.
 */
export function writeText(path: string | undefined, text: string | Iterable<string>, force = false): void {
  const pieces = typeof text === 'string' ? [text] : text;
  if (path === undefined || path === '-') {
    for (const piece of pieces) process.stdout.write(piece);
    return;
  }
  try {
    const file = openSync(path, force ? 'w' : 'wx');
    try {
      for (const piece of pieces) writeSync(file, piece);
    } finally {
      closeSync(file);
    }
  } catch (error) {
    if (codeOf(error) === 'EEXIST')
      throw new Stop(
        EXIT.notFound,
        `${path} is already there. Choose another name, or add --force to replace it.`,
      );
    throw new Stop(EXIT.notFound, `Cannot write ${path}: ${reason(error)}.`);
  }
}

/** JSON of anything a computation returns: typed arrays become plain lists, and a value that is not there is null. */
export const toJson = (value: unknown): string =>
  `${JSON.stringify(value, (_, part) => (ArrayBuffer.isView(part) ? Array.from(part as Float64Array) : part), 2)}\n`;

/** Says everything that is wrong with an input: as sentences, or as JSON `{ "problems": [...] }` on standard output. */
export function stopWithProblems(problems: readonly Problem[], json: boolean): never {
  if (json) {
    process.stdout.write(toJson({ problems }));
    throw new Stop(EXIT.problems);
  }
  throw new Stop(EXIT.problems, ...problems.map((p) => p.sentence));
}
