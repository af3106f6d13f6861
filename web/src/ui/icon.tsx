/** Line icons on a 20 × 20 grid, drawn for this app. */
const PATHS = {
  add: 'M10 4v12M4 10h12',
  remove: 'M4 10h12',
  close: 'M5 5l10 10M15 5L5 15',
  check: 'M4 10.5l4 4 8-9',
  down: 'M5 7.5l5 5 5-5',
  left: 'M12.5 5l-5 5 5 5',
  right: 'M7.5 5l5 5-5 5',
  more: 'M4.5 10h.01M10 10h.01M15.5 10h.01',
  menu: 'M3.5 6h13M3.5 10h13M3.5 14h13',
  undo: 'M7 4L3.5 7.5 7 11M3.5 7.5H12a4.5 4.5 0 010 9H8',
  redo: 'M13 4l3.5 3.5L13 11M16.5 7.5H8a4.5 4.5 0 000 9h4',
  copy: 'M7 7V3.5h9.5V13H13M3.5 7H13v9.5H3.5z',
  archive: 'M3 4.5h14V8H3zM4.5 8v8h11V8M8 11.5h4',
  person: 'M10 9.5a3 3 0 100-6 3 3 0 000 6zM4 16.5c.6-3 3-4.5 6-4.5s5.4 1.5 6 4.5',
  alert: 'M10 5.5v5.5M10 14.2h.01',
  history: 'M3.5 5v3.5H7M3.8 8.5A6.5 6.5 0 1110 16.5a6.5 6.5 0 01-5.6-3.2M10 6.5V10l2.5 1.8',
  sun: 'M10 6.5a3.5 3.5 0 110 7 3.5 3.5 0 010-7zM10 1.8v1.7M10 16.5v1.7M1.8 10h1.7M16.5 10h1.7M4.2 4.2l1.2 1.2M14.6 14.6l1.2 1.2M15.8 4.2l-1.2 1.2M5.4 14.6l-1.2 1.2',
  moon: 'M16.5 11.8A6.8 6.8 0 118.2 3.5a5.4 5.4 0 008.3 8.3z',
  system: 'M3 4h14v9.5H3zM7.5 16.5h5M10 13.5v3',
  export: 'M10 12.5v-9M6.5 7L10 3.5 13.5 7M4 12.5v4h12v-4',
  import: 'M10 3.5v9M6.5 9l3.5 3.5L13.5 9M4 12.5v4h12v-4',
} as const;

export type IconName = keyof typeof PATHS;

/** An icon beside words, or inside a control that has a name of its own; always hidden from screen readers. */
export function Icon({ name }: { name: IconName }) {
  return (
    <svg className="icon" viewBox="0 0 20 20" aria-hidden="true" focusable="false">
      <path d={PATHS[name]} />
    </svg>
  );
}
