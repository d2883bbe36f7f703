interface SessionSeen {
  readonly id: string
  readonly createdAt: Date
  readonly lastUsedAt: Date
  readonly browser: string | null
  readonly system: string | null
  readonly isHere: boolean
}

/** Where the times of the page are told: as in the first group, or by the universal clock where there is none. */
interface ToldWhere {
  readonly locale: string
  readonly timeZone: string | null
}

export function sessionLines(sessions: readonly SessionSeen[], { locale, timeZone }: ToldWhere) {
  const clock = timeZone ? { timeStyle: 'short' as const, timeZone } : { timeStyle: 'long' as const, timeZone: 'UTC' }
  const told = new Intl.DateTimeFormat(locale, { dateStyle: 'medium', ...clock })
  return sessions.map(({ id, browser, system, isHere, createdAt, lastUsedAt }) => ({
    id,
    browser,
    system,
    isHere,
    begun: told.format(createdAt),
    used: told.format(lastUsedAt),
  }))
}

/** "A", "A and B" as the locale says it. */
export const groupsSaid = (names: readonly string[], locale: string): string =>
  new Intl.ListFormat(locale, { type: 'conjunction' }).format(names)
