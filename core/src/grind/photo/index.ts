export {
  CARD_PITCHES_mm,
  type CardDesign,
  type CardWords,
  cardSvg,
  checkLineLength,
  ENGLISH_CARD_WORDS,
} from './card.ts';
export type { AnyImage, GreyImage, PhotoImage } from './image.ts';
export { measurePhoto, type PhotoProgress, rescalePhoto } from './measure.ts';
export type { PhotoOptions, PhotoScale, PicturePoint, VolumeModel } from './options.ts';
export { photoSentences } from './remarks.ts';
export type {
  LeftOut,
  PhotoBand,
  PhotoGrain,
  PhotoMeasurement,
  PhotoRemark,
  PhotoSummary,
} from './result.ts';
export { type SummarisedPhoto, type SummaryOptions, summarisePhoto, summarisePhotos } from './summarise.ts';
