import { type ReactNode, useRef, useState } from 'react';
import { useListener } from './use-listener.ts';

interface DropPlaceProps {
  onFile: (file: File) => void;
  /** Text dropped instead of a file. */
  onText?: (text: string) => void;
  children: ReactNode;
}

/** A place where a file may be dropped; what is in it holds the ways for keys and fingers. */
export function DropPlace({ onFile, onText, children }: DropPlaceProps) {
  const ref = useRef<HTMLDivElement>(null);
  const [over, setOver] = useState(false);
  useListener(ref, 'dragover', (event) => {
    event.preventDefault();
    setOver(true);
  });
  useListener(ref, 'dragleave', () => setOver(false));
  useListener(ref, 'drop', (event) => {
    event.preventDefault();
    setOver(false);
    const file = event.dataTransfer?.files[0];
    if (file) onFile(file);
    else onText?.(event.dataTransfer?.getData('text/plain') ?? '');
  });
  return (
    <div ref={ref} className="grind-drop" data-over={over || undefined}>
      {children}
    </div>
  );
}

interface FileButtonProps {
  label: string;
  accept: string;
  onFile: (file: File) => void;
}

/** A button that opens the system's file chooser. */
export function FileButton({ label, accept, onFile }: FileButtonProps) {
  return (
    <label className="grind-file button button-plain">
      <input
        type="file"
        accept={accept}
        className="visually-hidden"
        onChange={(event) => {
          const file = event.target.files?.[0];
          // The same file may be chosen again after it was changed.
          event.target.value = '';
          if (file) onFile(file);
        }}
      />
      <span>{label}</span>
    </label>
  );
}
