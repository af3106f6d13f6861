import { type CardDesign, fieldCorners, MARK_MODULES, markPlaces, markSide } from '../card.ts';
import { applyHomography, findHomography, type Point } from '../homography.ts';
import { asPhoto, plainCamera, renderLight, square, type Thing } from './render.ts';
import { scatter } from './scatter.ts';
import { fieldSide, type Scene, type SceneOrder, throughJpeg } from './scenes.ts';
import { dice } from './shape.ts';

/** How the camera looks at the card. */
export interface View {
  tilt_deg: number;
  /** Direction of the tilt and turn of the card in the picture [°]. */
  towards_deg: number;
  turn_deg: number;
}

/** Distance of the camera in card pitches. */
const DISTANCE = 4;
/** Light of print and of paper against the sheet. */
const INK = 0.05;
/** Paper around the middles of the marks that is in the picture, in pitches, and what perspective adds. */
const ROOM = 0.08;
const PERSPECTIVE = 1.1;

/** A scene on the printed card, seen from a tilted camera. The card is as large as its grains need; its pitch comes with it. */
export function makeCardScene(order: SceneOrder, view: View): { scene: Scene; design: CardDesign } {
  const random = dice(order.seed);
  const unit: CardDesign = { pitch_mm: 1 };
  const [first, , third] = fieldCorners(unit) as [Point, Point, Point];
  const side = fieldSide(order);
  const pitch = side / (third[0] - first[0]);
  const shapes = scatter({ ...order, width: side, height: side }, random);
  const inset = pitch * first[0];
  const onCard = shapes.map((s) => ({ ...s, x: s.x + inset, y: s.y + inset }));
  const turn = (view.turn_deg * Math.PI) / 180;
  const across = Math.abs(Math.cos(turn)) + Math.abs(Math.sin(turn));
  const size = Math.ceil(pitch * (1 + 2 * ROOM) * across * PERSPECTIVE);
  const { toPicture, toSheet } = cameraOver(pitch, size, view);
  const camera = { ...plainCamera(size, size), ...order.camera, toPicture, toSheet };
  const light = renderLight(onCard, camera, random, marksOf(unit, pitch));
  const image = throughJpeg(asPhoto(light, size, size), order.jpeg);
  const { name, um_per_px, modes } = order;
  return {
    scene: { name, image, um_per_px, shapes, width: side, height: side, modes },
    design: { pitch_mm: (pitch * um_per_px) / 1000 },
  };
}

function marksOf(unit: CardDesign, pitch: number): Thing[] {
  const module = (pitch * markSide(unit)) / MARK_MODULES;
  return markPlaces(unit).flatMap(([x, y]) => [
    square(x * pitch, y * pitch, 7 * module, INK),
    square(x * pitch, y * pitch, 5 * module, 1),
    square(x * pitch, y * pitch, 3 * module, INK),
  ]);
}

/** A pinhole camera above the middle of the card, leaning; the middle of the card stays in the middle of the picture. */
function cameraOver(pitch: number, size: number, { tilt_deg, towards_deg, turn_deg }: View) {
  const [tilt, towards, turn] = [tilt_deg, towards_deg, turn_deg].map((d) => (d * Math.PI) / 180) as [
    number,
    number,
    number,
  ];
  const far = DISTANCE * pitch;
  const see = ([x, y]: Point): Point => {
    const [u0, v0] = [x - pitch / 2, y - pitch / 2];
    const u = Math.cos(turn) * u0 - Math.sin(turn) * v0;
    const v = Math.sin(turn) * u0 + Math.cos(turn) * v0;
    const along = Math.cos(towards) * u + Math.sin(towards) * v;
    const across = Math.cos(towards) * v - Math.sin(towards) * u;
    const depth = far + along * Math.sin(tilt);
    const a = (along * Math.cos(tilt) * far) / depth;
    const b = (across * far) / depth;
    return [
      size / 2 + Math.cos(towards) * a - Math.sin(towards) * b,
      size / 2 + Math.sin(towards) * a + Math.cos(towards) * b,
    ];
  };
  const corners: Point[] = [
    [0, 0],
    [pitch, 0],
    [pitch, pitch],
    [0, pitch],
  ];
  const toPicture = findHomography(corners, corners.map(see));
  const toSheet = findHomography(corners.map(see), corners);
  if (!toPicture || !toSheet) throw new Error('cameraOver: the view has no plane');
  const check = applyHomography(toPicture, [pitch / 3, pitch / 4]);
  const exact = see([pitch / 3, pitch / 4]);
  if (Math.hypot(check[0] - exact[0], check[1] - exact[1]) > 1e-6 * pitch)
    throw new Error('cameraOver: four points do not carry the view');
  return { toPicture, toSheet };
}
