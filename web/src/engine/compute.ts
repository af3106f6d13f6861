/** The computations that run off the main thread. */
export { mistakesOf, simulate, simulateBands, solveWaters, solveWithConcentrates } from '@pourline/core';
