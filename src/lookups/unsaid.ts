// What a row, a person or a program did not say. Each name is the reason for which nothing stands for it.

/** What a field or a cell of a page shows of a row that does not say it: it stays empty. */
export const asShown = <T>(value: T | null | undefined): T | '' => value ?? ''

/** What may be left out of what is sent: nothing sent reads as an empty text, which the rule of the field judges. */
export const sent = (given: unknown): string => String(given ?? '')

/** The key of a row that may have none: without one nothing is found, whatever it is looked up in. */
export const linkOf = (key: string | null | undefined): string => key ?? ''

/** What a map holds for a row that may point to nothing. */
export const linked = <V>(map: ReadonlyMap<string, V>, key: string | null | undefined): V | undefined =>
  map.get(linkOf(key))

/** Whether what a row points to is among these; a row that points to nothing is not. */
export const amongThem = (set: { has(key: string): boolean }, key: string | null | undefined): boolean =>
  set.has(linkOf(key))

/** The name, garden or day that a map holds for a row; none where the row points to nothing, or to what is gone. */
export const textIn = <V extends string>(names: ReadonlyMap<string, V>, key: string | null | undefined): V | '' =>
  asShown(linked(names, key))

/** The name of a row that may not be there. */
export const nameIfAny = (row: { readonly name: string } | null | undefined): string => row?.name ?? ''

/** A tally that was never added to has come to nothing; who has no place in an order comes first. */
export const numberIn = <K>(tally: ReadonlyMap<K, number>, key: K): number => tally.get(key) ?? 0
