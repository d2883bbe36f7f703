/** What a browser says of itself, so far that a person knows it again; null where it says nothing known. */
export interface Browser {
  readonly name: string | null
  readonly system: string | null
}

/** Most name others too, to be let in where those are: whoever names itself alone stands last. */
const browsers: readonly (readonly [mark: string, name: string])[] = [
  ['Edg/', 'Edge'],
  ['OPR/', 'Opera'],
  ['SamsungBrowser/', 'Samsung Internet'],
  ['FxiOS/', 'Firefox'],
  ['Firefox/', 'Firefox'],
  ['CriOS/', 'Chrome'],
  ['Chrome/', 'Chrome'],
  ['Safari/', 'Safari'],
]

const systems: readonly (readonly [mark: string, name: string])[] = [
  ['iPhone', 'iPhone'],
  ['iPad', 'iPad'],
  ['Android', 'Android'],
  ['CrOS', 'ChromeOS'],
  ['Windows', 'Windows'],
  ['Mac OS X', 'macOS'],
  ['Linux', 'Linux'],
]

/** Of the header User-Agent: without versions, which would change while the browser stays. */
export function browserOf(userAgent: string): Browser {
  const first = (marks: typeof browsers) => marks.find(([mark]) => userAgent.includes(mark))?.[1] ?? null
  return { name: first(browsers), system: first(systems) }
}
