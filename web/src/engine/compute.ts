/** The computations that run off the main thread. */
export { simulate, simulateBands } from '@pourline/core';
