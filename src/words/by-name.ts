/** Words under names that a code, and no type, knows: each is looked up and may not be there. */
export const byName = <T>(words: Readonly<Record<string, T>>): Readonly<Record<string, T>> => words
