/** The part of a run that the live strip shows, and where now is in it. */
export interface StripWindow {
  from_s: number;
  to_s: number;
  /** Where now is, as a share of the width. */
  now: number;
}

/** Pixels for a second below which bars of a few seconds can no longer be told apart; a choice. */
const PX_PER_S = 5;
/** Now stands here while the strip moves under it; more is to be seen of what comes than of what was. */
const NOW_AT = 0.28;

/** Shows all of a short run; of a long one as much as can be told apart, moving along once now has come to its place. */
export function stripWindow(now_s: number, ends_s: number, width_px: number): StripWindow {
  const all = Math.max(30, ends_s);
  const span = Math.min(all, Math.max(60, width_px / PX_PER_S));
  const from_s = Math.min(Math.max(0, now_s - NOW_AT * span), Math.max(0, all - span));
  return { from_s, to_s: from_s + span, now: Math.min(1, Math.max(0, (now_s - from_s) / span)) };
}

/** Whole moments for a ruler, some 70 px apart at least. */
export function rulerMarks(window: StripWindow, width_px: number): number[] {
  const span = window.to_s - window.from_s;
  const step = [10, 15, 30, 60, 120, 300].find((s) => (s / span) * width_px >= 70) ?? 600;
  const marks: number[] = [];
  for (let at = Math.ceil(window.from_s / step) * step; at <= window.to_s; at += step) marks.push(at);
  return marks;
}
