interface SessionSeen {
  readonly id: string
  readonly createdAt: Date
  readonly lastUsedAt: Date
  readonly browser: string | null
  readonly system: string | null
  readonly isHere: boolean
  readonly factorShown: boolean
}

/** Where the times of the page are told: as in the first group, or by the universal clock where there is none. */
interface ToldWhere {
  readonly locale: string
  readonly timeZone: string | null
}

function tellingTimes({ locale, timeZone }: ToldWhere): Intl.DateTimeFormat {
  const clock = timeZone ? { timeStyle: 'short' as const, timeZone } : { timeStyle: 'long' as const, timeZone: 'UTC' }
  return new Intl.DateTimeFormat(locale, { dateStyle: 'medium', ...clock })
}

export function sessionLines(sessions: readonly SessionSeen[], where: ToldWhere) {
  const told = tellingTimes(where)
  return sessions.map(({ id, browser, system, isHere, factorShown, createdAt, lastUsedAt }) => ({
    id,
    browser,
    system,
    isHere,
    factorShown,
    begun: told.format(createdAt),
    used: told.format(lastUsedAt),
  }))
}

interface Presence {
  readonly isShown: boolean
  readonly withPassword: boolean
}

/** A page that has no field for the password says above its forms what one could lead to. */
export function presentMissing(errors: Readonly<Record<string, string>>, { isShown, withPassword }: Presence) {
  if (withPassword && !isShown) return errors
  return Object.fromEntries(
    Object.entries(errors).map(([name, said]) => [
      name.endsWith('Password') && name !== 'newPassword' ? 'id' : name,
      said,
    ]),
  )
}

interface PasskeySeen {
  readonly id: string
  readonly name: string
  readonly createdAt: Date
  readonly lastUsedAt: Date | null
}

export function passkeyLines(passkeys: readonly PasskeySeen[], where: ToldWhere) {
  const told = tellingTimes(where)
  return passkeys.map(({ id, name, createdAt, lastUsedAt }) => ({
    id,
    name,
    added: told.format(createdAt),
    used: lastUsedAt && told.format(lastUsedAt),
  }))
}

interface LetterKept {
  readonly id: string
  readonly subject: string
  readonly text: string
  readonly createdAt: Date
}

export function letterLines(letters: readonly LetterKept[], where: ToldWhere) {
  const told = tellingTimes(where)
  return letters.map(({ id, subject, text, createdAt }) => ({
    id,
    subject,
    paragraphs: text.split('\n\n'),
    when: told.format(createdAt),
  }))
}

/** "A", "A and B" as the locale says it. */
export const groupsSaid = (names: readonly string[], locale: string): string =>
  new Intl.ListFormat(locale, { type: 'conjunction' }).format(names)
