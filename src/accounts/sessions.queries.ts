import { createHash, randomBytes } from 'node:crypto'
import { and, desc, eq, gt, lt, ne, not, type SQL, sql } from 'drizzle-orm'
import type { PgColumn } from 'drizzle-orm/pg-core'
import type { Database } from '../db/database.ts'
import { rowsRead } from '../db/rows-read.ts'
import { asDoor } from '../db/transaction.ts'
import { halfSignIns, people, rateLimits, sessions } from './accounts.table.ts'
import type { Browser } from './browser.ts'
import type { Group, MemberOfGroup, Person } from './members.queries.ts'
import { roles } from './role.ts'

export const newToken = () => randomBytes(32).toString('base64url')

/** What is stored of a secret: who reads the database cannot use it. The token is random, so no salt is needed. */
export const hashOf = (token: string) => createHash('sha256').update(token).digest('hex')

const sessionDays = 60
/** After so many days without a page a session is over. */
export const idleDays = 14

const stillHolds = and(
  gt(sessions.expiresAt, sql`now()`),
  gt(sessions.lastUsedAt, sql`now() - make_interval(days => ${idleDays})`),
) as SQL

/** Further ahead than two who ask at the same moment can be. */
function aheadOfNow(moment: PgColumn): SQL {
  return sql`${moment} > now() + interval '1 minute'`
}

/** No try counts for longer. */
const longestWindow = sql`interval '1 hour'`

interface Opened {
  readonly personId: string
  /** The token that this browser had until now: its session ends. */
  readonly replaces: string | undefined
  readonly browser: Browser
  /** Whether more than a password was shown to open it. */
  readonly factorShown: boolean
}

/** Opens a session; what is over by then, sessions and counted tries, is swept away with it. */
export async function openSession(database: Database, opened: Opened): Promise<string> {
  const { personId, replaces, browser, factorShown } = opened
  const token = newToken()
  await asDoor(database, async (tx) => {
    await tx.delete(sessions).where(not(stillHolds))
    if (replaces) await tx.delete(sessions).where(eq(sessions.tokenHash, hashOf(replaces)))
    await tx.delete(rateLimits).where(lt(rateLimits.windowStartedAt, sql`now() - ${longestWindow}`))
    await tx.insert(sessions).values({
      tokenHash: hashOf(token),
      personId,
      browser: browser.name,
      system: browser.system,
      factorShownAt: factorShown ? sql`now()` : null,
      expiresAt: sql`now() + make_interval(days => ${sessionDays})`,
    })
  })
  return token
}

export async function closeSession(database: Database, token: string): Promise<void> {
  await asDoor(database, (tx) => tx.delete(sessions).where(eq(sessions.tokenHash, hashOf(token))))
}

interface WhoAsks {
  readonly person: Person
  /** Whether more than a password was shown in this session. */
  readonly factorShown: boolean
  /** What they are in the group of that address; null where it is not theirs, or none was asked for. */
  readonly member: MemberOfGroup | null
  /** Whether that group asks for more than was shown in this session. */
  readonly factorOwed: boolean
  /** How many changes that group's history holds. */
  readonly changes: number
}

/**
 * The person of a session, and what they are in a group: one question, since every page asks it first, in one round
 * trip (`who_asks`, migration 0034).
 */
export async function whoAsks(database: Database, token: string, slug: string | null): Promise<WhoAsks | null> {
  const asked = sql`select * from public.who_asks(${hashOf(token)}, ${slug}, ${idleDays})`
  const [found] = await rowsRead(database.drizzle, asked, (row) => row)
  if (!found) return null
  if (found.unwritten === true) await writeLastUse(database, token)
  const { person_id: id, person_name: name, email, member_role: written } = found
  const person = { id: String(id), name: String(name), email: String(email) }
  const isShown = found.factor_shown === true
  const role = roles.find((one) => one === written)
  return {
    person,
    factorShown: isShown,
    factorOwed: found.asks_factor === 1 && !isShown,
    changes: Number(found.changes),
    member: role ? { personId: person.id, role, group: groupIn(found) } : null,
  }
}

function groupIn(found: Readonly<Record<string, unknown>>): Group {
  const rate = found.labour_rate_minor_per_hour
  return {
    id: String(found.group_id),
    slug: String(found.slug),
    name: String(found.group_name),
    currency: String(found.currency),
    timeZone: String(found.time_zone),
    locale: String(found.locale),
    weightUnit: found.weight_unit === 'lb' ? 'lb' : 'kg',
    areaUnit: found.area_unit === 'ft2' ? 'ft2' : 'm2',
    labourRateMinorPerHour: rate === null ? null : Number(rate),
  }
}

const writeLastUse = (database: Database, token: string) =>
  asDoor(database, (tx) =>
    tx
      .update(sessions)
      .set({ lastUsedAt: sql`now()`, expiresAt: noLater })
      .where(eq(sessions.tokenHash, hashOf(token))),
  )

const factorShown = sql<boolean>`(${sessions.factorShownAt} is not null)`
/** A session that was begun by a clock that was ahead lasts no longer than others. */
const noLater = sql`least(${sessions.expiresAt}, now() + make_interval(days => ${sessionDays}))`

/** A person's sessions, the one used last first, each with whether it is the one that asks. */
export async function sessionsOf(database: Database, personId: string, token: string) {
  const { id, createdAt, lastUsedAt, browser, system } = sessions
  const isHere = sql<boolean>`${sessions.tokenHash} = ${hashOf(token)}`
  return asDoor(database, (tx) =>
    tx
      .select({ id, createdAt, lastUsedAt, browser, system, isHere, factorShown })
      .from(sessions)
      .where(and(eq(sessions.personId, personId), stillHolds))
      .orderBy(desc(isHere), desc(lastUsedAt), desc(id)),
  )
}

/** Ends one of a person's own sessions; nothing where it is another's. */
export async function endSession(database: Database, personId: string, id: string): Promise<void> {
  await asDoor(database, (tx) => tx.delete(sessions).where(and(eq(sessions.personId, personId), eq(sessions.id, id))))
}

export async function endOtherSessions(database: Database, personId: string, token: string): Promise<void> {
  await asDoor(database, (tx) =>
    tx.delete(sessions).where(and(eq(sessions.personId, personId), ne(sessions.tokenHash, hashOf(token)))),
  )
}

/**
 * Ends all sessions of the person of an address, or everybody's where it is null, and what was half way into one; how
 * many, or null where no account has the address.
 */
export async function endSessionsOf(database: Database, email: string | null): Promise<number | null> {
  return asDoor(database, async (tx) => {
    const [person] =
      email === null ? [] : await tx.select({ id: people.id }).from(people).where(eq(people.email, email))
    if (email !== null && !person) return null
    await tx.delete(halfSignIns).where(person && eq(halfSignIns.personId, person.id))
    const ended = await tx
      .delete(sessions)
      .where(person && eq(sessions.personId, person.id))
      .returning({ id: sessions.id })
    return ended.length
  })
}

/** Counts one try under a key; false where there were more than `most` within so many minutes. */
export async function mayTry(database: Database, key: string, most: number, minutes = 15): Promise<boolean> {
  const { windowStartedAt } = rateLimits
  // A window that begins in the time to come is from a clock that was wrong: it would hold for as long as it was.
  const fresh = sql`(${windowStartedAt} < now() - make_interval(mins => ${minutes}) or ${aheadOfNow(windowStartedAt)})`
  const [row] = await asDoor(database, (tx) =>
    tx
      .insert(rateLimits)
      .values({ key: hashOf(key), windowStartedAt: sql`now()`, attempts: 1 })
      .onConflictDoUpdate({
        target: rateLimits.key,
        set: {
          attempts: sql`case when ${fresh} then 1 else ${rateLimits.attempts} + 1 end`,
          windowStartedAt: sql`case when ${fresh} then now() else ${windowStartedAt} end`,
        },
      })
      .returning({ attempts: rateLimits.attempts }),
  )
  // No row is no attempt.
  return (row?.attempts ?? 0) <= most
}

/** Takes a counted try back, where it turned out to be a right one. */
export async function giveBackTry(database: Database, key: string): Promise<void> {
  await asDoor(database, (tx) =>
    tx
      .update(rateLimits)
      .set({ attempts: sql`greatest(0, ${rateLimits.attempts} - 1)` })
      .where(eq(rateLimits.key, hashOf(key))),
  )
}
