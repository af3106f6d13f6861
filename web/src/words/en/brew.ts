/** Words of the Brew desk; every key starts with `brew.`. */
export const brew = {} as const;
