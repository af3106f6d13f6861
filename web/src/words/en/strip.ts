/** Words of the strip; every key starts with `strip.`. */
export const strip = {} as const;
