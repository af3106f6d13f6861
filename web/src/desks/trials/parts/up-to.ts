/** 0 … n − 1: places of fields that stay where they are while what stands in them changes. */
export const upTo = (n: number): number[] => Array.from({ length: n }, (_, i) => i);
