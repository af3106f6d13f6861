import { z } from 'zod';

/**
 * Checks documents without code made at run time, which the page's content policy forbids. Must come before the first
 * schema is built, so it is the first import of every entry.
 */
z.config({ jitless: true });
