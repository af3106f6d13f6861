export { blankCase } from '../reduced/blank-case.ts';
