import { sectionOf } from '../totals/figures.ts'

interface Asked {
  readonly slug: string
  readonly season: string
  readonly methods: readonly { readonly id: string; readonly name: string }[]
  readonly referenceId: string
  /** The rules of counting that the address of Compare names, as they stand in it. */
  readonly query: Readonly<Record<string, unknown>>
}

export type More = Readonly<Record<string, string | boolean | undefined>>

/** From a cell of Compare to the rows behind it. Only Compare hands this to its views: a report has no such links. */
export function rowLinks({ slug, season, methods, referenceId, query }: Asked) {
  const ids = new Map(methods.map((one) => [one.name, one.id]))
  const named = (...names: string[]) =>
    Object.fromEntries(names.flatMap((name) => (typeof query[name] === 'string' ? [[name, query[name]]] : [])))
  const address = (who: More, section: string, more: More = {}) =>
    `${rowsAddress(slug, { season, ...who, ...more })}#${section}`
  return {
    sectionOf,
    /** What a cell about two methods adds: the other of the two, and how matched crops are counted. */
    beside: { beside: referenceId, ...named('weights', 'mix', 'outside') } as More,
    /** What a cell that is counted another way adds: the rules. */
    counted: { by: 'method', ...named('by', 'weights', 'area', 'harvestWork', 'establishing', 'ownMade') } as More,
    /** Undefined for what is called as no method is. */
    to: (method: string, section: string, more?: More) => {
      const id = ids.get(method)
      return id === undefined ? undefined : address({ method: id }, section, more)
    },
    toOne: (by: 'method' | 'garden' | 'bed', id: string, section: string, more?: More) =>
      address({ [by]: id }, section, more),
  }
}

/** The address of the page, or of the same rows as a file. */
export function rowsAddress(slug: string, asked: More, ending = ''): string {
  const given = new URLSearchParams()
  for (const [key, value] of Object.entries(asked)) if (value !== undefined) given.set(key, String(value))
  return `/g/${slug}/compare/rows${ending}?${given}`
}
