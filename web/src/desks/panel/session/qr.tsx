import encodeQR from 'qr';
import { useMemo } from 'react';
import { t } from '../../../words/index.ts';

/** An address as a picture for a phone's camera: dark on light whatever the theme, with the quiet rim that cameras need. */
export function QrPicture({ address }: { address: string }) {
  const rows = useMemo(() => encodeQR(address, 'raw', { ecc: 'medium', border: 4 }), [address]);
  const size = rows.length;
  const path = rows
    .flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x} ${y}h1v1h-1z`] : [])))
    .join('');
  return (
    <svg
      className="qr"
      viewBox={`0 0 ${size} ${size}`}
      role="img"
      aria-label={t('panel.run.qr', { address })}
      shapeRendering="crispEdges"
    >
      <rect width={size} height={size} className="qr-light" />
      <path d={path} className="qr-dark" />
    </svg>
  );
}
