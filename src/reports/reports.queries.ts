import { createHash, randomBytes } from 'node:crypto'
import { and, asc, desc, eq, gt, isNull, or, sql } from 'drizzle-orm'
import type { Database, Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { asDoor, asMember } from '../db/transaction.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { canonicalJson } from './frozen.ts'
import { reports, shareLinks } from './reports.table.ts'

const hashOf = (text: string) => createHash('sha256').update(text).digest('hex')

export async function freezeReport(
  tx: Tx,
  author: Author,
  given: { id: string; title: string; words: string; contents: object },
): Promise<void> {
  const checksum = hashOf(canonicalJson(given.contents))
  await tx
    .insert(reports)
    .values({ ...author, ...given, schemaVersion: 1, checksum, frozenAt: new Date() })
    .onConflictDoNothing({ target: [reports.groupId, reports.id] })
}

export const reportsOf = (tx: Tx, groupId: string) =>
  tx
    .select({ id: reports.id, title: reports.title, frozenAt: reports.frozenAt })
    .from(reports)
    .where(and(eq(reports.groupId, groupId), isNull(reports.removedAt)))
    .orderBy(desc(reports.id))

export async function reportOf(tx: Tx, groupId: string, id: string) {
  const wanted = and(eq(reports.groupId, groupId), eq(reports.id, id), isNull(reports.removedAt))
  const [found] = await tx.select().from(reports).where(wanted)
  return found
}

export const linksOf = (tx: Tx, groupId: string, reportId: string) =>
  tx
    .select()
    .from(shareLinks)
    .where(and(eq(shareLinks.groupId, groupId), eq(shareLinks.reportId, reportId)))
    .orderBy(asc(shareLinks.id))

/** The token is given back once and only its hash is stored. The link ends with the last day, in the group's zone. */
export async function addLink(tx: Tx, author: Author, reportId: string, endsOn: string | null, timeZone: string) {
  const token = randomBytes(32).toString('base64url')
  const endsAt = endsOn === null ? null : sql`(${endsOn}::date + 1)::timestamp at time zone ${timeZone}`
  await tx.insert(shareLinks).values({ ...author, id: newId(), reportId, tokenHash: hashOf(token), endsAt })
  return token
}

export async function revokeLink(tx: Tx, groupId: string, id: string): Promise<void> {
  const standing = and(eq(shareLinks.groupId, groupId), eq(shareLinks.id, id), isNull(shareLinks.revokedAt))
  await tx.update(shareLinks).set({ revokedAt: sql`now()` }).where(standing)
}

/** The report behind a link, or undefined where it is unknown, ended or revoked: all three look alike. */
export async function sharedReport(database: Database, token: string) {
  const open = and(
    eq(shareLinks.tokenHash, hashOf(token)),
    isNull(shareLinks.revokedAt),
    or(isNull(shareLinks.endsAt), gt(shareLinks.endsAt, sql`now()`)),
  )
  const [link] = await asDoor(database, (tx) =>
    tx.select({ groupId: shareLinks.groupId, reportId: shareLinks.reportId }).from(shareLinks).where(open),
  )
  if (!link) return undefined
  const guest = { personId: null, groupId: link.groupId, readOnly: true }
  return asMember(database, guest, (tx) => reportOf(tx, link.groupId, link.reportId))
}
