/** The computations that run off the main thread. */
export {
  mistakesOf,
  simulate,
  simulateBands,
  solveWaters,
  solveWithConcentrates,
  whatMatters,
} from '@pourline/core';
