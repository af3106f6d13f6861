import { fileURLToPath } from 'node:url';

/**
 * Full path of something in the checkout. This file, and the one it is gathered into by `scripts/lib/build.mjs`, stand
 * two folders deep in it.
 */
export const inCheckout = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));
