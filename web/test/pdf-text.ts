import { inflateSync } from 'node:zlib';

/** What a PDF of Chromium says: its page boxes [pt] and the text of all its pages, as a reader would copy it. */
export interface PdfText {
  pages: { width: number; height: number }[];
  /** Of each page. */
  perPage: string[];
  /** Of all pages together. */
  text: string;
}

interface Part {
  head: string;
  body: string;
}

/** Objects by number, streams unpacked. ISO 32000-1, 7.3.8 and 7.3.10; enough for what Chromium writes, no more. */
function partsOf(pdf: Buffer): Map<number, Part> {
  const raw = pdf.toString('latin1');
  const parts = new Map<number, Part>();
  for (const found of raw.matchAll(/(?:^|\n)(\d+) 0 obj\s([\s\S]*?)(?:endobj|stream\r?\n)/g)) {
    const head = found[2]!;
    const end = found.index + found[0].length;
    const length = Number(/\/Length (\d+)/.exec(head)?.[1] ?? 0);
    const packed = found[0].endsWith('endobj') ? Buffer.alloc(0) : pdf.subarray(end, end + length);
    const body = head.includes('/FlateDecode') ? inflateSync(packed) : packed;
    parts.set(Number(found[1]), { head, body: body.toString('latin1') });
  }
  return parts;
}

interface Font {
  /** Hexadecimal digits of one code. */
  digits: number;
  letters: Map<number, string>;
}

const letterOf = (hex: string): string =>
  String.fromCharCode(...(hex.match(/.{4}/g) ?? []).map((unit) => Number.parseInt(unit, 16)));

/** A character map of a font: 9.10.3 of the standard. */
function fontOf(map: string): Font {
  const letters = new Map<number, string>();
  for (const [, block] of map.matchAll(/beginbfchar([\s\S]*?)endbfchar/g))
    for (const [, code, text] of block!.matchAll(/<(\w+)>\s*<(\w+)>/g))
      letters.set(Number.parseInt(code!, 16), letterOf(text!));
  for (const [, block] of map.matchAll(/beginbfrange([\s\S]*?)endbfrange/g))
    for (const [, from, to, text] of block!.matchAll(/<(\w+)>\s*<(\w+)>\s*<(\w+)>/g))
      for (let code = Number.parseInt(from!, 16), i = 0; code <= Number.parseInt(to!, 16); code++, i++)
        letters.set(code, String.fromCharCode(letterOf(text!).charCodeAt(0) + i));
  const digits = /begincodespacerange\s*<(\w+)>/.exec(map)?.[1]?.length ?? 4;
  return { digits, letters };
}

/** Reads a PDF that Chromium printed. Lines run together; a space stands between them. */
export function readPdf(pdf: Buffer): PdfText {
  const parts = partsOf(pdf);
  const fonts = new Map<string, Font>();
  for (const { head } of parts.values())
    for (const [, names] of head.matchAll(/\/Font\s*<<([^>]*)>>/g))
      for (const [, name, number] of names!.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
        const map = /\/ToUnicode (\d+) 0 R/.exec(parts.get(Number(number))?.head ?? '')?.[1];
        if (map) fonts.set(name!, fontOf(parts.get(Number(map))!.body));
      }
  const perPage: string[] = [];
  const pages: PdfText['pages'] = [];
  for (const { head } of parts.values()) {
    if (!/\/Type\s*\/Page\b/.test(head)) continue;
    const box = /\/MediaBox\s*\[([\d. ]+)\]/.exec(head)![1]!.trim().split(/\s+/).map(Number);
    pages.push({ width: box[2]! - box[0]!, height: box[3]! - box[1]! });
    const contents = [...head.matchAll(/\/Contents\s*\[?\s*(\d+) 0 R/g)];
    const text = contents.map(([, number]) => drawn(parts.get(Number(number))!.body, fonts)).join('');
    perPage.push(text.replaceAll(/\s+/g, ' '));
  }
  return { pages, perPage, text: perPage.join(' ') };
}

/** The text that a content stream draws: 9.4.3 of the standard. What it says beside that for readers (14.9.4) is no code of a font. */
function drawn(content: string, fonts: ReadonlyMap<string, Font>): string {
  let font: Font | undefined;
  let text = '';
  const bare = content.replaceAll(/\/ActualText\s*<[0-9A-Fa-f]*>/g, '');
  for (const [whole, name, codes] of bare.matchAll(/\/(F\d+) [\d.]+ Tf|<([0-9A-Fa-f]+)>|\bET\b/g)) {
    if (name) font = fonts.get(name);
    else if (whole === 'ET') text += ' ';
    else if (font && codes)
      for (let i = 0; i < codes.length; i += font.digits)
        text += font.letters.get(Number.parseInt(codes.slice(i, i + font.digits), 16)) ?? '';
  }
  return text;
}
