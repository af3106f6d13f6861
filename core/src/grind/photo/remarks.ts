import type { PhotoRemark } from './result.ts';

/** English sentences of everything a photograph has to say, by code. Other languages translate by code and values. */
export const photoSentences: Readonly<Record<string, string>> = {
  // No result.
  no_grains:
    'No grains were found. Scatter dark grains on a white sheet (or say that they are light ones on a dark sheet), with light on the sheet.',
  low_contrast:
    'Grains and sheet do not stand apart in this picture. Use a sheet of the other brightness and more light, then take it again.',
  image_bad:
    'This picture is {width} × {height} pixels with {bytes} bytes of data; that does not fit together.',
  image_small: 'This picture is {width} × {height} pixels; at least 64 × 64 are needed.',
  // Scale.
  no_scale:
    'This picture has no scale, so sizes are in pixels only. Give the size of a pixel, two points on a ruler, a coin or the printed card; the grains found stay as they are.',
  pixel_bad: 'The size of a pixel is {value} µm; it must be between 0.05 and 2000.',
  ruler_bad:
    'The ruler is {length} mm long over {pixels} pixels; the length must be more than 0 and the two points at least 20 pixels apart.',
  ruler_short:
    'The two points on the ruler are only {pixels} pixels apart, so the scale is not sure to 1 %. Choose points farther apart.',
  coin_bad: 'The diameter of the coin is {value} mm; it must be more than 0.',
  coin_not_there:
    'There is no round thing at that point. Touch the middle of the coin, or mark two points on a ruler.',
  coin_not_found:
    'No coin was found: nothing large and round stands alone in the picture. Touch the middle of the coin, or mark two points on a ruler.',
  coin_tilted:
    'The coin looks oval: the camera leans by about {tilt}°. Hold it straight above, or use the printed card, which takes the lean out.',
  card_bad: 'The pitch of the card is {value} mm; it must be more than 0.',
  card_not_found:
    'The card was not found: {seen} of its 8 marks were seen, and the four corners with two of the others are needed. Keep grains off the marks and the whole card in the picture.',
  card_marks_hidden:
    '{seen} of the 8 marks of the card were seen. The scale holds; more marks would check it better.',
  card_bent:
    'The marks of the card lie {miss} µm from where a flat card has them: it is bent, or the lens bends the picture. Lay it flat and step back a little.',
  check_line_bad:
    'The check line is given as {value} mm; printed true it is {expected} mm. Measure it again, or print at 100 %.',
  region_empty:
    'The chosen part lies outside the picture or is too small; the whole picture, {width} × {height} pixels, is taken.',
  // Picture.
  blurred:
    'The picture is blurred: edges are {width} px wide, against {grain} px for the small grains. Hold still, focus on the grains, use more light.',
  uneven_light:
    'The light falls to {percent} % of its brightest. It was evened out, but the dark side is less sure; light from two sides is better.',
  overexposed:
    'The sheet is burnt out in {percent} % of the picture, which eats into the edges of grains. Expose a little darker.',
  noisy: 'The picture is grainy: noise is {percent} % of the contrast. Use more light.',
  shadows:
    'Grains throw shadows to one side ({percent} % of the contrast), which makes them look larger. Use soft light from all sides, or from below.',
  crowded: 'Grains cover {percent} % of the field; they touch and lie on each other. Scatter fewer.',
  // Grains.
  many_touching:
    '{percent} % of the volume is in grains that touched and had to be parted. Spread them more; check the large ones on the picture.',
  many_at_border:
    '{count} grains are cut by the border and left out. The others stand in for them; a larger field is better.',
  too_large: '{count} things larger than {limit} µm are left out as no grains.',
  threads: '{count} long thin things are left out as hairs, threads or marks.',
  few_grains:
    'Only {count} grains are counted. The largest few decide D50 and D90; several pictures of the same grind together are better.',
  one_carries:
    'One grain (number {id}) carries {percent} % of the volume. Look at it: if it is two that touch or no grain, take it out; if it is one, count more grains.',
  small_grains:
    '{percent} % of the volume ({number} % of the grains) is in grains narrower than {limit} px, which a picture shows badly. Go closer.',
  volume_assumed:
    'Volumes are taken from shadows, as if all grains had the same shape. Grains lie on their flat side, so these sizes are about {low} to {high} times those of spheres of the same volume; sieves pass long grains at their width.',
};

const STOPS: readonly string[] = ['no_grains', 'low_contrast', 'image_bad', 'image_small'];
const NOTES: readonly string[] = [
  'card_marks_hidden',
  'many_at_border',
  'too_large',
  'threads',
  'volume_assumed',
];

/** A remark with its sentence. */
export function remark(code: string, values: Readonly<Record<string, string | number>>): PhotoRemark {
  const sentence = (photoSentences[code] ?? code).replaceAll(/\{(\w+)\}/g, (whole, name: string) =>
    name in values ? String(values[name]) : whole,
  );
  return {
    code,
    weight: STOPS.includes(code) ? 'stop' : NOTES.includes(code) ? 'note' : 'doubt',
    values,
    sentence,
  };
}
