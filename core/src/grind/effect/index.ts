export {
  type DrawdownAnswer,
  type DrawdownQuestion,
  type KnownBrew,
  settingForDrawdown,
} from './drawdown-setting.ts';
export {
  type GrindEffect,
  grindEffect,
  type MixEffect,
  type MixEffectOptions,
  mixEffect,
} from './mix-effect.ts';
export { type GrindPart, withGrind } from './with-grind.ts';
